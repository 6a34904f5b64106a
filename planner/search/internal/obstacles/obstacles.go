package obstacles

import (
	"math"

	"cabwright/geometry"
	"cabwright/geometry/field"
	"cabwright/planner"
)

// SkinName is what the outside of the rough is called where limits are named.
const SkinName = "skin"

// HalfSpace is what a saw cut takes away: all that lies behind a plane. The distance
// to it, less the allowance, counts as clearance from the skin.
type HalfSpace struct {
	Point     geometry.Vec3 // of the plane, mm
	Normal    geometry.Vec3 // unit vector into the piece that is kept
	Allowance float64       // mm
}

// buildBody tabulates the rough, with nothing in it but saw cuts.
func buildBody(s planner.Stone, rough *planner.Rough, cuts []HalfSpace) *field.Field {
	low, high := rough.Heights()
	f := field.New(field.Body{
		Polygon: rough.Outline,
		Top:     field.Face{Plate: rough.TopSheet, Level: highest(s.Top)},
		Base:    field.Face{Plate: rough.BaseSheet, Level: lowest(s.Base)},
		Low:     low, High: high, Skin: s.Allowances.Skin,
	})
	for _, c := range cuts {
		f.AddHalfSpace(c.Point, c.Normal, c.Allowance)
	}
	return f
}

// highest returns the height of the highest reading, lowest that of the lowest: what a
// top and a base are cut off at.
func highest(readings []geometry.Vec3) float64 {
	z := math.Inf(-1)
	for _, r := range readings {
		z = max(z, r.Z)
	}
	return z
}

func lowest(readings []geometry.Vec3) float64 {
	z := math.Inf(1)
	for _, r := range readings {
		z = min(z, r.Z)
	}
	return z
}

// AddMarks adds the stone's cracks and pockets to the field of its body, and returns
// the names of all obstacles by index.
func AddMarks(f *field.Field, s planner.Stone) []string {
	lo, hi := f.Bounds()
	names := []string{SkinName}
	for _, c := range s.Cracks {
		f.AddSheet(sheetOf(c, s.Allowances, hi.Z-lo.Z))
		names = append(names, c.ID)
	}
	for _, p := range s.Pockets {
		poly := geometry.CounterClockwise(p.Outline)
		switch p.Face {
		case planner.Top, planner.Base:
			f.AddPit(poly, p.Face == planner.Top, p.Depth, s.Allowances.Pocket)
		case planner.Inside:
			f.AddPrism(field.Prism{Polygon: poly, Low: p.Low, High: p.High, Allowance: s.Allowances.Pocket})
		default:
			f.AddPrism(field.Prism{Polygon: poly, Low: math.Inf(-1), High: math.Inf(1), Allowance: s.Allowances.Pocket})
		}
		names = append(names, p.ID)
	}
	return names
}

// Build turns a stone into the field that is searched, and the names of
// its obstacles by index.
func Build(s planner.Stone, rough *planner.Rough, cuts []HalfSpace) (*field.Field, []string) {
	f := buildBody(s, rough, cuts)
	return f, AddMarks(f, s)
}

// sheetOf is the crack as the contract's sheet: the path carried on straight at
// both ends, and the direction it runs in for each millimetre of depth.
func sheetOf(c planner.Crack, a planner.Allowances, thickness float64) field.Sheet {
	lean, toward := c.Lean*math.Pi/180, c.Toward*math.Pi/180
	into := geometry.Vec3{X: math.Tan(lean) * math.Cos(toward), Y: math.Tan(lean) * math.Sin(toward), Z: -1}
	if c.Face == planner.Base {
		into.Z = 1
	}
	depth := c.Depth
	if c.Through {
		// The faces are not level: the far one is met within the thickness plus
		// what either face rises or falls over it.
		depth = thickness + 5
	}
	allowance := a.Crack
	if c.Sealed {
		allowance = a.SealedCrack
	}
	return field.Sheet{
		Path: runOn(c.Path, c.RunOn), FromTop: c.Face != planner.Base,
		Into: into, Depth: depth, Allowance: allowance,
	}
}

// runOn carries the path on straight by the given length at both ends.
func runOn(path []geometry.Vec2, by float64) []geometry.Vec2 {
	n := len(path)
	if by <= 0 || n < 2 {
		return path
	}
	first, last := path[0].Sub(path[1]), path[n-1].Sub(path[n-2])
	out := make([]geometry.Vec2, 0, n+2)
	out = append(out, path[0].Add(first.Scale(by/first.Norm())))
	out = append(out, path...)
	return append(out, path[n-1].Add(last.Scale(by/last.Norm())))
}
