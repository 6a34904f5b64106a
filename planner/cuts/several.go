package cuts

import (
	"cmp"
	"context"
	"errors"
	"math"
	"runtime"
	"slices"

	"cabwright/geometry"
	"cabwright/planner/search"
	"cabwright/presets"
)

// Options steer the search for several stones.
type Options struct {
	Stones     int // at most; 0: as many as pay, up to MostStones
	Least      Least
	TiltMaxDeg float64
	Bench      Bench
	Trims      bool // saw off waste and marks round each stone as well
}

// MostStones is how many stones are looked for in one rough.
const MostStones = 8

// DefaultLeast is the smallest stone worth sawing for, where nothing else is
// said (from memory, not seen in print).
var DefaultLeast = Least{Carat: 0.4, Length: 6}

// onePays is by how much another stone has to add to the weight to be worth
// its cut, when as many are wanted as pay.
const onePays = 1.10

// layer lays several stones into one rough.
type layer struct {
	ctx   context.Context
	b     *Body
	set   *presets.Set
	opt   Options
	skin  float64
	room  *room
	whole *search.Site // without any cut
	pool  []entry      // of calibrated stones
	kinds []kind       // of stones
	grow  *grower
	slack float64      // what a solid has to keep by the tables beyond its allowances, mm, to be tried on the exact shapes
	kept  []search.Fit // the plan's heaviest, which may stay where they are
	slots chan struct{}

	freeforms bool // are wanted
}

// Several lays one, two and more stones into a rough, up to the number wanted,
// and returns the layouts, heaviest first. It starts from a finished plan.
// Every stone's clearance is certified on the exact shapes; that no heavier
// layout exists is never proved. emit, if not nil, gets what is found so far.
func Several(
	ctx context.Context, b *Body, set *presets.Set, plan search.Plan, opt Options, emit func([]Layout),
) ([]Layout, error) {
	most := opt.Stones
	if most == 0 {
		most = MostStones
	}
	if len(plan.Fits) == 0 {
		return nil, nil
	}
	l := &layer{
		ctx: ctx, b: b, set: set, opt: opt, skin: b.Stone.Allowances.Skin, kinds: kindsOf(plan, set),
		pool: pool(plan, set, b.SG, opt.Least), slots: make(chan struct{}, runtime.GOMAXPROCS(0)),
	}
	said := &answers{layer: l, emit: emit}
	l.kept, l.freeforms = heaviestFits(plan.Fits), slices.ContainsFunc(plan.Fits, isFreeform)
	best := arrangement{fits: []Placed{{Fit: l.kept[0]}}}
	if most == 1 {
		return said.layouts, said.add(best)
	}
	errs := make([]error, 2)
	geometry.SideBySide(2, func(i int) {
		if i == 0 {
			errs[i] = l.open()
		} else {
			errs[i] = said.add(best)
		}
	})
	if err := errors.Join(errs...); err != nil {
		return nil, err
	}
	l.slack = l.measureSlack(plan.Fits)
	beam := []arrangement{best}
	for n := 2; n <= most && ctx.Err() == nil; n++ {
		beam = l.oneMore(beam, said.soFar())
		if len(beam) == 0 || opt.Stones == 0 && beam[0].carat() < onePays*best.carat() {
			break
		}
		if beam[0].carat() > best.carat() {
			best = beam[0]
		}
		if err := said.add(beam...); err != nil {
			return nil, err
		}
	}
	return said.layouts, nil
}

// open makes ready what stones are moved about in and what they are certified on.
func (l *layer) open() (err error) {
	geometry.SideBySide(2, func(i int) {
		if i == 0 {
			l.room = l.b.measureRoom()
			l.grow = &grower{room: l.room, keep: l.skin}
		} else {
			l.whole, err = search.Open(l.b.Stone)
		}
	})
	return err
}

// answers is what has been found so far.
type answers struct {
	*layer
	emit    func([]Layout)
	layouts []Layout
}

