package planner

import (
	"errors"
	"fmt"
	"math"
	"sort"

	"cabwright/geometry"
)

// ErrNoSolid says that the base lies above the top wherever they were looked
// at inside the outline.
var ErrNoSolid = errors.New("no solid left: the base lies above the top everywhere inside the outline")

// Rough is the solid that the readings describe: every point with (x, y) inside
// the outline and base <= z <= top. Each face is the thin plate through its
// readings, cut off level at their highest (top) or lowest (base): between
// readings that differ much a thin plate overshoots, and a stone is not made of
// what nobody measured. Lengths are millimetres.
type Rough struct {
	Outline    []geometry.Vec2 // counter-clockwise
	TopSheet   *geometry.ThinPlate
	BaseSheet  *geometry.ThinPlate
	TopLevel   float64 // the height at which TopSheet is cut off
	BaseLevel  float64 // the height at which BaseSheet is cut off
	volume     float64
	zLow, zTop float64
}

// NewRough lays the two surfaces through the stone's readings. The error wraps
// geometry.ErrNoReadings, ErrCollinear or ErrSameSpot with the face it is
// about, or is ErrNoSolid.
func NewRough(s Stone) (*Rough, error) {
	top, err := geometry.FitThinPlate(s.Top)
	if err != nil {
		return nil, fmt.Errorf("top: %w", err)
	}
	base, err := geometry.FitThinPlate(s.Base)
	if err != nil {
		return nil, fmt.Errorf("base: %w", err)
	}
	r := &Rough{Outline: geometry.CounterClockwise(s.Outline), TopSheet: top, BaseSheet: base, TopLevel: math.Inf(-1), BaseLevel: math.Inf(1)}
	for _, p := range s.Top {
		r.TopLevel = math.Max(r.TopLevel, p.Z)
	}
	for _, p := range s.Base {
		r.BaseLevel = math.Min(r.BaseLevel, p.Z)
	}
	r.integrate()
	if r.volume <= 0 {
		return nil, ErrNoSolid
	}
	return r, nil
}

// Top returns the height of the upper surface at (x, y), inside the outline or not.
func (r *Rough) Top(x, y float64) float64 { return math.Min(r.TopSheet.At(x, y), r.TopLevel) }

// Base returns the height of the lower surface at (x, y), inside the outline or not.
func (r *Rough) Base(x, y float64) float64 { return math.Max(r.BaseSheet.At(x, y), r.BaseLevel) }

// Height returns the height of one face at (x, y), inside the outline or not.
func (r *Rough) Height(f Face, x, y float64) float64 {
	if f == Base {
		return r.Base(x, y)
	}
	return r.Top(x, y)
}

// Volume returns the volume of the rough in mm3.
func (r *Rough) Volume() float64 { return r.volume }

// Heights returns the lowest and the highest z of the rough, to within the
// step of a few tenths of a millimetre at which it was looked at.
func (r *Rough) Heights() (low, high float64) { return r.zLow, r.zTop }

// integrate finds the volume by Gauss-Legendre quadrature in panels of at most
// 1 mm, strip by strip between the outline's corners so that each panel's
// boundary is smooth. An outline of very many corners is cut into even strips
// instead: its corners are then closer together than the strips.
func (r *Rough) integrate() {
	lo, hi := geometry.Bounds(r.Outline)
	r.zLow, r.zTop = math.Inf(1), math.Inf(-1)
	panel := math.Max(1, math.Max(hi.X-lo.X, hi.Y-lo.Y)/60)
	var buf []float64
	for _, strip := range strips(r.Outline, lo, hi, panel) {
		for _, g := range gauss3 {
			y := strip[0] + (strip[1]-strip[0])*g.at
			buf = geometry.Crossings(r.Outline, y, buf)
			for i := 0; i+1 < len(buf); i += 2 {
				r.volume += (strip[1] - strip[0]) * g.weight * r.along(buf[i], buf[i+1], y, panel)
			}
		}
	}
}

// along integrates the thickness from x0 to x1 at y, and notes the heights met.
func (r *Rough) along(x0, x1, y, panel float64) float64 {
	n := math.Ceil((x1 - x0) / panel)
	if n < 1 {
		n = 1
	}
	sum, step := 0.0, (x1-x0)/n
	for k := 0.0; k < n; k++ {
		for _, g := range gauss3 {
			x := x0 + (k+g.at)*step
			t, b := r.Top(x, y), r.Base(x, y)
			if t > b {
				sum += step * g.weight * (t - b)
				r.zTop, r.zLow = math.Max(r.zTop, t), math.Min(r.zLow, b)
			}
		}
	}
	return sum
}

// gauss3 is the three-point Gauss-Legendre rule on [0, 1] (DLMF 3.5.21).
var gauss3 = [3]struct{ at, weight float64 }{
	{0.5 - 0.5*math.Sqrt(0.6), 5.0 / 18}, {0.5, 8.0 / 18}, {0.5 + 0.5*math.Sqrt(0.6), 5.0 / 18},
}

// strips cuts the outline's y range at its corners and into pieces of at most panel.
func strips(poly []geometry.Vec2, lo, hi geometry.Vec2, panel float64) [][2]float64 {
	cuts := []float64{lo.Y, hi.Y}
	if len(poly) <= 200 {
		for _, p := range poly {
			cuts = append(cuts, p.Y)
		}
		sort.Float64s(cuts)
	}
	var out [][2]float64
	for i := 0; i+1 < len(cuts); i++ {
		n := math.Ceil((cuts[i+1] - cuts[i]) / panel)
		for k := 0.0; k < n; k++ {
			step := (cuts[i+1] - cuts[i]) / n
			out = append(out, [2]float64{cuts[i] + k*step, cuts[i] + (k+1)*step})
		}
	}
	return out
}
