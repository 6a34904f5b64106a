package cuts

import (
	"math"
	"slices"

	"cabwright/geometry"
	"cabwright/planner/search"
)

// laid is a solid laid into a piece by the lattice, not certified yet.
type laid struct {
	*entry
	at   spot
	pose search.Pose
	room float64 // beyond its allowances, as far as the tables tell
}

// heaviest returns the heaviest solids that seem to go into a piece, a few of
// them in case the exact shapes say otherwise; those that may not go are not tried.
func (l *layer) heaviest(sides []half, may func(i int) bool) []laid {
	const some = 6
	volume := l.b.roughly(sides) * roughlyMore
	places := l.b.spots(sides)
	var out []laid
	for i := range l.pool {
		e := &l.pool[i]
		if l.ctx.Err() != nil || len(out) == some {
			break
		}
		if !may(i) || e.Solid.Volume() > volume {
			continue
		}
		m := l.newMover(sides, e.Candidate, e.frame)
		for _, s := range m.starts(places, e, seedsKept, seedsApart) {
			if at, v := m.settle(s, settleTries); v >= l.slack {
				out = append(out, laid{e, at, m.pose(at), v})
				break
			}
		}
	}
	return out
}

// roughlyMore is more than what Body.roughly may be short by.
const roughlyMore = 1.2

// site opens the rough with the planes of a piece.
func (l *layer) site(sides []half) (*search.Site, error) {
	opt := search.Options{}
	for _, h := range sides {
		opt.Cuts = append(opt.Cuts, search.HalfSpace{
			Point: h.normal.Scale(h.from), Normal: h.normal, Allowance: l.skin,
		})
	}
	return search.OpenWith(l.b.Stone, opt)
}

// least is the smallest n . p over the points of a fit's solid.
func least(f search.Fit, n geometry.Vec3) float64 { return -reach(f, n.Scale(-1)) }

// beyondSides is how much more than the skin a stone keeps from the planes that make its
// piece.
func (l *layer) beyondSides(f search.Fit, sides []half) float64 {
	room := math.Inf(1)
	for _, h := range sides {
		room = min(room, least(f, h.normal)-h.from-l.skin)
	}
	return room
}

// unread is the clearance of a fit of which it is only known that it keeps everything.
const unread = -1

// counting returns the fit with its clearance counting the planes that make its
// piece, all of them. The piece is opened only where that clearance hangs on what the
// reading of the whole rough does not tell.
func (l *layer) counting(f search.Fit, sides []half) search.Fit {
	room := l.beyondSides(f, sides)
	if f.Clearance < 0 {
		r := l.whole.Clearance(f.Solid, f.Pose)
		f.Clearance, f.LimitedBy = r.Clearance, r.LimitedBy
	}
	skinAlone := len(f.LimitedBy) == 1 && f.LimitedBy[0] == skinName
	switch {
	case room >= f.Clearance+named:
	case room >= f.Clearance:
		if !slices.Contains(f.LimitedBy, skinName) {
			f.LimitedBy = append([]string{skinName}, f.LimitedBy...)
		}
	case skinAlone || room < f.Clearance-named-certain:
		f.Clearance, f.LimitedBy = room, []string{skinName}
	default:
		// A mark that is nearly as near as the cut may be named, or not.
		if site, err := l.site(sides); err == nil {
			r := site.Clearance(f.Solid, f.Pose)
			f.Clearance, f.LimitedBy = r.Clearance, r.LimitedBy
		}
	}
	return f
}

// named is how far from the least an obstacle is still named as what limits a
// fit, mm: the search's own tolerance. What a clearance may be short by, as it is
// certified from below, is certain.
const (
	named    = 0.05
	certain  = 0.01
	skinName = "skin"
)