// add works arrangements out and tells of them.
func (s *answers) add(some ...arrangement) error {
	layouts, errs := make([]Layout, len(some)), make([]error, len(some))
	s.each(len(some), func(i int) { layouts[i], errs[i] = s.finish(some[i]) })
	for i, err := range errs {
		if err != nil {
			return err
		}
		if len(layouts[i].Fits) > 0 {
			s.layouts = append(s.layouts, layouts[i])
		}
	}
	slices.SortStableFunc(s.layouts, func(a, b Layout) int { return cmp.Compare(b.Carat(), a.Carat()) })
	if s.emit != nil {
		s.emit(slices.Clone(s.layouts))
	}
	return nil
}

// soFar returns what tells of arrangements with one stone more while others are looked
// for: of the first, and of each that is heavier.
func (s *answers) soFar() func([]arrangement) {
	told := 0.0
	return func(some []arrangement) {
		if s.emit == nil || len(some) == 0 {
			return
		}
		a := slices.MaxFunc(some, func(a, b arrangement) int { return cmp.Compare(a.carat(), b.carat()) })
		if a.carat() <= told*pays {
			return
		}
		told = a.carat()
		if layout, err := s.finish(a); err == nil && len(layout.Fits) > 0 {
			s.emit(slices.SortedStableFunc(slices.Values(append(slices.Clone(s.layouts), layout)), func(a, b Layout) int {
				return cmp.Compare(b.Carat(), a.Carat())
			}))
		}
	}
}

// heaviestFits returns the three heaviest fits of a plan, however it is ranked, and the
// heaviest calibrated one.
func heaviestFits(fits []search.Fit) []search.Fit {
	fits = slices.Clone(fits)
	search.SortFits(fits, search.ByCarat)
	out := fits[:min(len(fits), 3)]
	for _, f := range fits[len(out):] {
		if slices.ContainsFunc(out, calibrated) {
			break
		}
		if calibrated(f) {
			out = append(out, f)
		}
	}
	return out
}

func calibrated(f search.Fit) bool { return !isFreeform(f) }
func isFreeform(f search.Fit) bool { return f.Solid.Outline.Shape == search.Freeform }

// each works side by side, on as many processors as there are.
func (l *layer) each(n int, work func(i int)) {
	geometry.SideBySide(n, func(i int) {
		l.slots <- struct{}{}
		defer func() { <-l.slots }()
		if l.ctx.Err() == nil {
			work(i)
		}
	})
}

// arrangement is stones on pieces, with the parting cuts that make them.
type arrangement struct {
	fits []Placed
	cuts []Cut
}

func (a arrangement) carat() float64 { return Layout{Fits: a.fits}.Carat() }

// calibrated tells whether no stone is a freeform.
func (a arrangement) calibrated() bool {
	return !slices.ContainsFunc(a.fits, func(f Placed) bool { return !calibrated(f.Fit) })
}

// cutInTwo is the arrangement with the piece of fit i cut in two and a stone on either
// side in its place.
func (a arrangement) cutInTwo(i int, c Cut, plus, minus search.Fit) arrangement {
	piece := a.fits[i].Piece
	more := arrangement{cuts: append(slices.Clone(a.cuts), c), fits: slices.Delete(slices.Clone(a.fits), i, i+1)}
	more.fits = append(more.fits, Placed{plus, piece + "+"}, Placed{minus, piece + "-"})
	slices.SortStableFunc(more.fits, func(a, b Placed) int { return cmp.Compare(b.Carat, a.Carat) })
	return more
}

func heaviestFirst(some []arrangement) {
	slices.SortStableFunc(some, func(a, b arrangement) int { return cmp.Compare(b.carat(), a.carat()) })
}

// beamWidth is how many different layouts of as many stones are kept, and beside them the
// heaviest of calibrated stones alone, which are easier to set and to sell.
const beamWidth = 2

// oneMore returns the best arrangements with one stone more than the given ones have: of
// each, every piece with a stone is cut in two; and where that adds little, all stones of
// the best calibrated ones are laid anew with another. soFar is told of what is found
// meanwhile.
func (l *layer) oneMore(from []arrangement, soFar func([]arrangement)) []arrangement {
	var out []arrangement
	for _, a := range from {
		for i := range a.fits {
			out = append(out, l.cutOnce(a, i, soFar)...)
		}
	}
	if plain := slices.IndexFunc(from, arrangement.calibrated); len(from[0].fits) > 1 && plain >= 0 {
		out = l.orTogether(from[plain], out)
	}
	heaviestFirst(out)
	out = l.withoutOpening(out)
	out = slices.CompactFunc(out, func(a, b arrangement) bool { return math.Abs(a.carat()-b.carat()) < 1e-6 })
	kept := slices.Clone(out[:min(len(out), beamWidth)])
	if plain := slices.IndexFunc(out, arrangement.calibrated); plain >= beamWidth {
		kept = append(kept, out[plain])
	}
	return kept
}

