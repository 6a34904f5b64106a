package drawing

import (
	"fmt"
	"math"
	"strings"

	"cabwright/geometry"
	"cabwright/planner"
)

// Explain says in one line what lies at a place of the plan, seen from the face
// looked at: the marks within so many mm of it, the fit, and how thick the rough
// is. It is empty outside the rough where no mark is.
func Explain(s Scene, p geometry.Vec2, within float64) string {
	var out []string
	for _, k := range s.Stone.Cracks {
		if onPath(extended(k), p, within) {
			out = append(out, crackWords(k))
		}
	}
	for _, k := range s.Stone.Pockets {
		if geometry.InPolygon(k.Outline, p) {
			out = append(out, pocketWords(k))
		}
	}
	for _, z := range s.Stone.Colour {
		if z.Face == s.face() && geometry.InPolygon(z.Outline, p) {
			out = append(out, fmt.Sprintf("%s colour, grade %g", planner.Visible(z.ID), z.Grade))
		}
	}
	if low, high, ok := Upright(s.Fit, p); ok {
		out = append(out, fmt.Sprintf("the fit, %.1f mm thick", high-low))
	}
	if low, high, ok := Upright(s.Ghost, p); ok {
		out = append(out, fmt.Sprintf("the best fit, %.1f mm thick", high-low))
	}
	if s.Rough != nil && len(s.Stone.Outline) > 2 && geometry.InPolygon(s.Stone.Outline, p) {
		thick := math.Max(0, s.Rough.Top(p.X, p.Y)-s.Rough.Base(p.X, p.Y))
		out = append(out, fmt.Sprintf("rough %.1f mm thick", thick))
	}
	return strings.Join(out, "; ")
}

// onPath reports whether a point lies within so many mm of a path.
func onPath(path []geometry.Vec2, p geometry.Vec2, within float64) bool {
	for i := 1; i < len(path); i++ {
		if geometry.ToSegment(p, path[i-1], path[i]) <= within {
			return true
		}
	}
	return false
}

// Ranged is a length in mm, with what it may be instead where it is not sure: "1.8 (0.9-3.6)".
func Ranged(likely float64, r *planner.Range) string {
	switch {
	case r == nil:
		return fmt.Sprintf("%.1f", likely)
	case r.Open:
		return fmt.Sprintf("%.1f (%.1f-through)", likely, r.Least)
	}
	return fmt.Sprintf("%.1f (%.1f-%.1f)", likely, r.Least, r.Most)
}

func crackWords(k planner.Crack) string {
	kind := "crack"
	if k.Sealed {
		kind = "sealed crack"
	}
	depth := Ranged(k.Depth, k.DepthRange) + " mm deep"
	if k.Through {
		depth = "right through"
	}
	return fmt.Sprintf("%s %s, %s, %s", planner.Visible(k.ID), kind, k.Face, depth)
}

func pocketWords(k planner.Pocket) string {
	id := planner.Visible(k.ID)
	switch k.Face {
	case planner.Through:
		return id + " pocket, right through"
	case planner.Inside:
		return fmt.Sprintf("%s pocket inside, heights %s to %s", id, Ranged(k.Low, k.BottomRange), Ranged(k.High, k.TopRange))
	default:
		return fmt.Sprintf("%s pocket, %s, %s mm deep", id, k.Face, Ranged(k.Depth, k.DepthRange))
	}
}
