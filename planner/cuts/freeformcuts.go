package cuts

import (
	"cmp"
	"math"
	"slices"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/search"
)

// grown is a parting cut with the freeform that grows on either side of it.
type grown struct {
	cut  Cut
	buds [2]bud // where the normal points from, and to
	sum  float64
}

// Numbers of the search for cuts between freeforms, of some tried the least with which
// no demo stone lost weight.
const (
	scanTurns   = 12  // cuts are looked at 15 degrees
	scanStep    = 1.5 // and so many mm apart
	scanPlaces  = 2   // with the freeforms at so many places on either side
	startsKept  = 24  // so many of them are kept, for calibrated stones
	startsMoved = 8   // so many are moved to where their freeforms weigh most
	startsApart = 1.5 // mm
	sidesGrown  = 3   // and so many of those are grown on the exact shapes
	roughlyAs   = 0.9 // of a fit's weight: what comes to less on the lattice is not grown on the exact shapes
	widthOfRoom = 0.7 // the share of a place's room all round that is tried first as half the width
	leastWidth  = 4.0 // mm
)

// apart moves cuts of a piece to where the freeforms beside them weigh most and returns the
// best.
func (l *layer) apart(starts []grown, sides []half) []grown {
	starts = slices.Clone(starts[:min(len(starts), startsMoved)])
	l.each(len(starts), func(i int) {
		starts[i] = l.move(starts[i], sides, false)
		if starts[i].sum > 0 && l.opens(starts[i].cut, sides) {
			starts[i].sum *= nearlyParts
		}
	})
	best := distinct(starts, sidesGrown)
	if len(best) == 0 {
		return nil
	}
	leaning := make([]grown, len(leans))
	l.each(len(leans), func(i int) {
		s := best[0]
		s.cut.Plane = s.cut.Plane.Leaned(leans[i] * math.Pi / 180)
		leaning[i] = l.move(s, sides, true)
	})
	for _, s := range leaning {
		if s.sum > clearlyHeavier*best[0].sum {
			best = append(best, s)
		}
	}
	sortGrown(best)
	return best[:min(len(best), sidesGrown)]
}

func sortGrown(all []grown) {
	slices.SortStableFunc(all, func(a, b grown) int { return cmp.Compare(b.sum, a.sum) })
}

// distinct returns the best of some cuts, no two of them nearly the same.
func distinct(all []grown, most int) []grown {
	sortGrown(all)
	var out []grown
	for _, s := range all {
		if s.sum == 0 || len(out) == most {
			break
		}
		n, at := s.cut.Normal, s.cut.Normal.Dot(s.cut.Point)
		if !slices.ContainsFunc(out, func(o grown) bool {
			turn := o.cut.Normal.Dot(n)
			return math.Abs(turn) > 0.97 && math.Abs(o.cut.Normal.Dot(o.cut.Point)-at*sign(turn)) < startsApart
		}) {
			out = append(out, s)
		}
	}
	return out
}

// place is where freeforms begin: the middle of the height there, and about how much room
// there is all round.
type place struct {
	at   geometry.Vec3
	room float64
}

// scan looks at cuts all over a piece, and beside the plan's best fits, and returns the
// most promising.
func (l *layer) scan(piece string, sides []half, kept []search.Fit) []grown {
	var places []place
	for _, at := range l.b.spots(sides) {
		places = append(places, place{at, l.room.at(at)})
	}
	middle := 0.0
	if low, high := l.b.extent(sides, geometry.Vec3{Z: 1}); low < high {
		middle = (low + high) / 2
	}
	own := l.budsOf(kept)
	var cuts []Cut
	for k := range scanTurns {
		s, c := math.Sincos(math.Pi * float64(k) / scanTurns)
		n := geometry.Vec3{X: c, Y: s}
		least, most := l.b.extent(sides, n)
		for at := least + leastWidth; at < most-leastWidth; at += scanStep {
			cuts = append(cuts, l.cutAt(piece, n, at, middle))
		}
	}
	beside := l.skin + l.opt.Bench.Saw.Kerf/2
	for _, f := range kept {
		for k := range pushDirections {
			n := pushed(k)
			cuts = append(cuts, l.cutAt(piece, n, reach(f, n)+beside, middle))
		}
	}
	all := make([]grown, len(cuts))
	l.each(len(cuts), func(i int) {
		s := grown{cut: cuts[i]}
		for k, sign := range [2]float64{-1, 1} {
			s.buds[k] = l.firstLook(s.cut.side(sign), sides, places, own)
		}
		all[i] = l.weighed(s)
	})
	return distinct(all, startsKept)
}

// budsOf is where the fits of a plan lie, as buds.
func (l *layer) budsOf(fits []search.Fit) []bud {
	var out []bud
	for _, f := range fits {
		k := slices.IndexFunc(l.kinds, func(k kind) bool {
			return k.face == f.Face && k.back.Key == f.BackStyle && k.style.Key == f.DomeStyle
		})
		if k >= 0 {
			out = append(out, bud{kind: &l.kinds[k], at: f.Pose.Origin, width: f.Solid.Outline.Width})
		}
	}
	return out
}

