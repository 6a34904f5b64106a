package drawing

import (
	"math"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/ui/canvas"
)

// crackClass returns the class a crack is drawn in.
func crackClass(k planner.Crack) canvas.Class {
	if k.Sealed {
		return canvas.Sealed
	}
	return canvas.Crack
}

// crackStroke returns how a crack is drawn on the face it shows on.
func crackStroke(k planner.Crack) canvas.Stroke {
	if k.Sealed {
		return canvas.LongDashed
	}
	return canvas.Dashed
}

// runOns returns the ends of a crack's straight extensions; ok is false when it
// has none or no direction to go in.
func runOns(k planner.Crack) (before, after geometry.Vec2, ok bool) {
	n := len(k.Path)
	if n < 2 || !(k.RunOn > 0) {
		return before, after, false
	}
	onward := func(from, to geometry.Vec2) geometry.Vec2 {
		d := to.Sub(from)
		if l := d.Norm(); l > 0 {
			return to.Add(d.Scale(k.RunOn / l))
		}
		return to
	}
	return onward(k.Path[1], k.Path[0]), onward(k.Path[n-2], k.Path[n-1]), true
}

// extended returns a crack's path with its run-on at both ends.
func extended(k planner.Crack) []geometry.Vec2 {
	before, after, ok := runOns(k)
	if !ok {
		return k.Path
	}
	path := make([]geometry.Vec2, 0, len(k.Path)+2)
	path = append(path, before)
	path = append(path, k.Path...)
	return append(path, after)
}

// lean returns how far a crack moves in plan for each millimetre of depth, and
// which way it goes in z, as the stone file defines the sheet.
func lean(k planner.Crack) (geometry.Vec2, float64) {
	t := math.Tan(k.Lean * math.Pi / 180)
	s, c := math.Sincos(k.Toward * math.Pi / 180)
	down := -1.0
	if k.Face == planner.Base {
		down = 1
	}
	return geometry.Vec2{X: t * c, Y: t * s}, down
}

// reach returns how deep the sheet goes: its depth, or for one right through
// the whole height of the rough, which is more than it needs to leave it.
func reach(r *planner.Rough, k planner.Crack) float64 {
	if !k.Through {
		return k.Depth
	}
	low, high := r.Heights()
	return math.Max(0, high-low) + 1
}

// sheet returns the point of a crack's sheet below or above p of its path, s mm in.
func sheet(r *planner.Rough, k planner.Crack, p geometry.Vec2, s float64) geometry.Vec3 {
	move, down := lean(k)
	z := r.Top(p.X, p.Y)
	if k.Face == planner.Base {
		z = r.Base(p.X, p.Y)
	}
	return geometry.Vec3{X: p.X + s*move.X, Y: p.Y + s*move.Y, Z: z + s*down}
}

// lowerEdge returns in plan where a crack's sheet ends: at its depth, or where
// it leaves the rough through the other face.
func lowerEdge(r *planner.Rough, k planner.Crack) []geometry.Vec2 {
	path := extended(k)
	edge := make([]geometry.Vec2, 0, len(path))
	for _, p := range path {
		s := reach(r, k)
		if k.Through {
			s = leaves(r, k, p, s)
		}
		edge = append(edge, sheet(r, k, p, s).XY())
	}
	return edge
}

// leaves returns how deep a sheet right through is when it meets the other
// face, by halving: 20 halvings of some 10 mm leave no more than 0.01 um.
func leaves(r *planner.Rough, k planner.Crack, p geometry.Vec2, deepest float64) float64 {
	within, beyond := 0.0, deepest
	for range 20 {
		mid := (within + beyond) / 2
		q := sheet(r, k, p, mid)
		if q.Z > r.Base(q.X, q.Y) && q.Z < r.Top(q.X, q.Y) || mid == 0 {
			within = mid
		} else {
			beyond = mid
		}
	}
	return beyond
}
