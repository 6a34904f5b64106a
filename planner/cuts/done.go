package cuts

import (
	"errors"
	"math"
	"slices"

	"cabwright/geometry"
	"cabwright/planner"
)

// ErrLeaning says that what a leaning cut leaves cannot be said by an outline
// and readings.
var ErrLeaning = errors.New(
	"a leaning cut leaves a slanted side, which no outline can say: measure the piece as a new stone",
)

// Sawn returns what is left of a stone on either side of an upright cut that has
// been made, without its kerf: kept is the side that holds a point. Marks are
// shortened to what is left, and left out when nothing is; readings stay, as
// they tell the surfaces as well as before. Each piece has to be weighed again.
// The error is ErrLeaning, or says that nothing is left on a side.
func Sawn(s planner.Stone, c Cut, inside geometry.Vec2) (kept, other planner.Stone, err error) {
	if math.Abs(c.Normal.Z) >= upright {
		return s, s, ErrLeaning
	}
	side := 1.0
	if c.Height(geometry.Vec3{X: inside.X, Y: inside.Y}) < 0 {
		side = -1
	}
	if kept, err = onSide(s, c.side(side)); err != nil {
		return s, s, err
	}
	if other, err = onSide(s, c.side(-side)); err != nil {
		return s, s, err
	}
	other.Name = s.Name + ", offcut"
	// What was paid for the rough stays with the piece that is kept; a lot is shared
	// by weight.
	other.Cost = nil
	if c := s.Cost; c != nil && c.Lot != nil && c.Paid == nil {
		other.Cost = &planner.Cost{Currency: c.Currency, Lot: c.Lot}
	}
	return kept, other, nil
}

// onSide is the part of a stone on one upright side.
func onSide(s planner.Stone, h half) (planner.Stone, error) {
	// A splinter without area is nothing either: no stone could be made of it.
	s, err := planner.SetOutline(s, parted(largestPart(s.Outline, h)))
	if err != nil {
		return s, errors.New("the cut leaves nothing on one side")
	}
	var cracks []planner.Crack
	for _, k := range s.Cracks {
		if path := longestPart(k.Path, h); len(path) >= 2 {
			k.Path = path
			cracks = append(cracks, k)
		}
	}
	s.Cracks = cracks
	s.Pockets = slices.DeleteFunc(slices.Clone(s.Pockets), func(p planner.Pocket) bool { return !touches(p.Outline, h) })
	s.Colour = slices.DeleteFunc(slices.Clone(s.Colour), func(z planner.Zone) bool { return !touches(z.Outline, h) })
	s.Cuts = nil
	s.ScaleCt = 0
	return s, nil
}

// onePoint is how near two corners have to be to be one, mm: where a cut runs
// through a corner it makes another there. A stone file holds no two such.
const onePoint = 2e-3

// parted leaves out of a ring of corners each that is one with the corner before.
func parted(ring []geometry.Vec2) []geometry.Vec2 {
	var out []geometry.Vec2
	for _, p := range ring {
		if len(out) == 0 || p.Sub(out[len(out)-1]).Norm() > onePoint {
			out = append(out, p)
		}
	}
	for len(out) > 1 && out[0].Sub(out[len(out)-1]).Norm() <= onePoint {
		out = out[:len(out)-1]
	}
	return out
}

// largestPart clips an outline to a side. A dented one can fall apart; the
// largest part is what is held on to.
func largestPart(outline []geometry.Vec2, h half) []geometry.Vec2 {
	over := func(p geometry.Vec2) float64 { return h.normal.XY().Dot(p) - h.from }
	n := len(outline)
	start := -1
	for i := range outline {
		if over(outline[i]) < 0 && over(outline[(i+1)%n]) >= 0 {
			start = i
			break
		}
	}
	if start < 0 {
		if over(outline[0]) >= 0 {
			return outline
		}
		return nil
	}
	// Runs of corners on the side, each from where the outline comes in to where
	// it goes out.
	var runs [][]geometry.Vec2
	var now []geometry.Vec2
	for k := range n {
		p, q := outline[(start+k)%n], outline[(start+k+1)%n]
		from, to := over(p), over(q)
		meet := func() geometry.Vec2 { return p.Add(q.Sub(p).Scale(from / (from - to))) }
		switch {
		case from < 0 && to >= 0:
			now = []geometry.Vec2{meet()}
			if to > 0 {
				now = append(now, q)
			}
		case from >= 0 && to >= 0:
			now = append(now, q)
		case from >= 0 && to < 0:
			if from > 0 {
				now = append(now, meet())
			}
			runs, now = append(runs, now), nil
		}
	}
	return joinRuns(runs, h)
}

// joinRuns makes the parts of a clipped outline of its runs and returns the
// largest. Along the cut, ordered by place, the ends of the runs come in pairs
// between which the stone is solid.
func joinRuns(runs [][]geometry.Vec2, h half) []geometry.Vec2 {
	trace := geometry.Vec2{X: -h.normal.Y, Y: h.normal.X}
	type end struct {
		at    float64
		run   int
		first bool
	}
	var ends []end
	for i, r := range runs {
		ends = append(ends, end{trace.Dot(r[0]), i, true}, end{trace.Dot(r[len(r)-1]), i, false})
	}
	slices.SortStableFunc(ends, func(a, b end) int {
		switch {
		case a.at < b.at:
			return -1
		case a.at > b.at:
			return 1
		}
		return 0
	})
	next := map[int]int{} // the run that follows one
	for k := 0; k+1 < len(ends); k += 2 {
		a, b := ends[k], ends[k+1]
		if a.first {
			a, b = b, a
		}
		next[a.run] = b.run
	}
	var best []geometry.Vec2
	seen := map[int]bool{}
	for i := range runs {
		var ring []geometry.Vec2
		for j := i; !seen[j]; j = next[j] {
			seen[j] = true
			ring = append(ring, runs[j]...)
		}
		if math.Abs(geometry.Area(ring)) > math.Abs(geometry.Area(best)) {
			best = ring
		}
	}
	return best
}

// longestPart is the longest row of what of a path lies on a side.
func longestPart(path []geometry.Vec2, h half) []geometry.Vec2 {
	over := func(p geometry.Vec2) float64 { return h.normal.XY().Dot(p) - h.from }
	var best, now []geometry.Vec2
	length := func(row []geometry.Vec2) float64 {
		sum := 0.0
		for i := 0; i+1 < len(row); i++ {
			sum += row[i+1].Sub(row[i]).Norm()
		}
		return sum
	}
	finish := func() {
		if len(now) > 1 && length(now) > math.Max(length(best), 1e-3) {
			best = now
		}
		now = nil
	}
	for i := 0; i+1 < len(path); i++ {
		p, q := path[i], path[i+1]
		from, to := over(p), over(q)
		meet := func() geometry.Vec2 { return p.Add(q.Sub(p).Scale(from / (from - to))) }
		switch {
		case from >= 0 && to >= 0:
			if now == nil {
				now = []geometry.Vec2{p}
			}
			now = append(now, q)
		case from < 0 && to > 0:
			now = []geometry.Vec2{meet(), q}
		case from > 0 && to < 0:
			if now == nil {
				now = []geometry.Vec2{p}
			}
			now = append(now, meet())
			finish()
		}
	}
	finish()
	return best
}

// touches tells whether some corner of an area lies on a side.
func touches(outline []geometry.Vec2, h half) bool {
	return slices.ContainsFunc(outline, func(p geometry.Vec2) bool { return h.normal.XY().Dot(p) > h.from })
}