// firstLook returns the best bud on one side of a cut of a piece.
func (l *layer) firstLook(side half, sides []half, places []place, own []bud) bud {
	var deep [scanPlaces]place
	for i := range deep {
		deep[i].room = 0
	}
	for _, p := range places {
		p.room = min(p.room, side.normal.Dot(p.at)-side.from-l.skin)
		for i := range deep {
			if p.room > deep[i].room {
				deep[i], p = p, deep[i]
			}
		}
	}
	all := append(slices.Clone(sides), side)
	var best bud
	try := func(b bud) {
		if b = l.grow.measure(b, all, fewRays, best.volume); b.volume > best.volume {
			best = b
		}
	}
	for _, p := range deep {
		if p.room <= 0 {
			continue
		}
		width := max(leastWidth, 2*(p.room+l.skin)/widthOfRoom)
		for k := range l.kinds {
			kind := &l.kinds[k]
			at := p.at
			at.Z -= kind.up() * kind.body(width).CentreOfHeight()
			try(bud{kind: kind, at: at, width: width})
		}
	}
	for _, b := range own {
		try(b)
	}
	return best
}

// weighed fills in what both freeforms of a cut come to: nothing where one is smaller
// than what is worth cutting.
func (l *layer) weighed(s grown) grown {
	s.sum = 0
	for _, b := range s.buds {
		if b.volume == 0 || planner.Carat(b.volume, l.b.SG) < l.opt.Least.Carat || b.length < l.opt.Least.Length {
			return s
		}
	}
	s.sum = s.buds[0].volume + s.buds[1].volume
	return s
}

// regrown grows both freeforms of a cut from where they are.
func (l *layer) regrown(s grown, sides []half, first, last float64) grown {
	for k, sign := range [2]float64{-1, 1} {
		s.buds[k] = l.grow.grow(s.buds[k], append(slices.Clone(sides), s.cut.side(sign)), first, last)
	}
	return l.weighed(s)
}

// move slides and turns a cut, and leans it, to where its freeforms weigh most, by a
// pattern search.
func (l *layer) move(s grown, sides []half, leaning bool) grown {
	s = l.regrown(s, sides, 0.8, 0.1)
	if s.sum == 0 {
		return s
	}
	const arm = 8.0 // mm: a turn moves the cut as much that far off
	for step := 1.0; step > 0.1 && l.ctx.Err() == nil; step /= 2 {
		for moved := true; moved && l.ctx.Err() == nil; {
			moved = false
			s.cut.Point = between(s)
			p := s.cut.Plane
			tries := []Plane{p.Moved(step), p.Moved(-step), p.Turned(step / arm), p.Turned(-step / arm)}
			if leaning {
				tries = append(tries, p.Leaned(step/arm), p.Leaned(-step/arm))
			}
			for _, q := range tries {
				next := s
				next.cut.Plane = q
				if next = l.regrown(next, sides, step/2, step/4); next.sum > s.sum*pays {
					s, moved = next, true
					break
				}
			}
		}
	}
	return s
}

// between is the point of a cut on the line between its two stones.
func between(s grown) geometry.Vec3 {
	a, b := s.buds[0].at, s.buds[1].at
	up, down := s.cut.Height(b), s.cut.Height(a)
	if up-down < 1e-6 {
		return s.cut.Point
	}
	return a.Add(b.Sub(a).Scale(-down / (up - down)))
}

// keeping is what the stones beside a cut come to, mm3, where a side may keep a fit that
// lies on it.
func (l *layer) keeping(s grown, own []search.Fit) float64 {
	sum := 0.0
	for k, sign := range [2]float64{-1, 1} {
		side, most := s.cut.side(sign), s.buds[k].volume
		for _, f := range own {
			if least(f, side.normal)-side.from >= l.skin {
				most = max(most, f.Volume)
			}
		}
		sum += most
	}
	return sum
}

// grownApart returns arrangements in which the piece of fit i is cut in two with a
// freeform on either side; own are the fits that a side may keep.
func (l *layer) grownApart(a arrangement, i int, cuts []grown, own []search.Fit) (out []arrangement) {
	sides := halves(a.cuts, a.fits[i].Piece)
	fits := make([]search.Fit, 2*len(cuts))
	l.each(len(fits), func(k int) {
		s := cuts[k/2]
		fits[k] = l.freeform(s.buds[k%2], sides, s.cut.side([2]float64{-1, 1}[k%2]), own)
	})
	for k, s := range cuts {
		if minus, plus := fits[2*k], fits[2*k+1]; minus.Carat > 0 && plus.Carat > 0 {
			out = append(out, a.cutInTwo(i, s.cut, plus, minus))
		}
	}
	return out
}

// freeform grows a bud on the exact shapes, on one side of a cut of a piece; a fit that
// lies on that side and is heavier is kept. Its weight is 0 when there is none.
func (l *layer) freeform(b bud, sides []half, side half, own []search.Fit) (best search.Fit) {
	for _, f := range own {
		if f.Carat > best.Carat && least(f, side.normal)-side.from >= l.skin {
			best = f
		}
	}
	if planner.Carat(b.volume, l.b.SG) < roughlyAs*best.Carat {
		return best
	}
	site, err := l.site(append(slices.Clone(sides), side))
	if err != nil {
		return best
	}
	c, pose := b.candidate()
	c, pose, ok := site.Freeform(l.ctx, l.set, c, pose, l.opt.TiltMaxDeg)
	if !ok || c.Solid.Outline.Length < l.opt.Least.Length {
		return best
	}
	f := search.Weigh(l.b.Stone, l.b.Rough, l.set, c, pose)
	if f.Carat <= best.Carat || f.Carat < l.opt.Least.Carat {
		return best
	}
	f.Clearance = unread
	return f
}
