package planner

import (
	"errors"
	"fmt"
	"math"

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
	Outline   []geometry.Vec2 // counter-clockwise
	TopSheet  *geometry.ThinPlate
	BaseSheet *geometry.ThinPlate
	TopLevel  float64 // the height at which TopSheet is cut off
	BaseLevel float64 // the height at which BaseSheet is cut off

	volume     float64
	zLow, zTop float64
	thick      float64
	thickAt    geometry.Vec2
}

// NewRough lays the two surfaces through the stone's readings. The error wraps
// geometry.ErrNoReadings, ErrCollinear or ErrSameSpot with the face it is
// about, or is ErrNoSolid.
func NewRough(s Stone) (*Rough, error) {
	r, err := layFaces(s)
	if err != nil {
		return nil, err
	}
	if r.measure(s); r.volume <= 0 {
		return nil, ErrNoSolid
	}
	return r, nil
}

// layFaces lays the two surfaces and measures nothing yet.
func layFaces(s Stone) (*Rough, error) {
	top, err := geometry.FitThinPlate(s.Top)
	if err != nil {
		return nil, fmt.Errorf("top: %w", err)
	}
	base, err := geometry.FitThinPlate(s.Base)
	if err != nil {
		return nil, fmt.Errorf("base: %w", err)
	}
	r := &Rough{
		Outline:   geometry.CounterClockwise(s.Outline),
		TopSheet:  top,
		BaseSheet: base,
		TopLevel:  math.Inf(-1),
		BaseLevel: math.Inf(1),
	}
	for _, p := range s.Top {
		r.TopLevel = math.Max(r.TopLevel, p.Z)
	}
	for _, p := range s.Base {
		r.BaseLevel = math.Min(r.BaseLevel, p.Z)
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

// Heights returns the lowest and the highest z of the rough, to within what its
// faces rise or fall in a few tenths of a millimetre.
func (r *Rough) Heights() (low, high float64) { return r.zLow, r.zTop }

// Thickness returns the greatest thickness of the rough, straight up, and where
// in plan it is.
func (r *Rough) Thickness() (most float64, at geometry.Vec2) { return r.thick, r.thickAt }

// measure finds the volume, the heights and the greatest thickness.
func (r *Rough) measure(s Stone) {
	lo, hi := geometry.Bounds(r.Outline)
	r.zLow, r.zTop = math.Inf(1), math.Inf(-1)
	// A millimetre is below what readings are apart; a boulder takes no longer
	// than a stone of 60 mm.
	cell := math.Max(1, math.Max(hi.X-lo.X, hi.Y-lo.Y)/60)
	r.volume = geometry.Integral(r.Outline, cell, r.thickness)
	step := 1 + len(r.Outline)/500
	for i := 0; i < len(r.Outline); i += step {
		r.thickness(r.Outline[i], true)
	}
	for _, readings := range [][]geometry.Vec3{s.Top, s.Base} {
		for _, p := range readings {
			r.thickness(p.XY(), geometry.InPolygon(r.Outline, p.XY()))
		}
	}
	r.climb(cell)
}

// thickness returns how thick the rough is at a place, none where the faces have
// crossed, and on which of its branches it is there. What lies inside is noted.
func (r *Rough) thickness(p geometry.Vec2, inside bool) (thick float64, branch int) {
	top, base := r.TopSheet.At(p.X, p.Y), r.BaseSheet.At(p.X, p.Y)
	if top > r.TopLevel {
		top, branch = r.TopLevel, 1
	}
	if base < r.BaseLevel {
		base, branch = r.BaseLevel, branch+2
	}
	if top <= base {
		return 0, 4
	}
	if inside {
		r.zTop, r.zLow = math.Max(r.zTop, top), math.Min(r.zLow, base)
		if top-base > r.thick {
			r.thick, r.thickAt = top-base, p
		}
	}
	return top - base, branch
}

// climb looks for a thicker place around the thickest one met, from half a cell
// away down to a thousandth of a millimetre, along the axes and between them: the
// thickest place may lie on a slanted side.
func (r *Rough) climb(cell float64) {
	for step := cell / 2; step > 0.001; {
		before := r.thick
		for _, way := range []geometry.Vec2{
			{X: step}, {X: -step}, {Y: step}, {Y: -step},
			{X: step, Y: step}, {X: step, Y: -step}, {X: -step, Y: step}, {X: -step, Y: -step},
		} {
			p := r.thickAt.Add(way)
			r.thickness(p, geometry.InPolygon(r.Outline, p))
		}
		if r.thick == before {
			step /= 2
		}
	}
}
