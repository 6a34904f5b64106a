package search

import (
	"math"

	"cabwright/geometry"
	"cabwright/geometry/field"
	"cabwright/planner"
)

// skinName is what the outside of the rough is called where limits are named.
const skinName = "skin"

// buildField turns a stone into the field that is searched, and the names of
// its obstacles by index.
func buildField(s planner.Stone, rough *planner.Rough) (*field.Field, []string) {
	low, high := rough.Heights()
	f := field.New(field.Body{
		Polygon: rough.Outline, Top: rough.TopSheet, Base: rough.BaseSheet,
		Low: low, High: high, Skin: s.Allowances.Skin,
	})
	names := []string{skinName}
	for _, c := range s.Cracks {
		f.AddSheet(sheetOf(c, s.Allowances, high-low))
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
	return f, names
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
	return field.Sheet{Path: runOn(c.Path, c.RunOn), FromTop: c.Face != planner.Base, Into: into, Depth: depth, Allowance: allowance}
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