// cutOnce cuts the piece of fit i of an arrangement in two. On a piece of calibrated stones
// no freeform is wanted, and the other way round; on the whole rough both are.
func (l *layer) cutOnce(a arrangement, i int, soFar func([]arrangement)) (out []arrangement) {
	whole := a.fits[i].Piece == ""
	free := l.freeforms && (whole || !a.calibrated())
	sides := halves(a.cuts, a.fits[i].Piece)
	own := l.ownOf(a, i)
	found := func(some []arrangement) {
		soFar(some)
		out = append(out, some...)
	}
	starts := l.scan(a.fits[i].Piece, sides, own)
	if free {
		if whole && len(starts) > 0 {
			best := slices.MaxFunc(starts, func(s, t grown) int { return cmp.Compare(l.keeping(s, own), l.keeping(t, own)) })
			found(l.grownApart(a, i, []grown{best}, own))
		}
		moved := l.apart(starts, sides)
		found(l.grownApart(a, i, moved, own))
		starts = append(moved, starts...)
	}
	if whole || !free {
		found(l.parted(a, i, starts, slices.DeleteFunc(slices.Clone(own), isFreeform)))
	}
	return out
}

// withoutOpening leaves out arrangements with a parting cut into an open crack where one
// with none does nearly as well.
func (l *layer) withoutOpening(some []arrangement) []arrangement {
	opens := make([]bool, len(some))
	l.each(len(some), func(k int) {
		for _, c := range some[k].cuts {
			opens[k] = opens[k] || l.opens(c, halves(some[k].cuts, c.Piece))
		}
	})
	var out []arrangement
	for k, a := range some {
		matched := false
		for j, b := range some {
			matched = matched || !opens[j] && b.carat() >= nearlyParts*a.carat() && (b.calibrated() || !a.calibrated())
		}
		if !opens[k] || !matched {
			out = append(out, a)
		}
	}
	return out
}

// opens tells whether a cut on a piece runs into a crack that is not sealed.
func (l *layer) opens(c Cut, piece []half) bool {
	for i := range l.b.sheets {
		if s := &l.b.sheets[i]; !s.sealed && s.meets(c, piece) {
			return true
		}
	}
	return false
}

// nearlyParts is the share of the weight that stones have to have for their parting cuts to
// do nearly as well as others (our own convention).
const nearlyParts = 0.95

// ownOf returns the fits that a part of a stone's piece may keep: the stone itself, and on
// the whole rough the plan's heaviest.
func (l *layer) ownOf(a arrangement, i int) []search.Fit {
	if a.fits[i].Piece == "" {
		return l.kept
	}
	return []search.Fit{a.fits[i].Fit}
}

// orTogether adds the stones of a calibrated arrangement laid anew with one more, where
// cutting its pieces in two adds little.
func (l *layer) orTogether(a arrangement, found []arrangement) []arrangement {
	for _, f := range found {
		if f.calibrated() && f.carat() >= onePays*a.carat() {
			return found
		}
	}
	if more, ok := l.oneMoreTogether(a); ok {
		found = append(found, more)
	}
	return found
}

// finish adds what else is sawn, puts the cuts in order and describes them.
func (l *layer) finish(a arrangement) (Layout, error) {
	cuts, fits := slices.Clone(a.cuts), slices.Clone(a.fits)
	if l.opt.Trims {
		cuts, fits = l.b.withTrims(cuts, fits, l.opt.Bench)
	}
	cuts = l.b.snapped(cuts, fits, l.opt.Bench.AsSawn)
	for i, f := range fits {
		fits[i].Fit = l.counting(f.Fit, halves(cuts, f.Piece))
	}
	return l.b.Describe(fits, cuts)
}
