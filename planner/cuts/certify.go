package cuts

import (
	"slices"

	"cabwright/planner/search"
)

// pairsTried is of how many pairs of solids it is asked whether the exact shapes of the
// whole rough hold them, so many at a time, and pairsOpened for how many of the heaviest
// the pieces are opened as well, which takes ten times as long.
const (
	pairsTried   = 64
	pairsAbreast = 8
	pairsOpened  = 6
)

// parted returns arrangements in which the piece of fit i is cut in two, each part
// with a calibrated fit that is certified; own are the fits that a part may keep.
func (l *layer) parted(a arrangement, i int, starts []grown, own []search.Fit) (out []arrangement) {
	if len(l.pool) == 0 {
		return nil
	}
	piece := a.fits[i].Piece
	sides := halves(a.cuts, piece)
	pairs := pairsOf(l.splits(piece, sides, starts, own))
	pairs = pairs[:min(len(pairs), pairsTried)]
	best := 0.0
	var missed []pair
	certify := func(some []pair, how func(laid, []half) (search.Fit, bool)) {
		fits, held := make([]search.Fit, 2*len(some)), make([]bool, 2*len(some))
		l.each(2*len(some), func(k int) {
			p := &some[k/2]
			if k%2 == 0 {
				fits[k], held[k] = how(p.minus, append(slices.Clone(sides), p.cut.side(-1)))
			} else {
				fits[k], held[k] = how(p.plus, append(slices.Clone(sides), p.cut.side(1)))
			}
		})
		for k, p := range some {
			if held[2*k] && held[2*k+1] {
				out = append(out, a.cutInTwo(i, p.cut, fits[2*k+1], fits[2*k]))
				best = max(best, p.carat())
			} else {
				missed = append(missed, p)
			}
		}
	}
	for some := range slices.Chunk(pairs, pairsAbreast) {
		if some[0].carat() <= best*pays || l.ctx.Err() != nil {
			break
		}
		l.each(len(some), func(k int) { some[k] = l.ease(some[k], sides) })
		certify(some, l.held)
	}
	opened := missed[:min(len(missed), pairsOpened)]
	for some := range slices.Chunk(opened, 2) {
		if some[0].carat() > best*pays && l.ctx.Err() == nil {
			certify(some, l.settled)
		}
	}
	return out
}

// certify returns the first of some solids that the exact shapes hold; its weight is 0
// when they hold none.
func (l *layer) certify(s laid, sides []half) search.Fit {
	if f, ok := l.held(s, sides); ok {
		return f
	}
	f, _ := l.settled(s, sides)
	return f
}

// held certifies a solid where it was laid.
func (l *layer) held(s laid, sides []half) (search.Fit, bool) {
	f := search.Weigh(l.b.Stone, l.b.Rough, l.set, s.Candidate, s.pose)
	f.Clearance = unread
	return f, l.beyondSides(f, sides) >= 0 && l.whole.Keeps(s.Solid, s.pose)
}

// settled certifies a solid settled close by in its piece, level first.
func (l *layer) settled(s laid, sides []half) (search.Fit, bool) {
	site, err := l.site(sides)
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
	f := search.Weigh(l.b.Stone, l.b.Rough, l.set, s.Candidate, pose)
	f.Clearance = unread
	return f, true
}
