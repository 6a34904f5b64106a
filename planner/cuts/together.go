package cuts

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

	"cabwright/geometry"
)

// How stones are laid all at once. The numbers are those with which equal circles up
// to seven come within 2% of the largest that straight cuts can part.
const (
	gapDirections  = 48   // in which two groups of stones are held apart: 7.5 degrees
	togetherStarts = 16   // from other trees of cuts and other places
	startsAbreast  = 4    // of them at a time, of which the first that succeeds is taken
	stepsEach      = 1800 // random steps for each stone
	lastStep       = 0.01 // mm, of the last step; the first is a quarter of the rough
)

// together lays some solids into the whole rough at the same time, each on a piece of
// its own: what is found by cutting a piece in two again and again depends on the
// first cut, which the stones that follow would have elsewhere. The tree of the cuts
// is drawn by lot; a cut is held as far from the stones on both sides as it goes, in
// whatever direction that is, so that only the stones are moved. Nothing is certified
// yet; false when no start ends with every allowance kept.
func (l *layer) together(some []*entry) (arrangement, bool) {
	places := l.b.spots(nil)
	if len(places) < len(some) {
		return arrangement{}, false
	}
	for start := 0; start < togetherStarts && l.ctx.Err() == nil; start += startsAbreast {
		found := make([]*seating, startsAbreast)
		geometry.SideBySide(startsAbreast, func(i int) {
			l.slots <- struct{}{}
			defer func() { <-l.slots }()
			s := l.seat(some, places, rand.New(rand.NewPCG(uint64(len(some)), uint64(start+i))))
			if s.settle() {
				found[i] = s
			}
		})
		for _, s := range found {
			if s == nil {
				continue
			}
			if a, ok := s.arranged(l); ok {
				return a, true
			}
		}
	}
	return arrangement{}, false
}

// seating is stones being moved about together, and the tree of the cuts that part
// them.
type seating struct {
	seats []seat
	root  *fork
	need  float64 // between the stones on both sides of a cut: kerf and skin twice
	step  float64 // mm, the first
	rng   *rand.Rand
}

// seat is one stone where it lies now.
type seat struct {
	*mover
	entry *entry
	at    spot
	value float64                // what it keeps beyond its allowances, below 0 only
	far   [gapDirections]float64 // the largest n . p of its points
}

// fork is a cut: the stones on either side, by their place, and the forks of those.
type fork struct {
	sides [2][]int
	below [2]*fork
}

// seat draws a tree and places for some solids by lot.
func (l *layer) seat(some []*entry, places []geometry.Vec3, rng *rand.Rand) *seating {
	lo, hi := geometry.Bounds(l.b.Rough.Outline)
	s := &seating{
		need: l.opt.Bench.Saw.Kerf + 2*l.skin, step: hi.Sub(lo).Norm() / 4, rng: rng,
		seats: make([]seat, len(some)),
	}
	for i, e := range some {
		s.seats[i] = seat{mover: l.newMover(nil, e.Candidate, e.frame), entry: e}
	}
	s.root = s.grow(rng.Perm(len(some)), slices.Clone(places))
	return s
}

// grow halves some stones and the places for them again and again, each time along a
// line of any direction, and lays each stone at a place that is left for it.
func (s *seating) grow(who []int, places []geometry.Vec3) *fork {
	if len(who) == 1 {
		c := &s.seats[who[0]]
		turn := c.entry.Solid.Outline.TurnPeriod() * s.rng.Float64()
		c.put(spot{at: places[s.rng.IntN(len(places))], turn: turn})
		return nil
	}
	sin, cos := math.Sincos(2 * math.Pi * s.rng.Float64())
	slices.SortFunc(places, func(a, b geometry.Vec3) int {
		return cmp.Compare(a.X*cos+a.Y*sin, b.X*cos+b.Y*sin)
	})
	k := 1 + s.rng.IntN(len(who)-1)
	at := max(k, min(len(places)-len(who)+k, len(places)*k/len(who)))
	f := &fork{sides: [2][]int{who[:k], who[k:]}}
	f.below[0], f.below[1] = s.grow(who[:k], places[:at]), s.grow(who[k:], places[at:])
	return f
}

// put lays a stone at a spot.
func (c *seat) put(at spot) {
	c.at = at
	c.value = math.Min(0, c.mover.value(at, math.Inf(-1))-c.mover.slack)
	axes := geometry.RotZ(at.turn).Mul(c.frame)
	for k := range c.far {
		c.far[k] = -c.least(at, axes, gapNormal(k).Scale(-1))
	}
}

