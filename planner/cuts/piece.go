package cuts

import (
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
// them in case the exact shapes say otherwise; none lighter than atLeast
// carats.
func (l *layer) heaviest(sides []half, atLeast float64) []laid {
	const some = 3
	volume := l.b.volumeOf(sides)
	places := l.b.spots(sides)
	var out []laid
	for i := range l.pool {
		e := &l.pool[i]
		if l.ctx.Err() != nil || e.carat < atLeast || len(out) == some {
			break
		}
		if e.Solid.Volume() > volume {
			continue
		}
		m := newMover(l.room, l.skin, sides, e.Candidate, e.frame)
		for _, s := range m.starts(places, e) {
			if at, v := m.settle(s, settleTries); v >= slack {
				out = append(out, laid{e, at, m.pose(at)})
				break
			}
		}
	}
	return out
}

// certify returns the first of some solids that the exact shapes hold, as a
// fit: its clearance counts the sides' planes.
func (l *layer) certify(some []laid, sides []half) (search.Fit, bool) {
	for _, s := range some {
		for _, tilt := range []float64{0, l.opt.TiltMaxDeg} {
			if f, ok := l.exact(s, sides, tilt); ok {
				return f, true
			}
			if l.opt.TiltMaxDeg == 0 {
				break
			}
		}
	}
	return search.Fit{}, false
}

// exact settles a solid on the exact shapes and measures it there.
func (l *layer) exact(s laid, sides []half, tilt float64) (search.Fit, bool) {
	site, err := l.site(sides)
	if err != nil {
		return search.Fit{}, false
	}
	pose, reading := s.pose, site.Clearance(s.Solid, s.pose)
	if reading.Clearance < 0 {
		if pose, reading = site.Settle(s.Candidate, s.pose, tilt); reading.Clearance < 0 {
			return search.Fit{}, false
		}
	}
	f := search.Weigh(l.b.Stone, l.b.Rough, l.set, s.Candidate, pose)
	f.Clearance, f.LimitedBy = reading.Clearance, reading.LimitedBy
	return f, true
}

// site opens the rough with the planes of a piece, or finds it open already.
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

// counting returns the fit with its clearance counting the planes that make its
// piece, all of them.
func (l *layer) counting(f search.Fit, sides []half) search.Fit {
	for _, h := range sides {
		if least(f, h.normal)-h.from-l.skin < f.Clearance+named {
			if site, err := l.site(sides); err == nil {
				r := site.Clearance(f.Solid, f.Pose)
				f.Clearance, f.LimitedBy = r.Clearance, r.LimitedBy
			}
			return f
		}
	}
	return f
}

// named is how far from the least an obstacle is still named as what limits a
// fit, mm: the search's own tolerance.
const named = 0.05
