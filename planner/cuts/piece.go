package cuts

import (
	"math"
	"slices"
	"sync"

	"cabwright/geometry"
	"cabwright/planner/search"
)

// laid is a solid laid into a piece by the lattice, not certified yet.
type laid struct {
	*entry
	at   spot
	pose search.Pose
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
				out = append(out, laid{e, at, m.pose(at)})
				break
			}
		}
	}
	return out
}

// roughlyMore is more than what Body.roughly may be short by.
const roughlyMore = 1.2

// certify returns the first of some solids that the exact shapes hold; its weight is 0
// when they hold none.
func (l *layer) certify(some []laid, sides []half) search.Fit {
	site := sync.OnceValues(func() (*search.Site, error) { return l.site(sides) })
	for _, s := range some {
		if f, ok := l.exact(s, sides, site); ok {
			return f
		}
	}
	return search.Fit{}
}

// exact certifies a solid on the exact shapes, where it lies or settled close by, level
// first. The piece is opened only where the solid has to be settled.
func (l *layer) exact(s laid, sides []half, open func() (*search.Site, error)) (search.Fit, bool) {
	f := search.Weigh(l.b.Stone, l.b.Rough, l.set, s.Candidate, s.pose)
	if l.beyondSides(f, sides) >= 0 && l.whole.Keeps(s.Solid, s.pose) {
		f.Clearance = unread
		return f, true
	}
	site, err := open()
	if err != nil {
		return search.Fit{}, false
	}
	pose, clearance := site.Improve(s.Candidate, s.pose, 0)
	if clearance < 0 && l.opt.TiltMaxDeg > 0 {
		pose, clearance = site.Improve(s.Candidate, pose, l.opt.TiltMaxDeg)
	}
	if clearance < 0 {
		return search.Fit{}, false
	}
	f = search.Weigh(l.b.Stone, l.b.Rough, l.set, s.Candidate, pose)
	f.Clearance = unread
	return f, true
}

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
