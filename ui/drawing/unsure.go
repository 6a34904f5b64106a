package drawing

import (
	"math"

	"cabwright/planner"
	"cabwright/ui/canvas"
)

// extent is how far a mark goes at its least, likely and most: in a section full
// to the least, dashed to the likely, dotted to the most.
type extent int

const (
	least extent = iota
	likely
	most
)

// stroke is how an extent's edge is drawn where it is not known for sure.
func (e extent) stroke() canvas.Stroke {
	return [...]canvas.Stroke{least: canvas.Solid, likely: canvas.Dashed, most: canvas.Dotted}[e]
}

// strength is how strongly an extent is painted, of a mark that is sure.
func (e extent) strength() float32 { return [...]float32{least: 0.88, likely: 0.5, most: 0.25}[e] }

// within returns an extent of a length or a height whose likely value is given.
// deepest stands for a most that nobody knows.
func (e extent) within(r *planner.Range, value, deepest float64) float64 {
	switch {
	case r == nil || e == likely:
		return value
	case e == least:
		return r.Least
	case r.Open:
		return math.Max(value, deepest)
	default:
		return r.Most
	}
}

// extents returns those that differ, the widest first; of a mark that is sure
// there is one.
func extents(sure bool) []extent {
	if sure {
		return []extent{likely}
	}
	return []extent{most, likely, least}
}

// surePocket reports whether it is known how far a pocket goes.
func surePocket(p planner.Pocket) bool {
	return p.DepthRange == nil && p.TopRange == nil && p.BottomRange == nil
}

// pocketHeights returns between which heights a pocket lies where the rough lies
// between low and high.
func pocketHeights(p planner.Pocket, e extent, low, high float64) (from, to float64) {
	depth := e.within(p.DepthRange, p.Depth, high-low)
	switch p.Face {
	case planner.Base:
		return low, math.Min(high, low+depth)
	case planner.Through:
		return low, high
	case planner.Inside:
		// Its lower end goes the other way: it is at its least where it is highest.
		bottom := [...]extent{least: most, likely: likely, most: least}[e].within(p.BottomRange, p.Low, high)
		return math.Max(low, bottom), math.Min(high, e.within(p.TopRange, p.High, high))
	default:
		return math.Max(low, high-depth), high
	}
}

// zoneHeights returns between which heights a zone's colour lies; one whose
// depth is not known is as thin as skinDepth.
func zoneHeights(z planner.Zone, skinDepth, low, high float64) (from, to float64) {
	depth := z.Depth
	if depth == 0 {
		depth = skinDepth
	}
	if z.Face == planner.Base {
		return low, math.Min(high, low+depth)
	}
	return math.Max(low, high-depth), high
}

// stage is a stretch of a crack's depth, and how it is drawn.
type stage struct {
	from, to float64 // mm in from the face
	stroke   canvas.Stroke
}

// stages returns the stretches of a crack's depth: one where it is sure.
func stages(r *planner.Rough, k planner.Crack, sure canvas.Stroke) []stage {
	if k.Through || k.DepthRange == nil {
		return []stage{{0, reach(r, k), sure}}
	}
	low, high := r.Heights()
	at := 0.0
	var out []stage
	for _, e := range []extent{least, likely, most} {
		if to := e.within(k.DepthRange, k.Depth, high-low); to > at {
			out = append(out, stage{at, to, e.stroke()})
			at = to
		}
	}
	return out
}

// doubtful reports whether a mark may not be there at all.
func doubtful(chance *float64) bool { return chance != nil && *chance < 1 }