func gapNormal(k int) geometry.Vec3 {
	sin, cos := math.Sincos(2 * math.Pi * float64(k) / gapDirections)
	return geometry.Vec3{X: cos, Y: sin}
}

// gap returns how far the stones on both sides of a fork stand apart, in the direction
// in which that is most.
func (s *seating) gap(f *fork) (most float64, direction int) {
	most = math.Inf(-1)
	for k := range gapDirections {
		from, to := math.Inf(-1), math.Inf(-1)
		for _, i := range f.sides[0] {
			from = math.Max(from, s.seats[i].far[k])
		}
		for _, i := range f.sides[1] {
			to = math.Max(to, s.seats[i].far[(k+gapDirections/2)%gapDirections])
		}
		if d := -to - from; d > most {
			most, direction = d, k
		}
	}
	return most, direction
}

// lack is the sum of what all cuts lack.
func (s *seating) lack(f *fork) float64 {
	if f == nil {
		return 0
	}
	gap, _ := s.gap(f)
	return math.Min(0, gap-s.need) + s.lack(f.below[0]) + s.lack(f.below[1])
}

// settle moves one stone after the other by random steps, from broad to fine, and keeps
// those that make less be lacking, or more by a tenth of the step or so, as stones get
// past each other that way (Metropolis et al. 1953); it reports whether nothing is
// lacking any more.
func (s *seating) settle() bool {
	lacking := func() float64 {
		sum := s.lack(s.root)
		for i := range s.seats {
			sum += s.seats[i].value
		}
		return sum
	}
	now := lacking()
	steps := stepsEach * len(s.seats)
	for n := 0; n < steps && now < 0; n++ {
		c := &s.seats[s.rng.IntN(len(s.seats))]
		before := *c
		size := s.step * math.Pow(lastStep/s.step, float64(n)/float64(steps))
		next := c.at
		next.at.X += size * s.rng.NormFloat64()
		next.at.Y += size * s.rng.NormFloat64()
		next.at.Z += size / 4 * s.rng.NormFloat64()
		next.turn += size / math.Max(1, c.entry.Solid.Outline.Length/2) * s.rng.NormFloat64()
		c.put(next)
		if v := lacking(); v >= now-0.1*size*s.rng.ExpFloat64() {
			now = v
		} else {
			*c = before
		}
	}
	return now >= 0
}

// arranged makes the cuts and certifies each stone on its piece.
func (s *seating) arranged(l *layer) (arrangement, bool) {
	var out arrangement
	pieces := make([]string, len(s.seats))
	middle := (low(l.b) + high(l.b)) / 2
	var walk func(f *fork, piece string)
	walk = func(f *fork, piece string) {
		if f == nil {
			return
		}
		_, k := s.gap(f)
		n := gapNormal(k)
		from, to := math.Inf(-1), math.Inf(-1)
		for _, i := range f.sides[0] {
			from, pieces[i] = math.Max(from, s.seats[i].far[k]), piece+"-"
		}
		for _, i := range f.sides[1] {
			to, pieces[i] = math.Max(to, s.seats[i].far[(k+gapDirections/2)%gapDirections]), piece+"+"
		}
		out.cuts = append(out.cuts, l.cutAt(piece, n, (from-to)/2, middle))
		walk(f.below[0], piece+"-")
		walk(f.below[1], piece+"+")
	}
	walk(s.root, "")
	for i := range s.seats {
		c := &s.seats[i]
		fit := l.certify(laid{entry: c.entry, at: c.at, pose: c.pose(c.at)}, halves(out.cuts, pieces[i]))
		if fit.Carat == 0 {
			return arrangement{}, false
		}
		out.fits = append(out.fits, Placed{fit, pieces[i]})
	}
	slices.SortStableFunc(out.fits, func(a, b Placed) int { return cmp.Compare(b.Carat, a.Carat) })
	return out, true
}

// oneMoreTogether lays the stones of an arrangement and one more all at once, the
// heaviest with which that is found by halving the list; false when none is.
func (l *layer) oneMoreTogether(a arrangement) (best arrangement, found bool) {
	some := make([]*entry, len(a.fits), len(a.fits)+1)
	for i, f := range a.fits {
		some[i] = &entry{Candidate: f.Candidate, carat: f.Carat, frame: f.Pose.Axes}
	}
	const halvings = 3
	heavy, light := 0, len(l.pool)-1
	for range halvings {
		if heavy > light {
			break
		}
		k := light
		if found {
			k = (heavy + light) / 2
		}
		if more, ok := l.together(append(some, &l.pool[k])); ok {
			best, found, light = more, true, k-1
		} else if heavy = k + 1; !found {
			break
		}
	}
	return best, found
}
