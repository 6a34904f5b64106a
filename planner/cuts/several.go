package cuts

import (
	"cmp"
	"context"
	"math"
	"runtime"
	"slices"

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
	pool  []entry
	slots chan struct{}
}

// arrangement is stones on pieces, with the parting cuts that make them.
type arrangement struct {
	fits []Placed
	cuts []Cut
}

func (a arrangement) carat() float64 { return Layout{Fits: a.fits}.Carat() }

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
		ctx: ctx, b: b, set: set, opt: opt, skin: b.Stone.Allowances.Skin,
		pool: pool(plan, set, b.SG, opt.Least), slots: make(chan struct{}, runtime.GOMAXPROCS(0)),
	}
	var layouts []Layout
	add := func(a arrangement) error {
		layout, err := l.finish(a)
		if err != nil {
			return err
		}
		layouts = append(layouts, layout)
		slices.SortStableFunc(layouts, func(a, b Layout) int { return cmp.Compare(b.Carat(), a.Carat()) })
		if emit != nil {
			emit(slices.Clone(layouts))
		}
		return nil
	}
	kept := heaviestFits(plan.Fits)
	best := arrangement{fits: []Placed{{Fit: kept[0]}}}
	if err := add(best); err != nil {
		return nil, err
	}
	if most > 1 && len(l.pool) > 0 {
		l.room = b.measureRoom()
	}
	beam := []arrangement{best}
	for n := 2; n <= most && len(l.pool) > 0 && ctx.Err() == nil; n++ {
		beam = l.oneMore(beam, kept)
		if len(beam) == 0 || opt.Stones == 0 && beam[0].carat() < onePays*best.carat() {
			break
		}
		if beam[0].carat() > best.carat() {
			best = beam[0]
		}
		for _, a := range beam {
			if err := add(a); err != nil {
				return nil, err
			}
		}
	}
	return layouts, nil
}

// heaviestFits returns the three heaviest fits of a plan, however it is ranked.
func heaviestFits(fits []search.Fit) []search.Fit {
	fits = slices.Clone(fits)
	search.SortFits(fits, search.ByCarat)
	return fits[:min(len(fits), 3)]
}

// beamWidth is how many different layouts of as many stones are kept.
const beamWidth = 2

// oneMore returns the best arrangements with one stone more than the given ones have:
// of each, every piece with a stone is cut in two; and where that adds little, all
// stones of the best are laid anew with another.
func (l *layer) oneMore(from []arrangement, kept []search.Fit) []arrangement {
	out := l.oneMoreParted(from, kept)
	if len(out) == 0 || out[0].carat() < onePays*from[0].carat() {
		if a, ok := l.oneMoreTogether(from[0]); ok && (len(out) == 0 || a.carat() > out[0].carat()) {
			out = slices.Insert(out, 0, a)
		}
	}
	return out
}

// oneMoreParted cuts every piece with a stone in two.
func (l *layer) oneMoreParted(from []arrangement, kept []search.Fit) []arrangement {
	var out []arrangement
	for _, a := range from {
		for i, f := range a.fits {
			own := []search.Fit{f.Fit}
			if f.Piece == "" {
				own = kept
			}
			out = append(out, l.parted(a, i, own)...)
		}
	}
	slices.SortStableFunc(out, func(a, b arrangement) int { return cmp.Compare(b.carat(), a.carat()) })
	out = slices.CompactFunc(out, func(a, b arrangement) bool { return math.Abs(a.carat()-b.carat()) < 1e-6 })
	return out[:min(len(out), beamWidth)]
}

// parted returns arrangements in which the piece of fit i is cut in two, each part
// with a fit that is certified; own are the fits that a part may keep.
func (l *layer) parted(a arrangement, i int, own []search.Fit) (out []arrangement) {
	piece := a.fits[i].Piece
	sides := halves(a.cuts, piece)
	for _, s := range l.splits(piece, sides, own) {
		if len(out) == beamWidth || l.ctx.Err() != nil {
			break
		}
		plus, ok := l.certify(s.plus, append(slices.Clone(sides), s.cut.side(1)))
		if !ok {
			continue
		}
		minus, ok := l.certify(s.minus, append(slices.Clone(sides), s.cut.side(-1)))
		if !ok {
			continue
		}
		more := arrangement{cuts: append(slices.Clone(a.cuts), s.cut), fits: slices.Delete(slices.Clone(a.fits), i, i+1)}
		more.fits = append(more.fits, Placed{plus, piece + "+"}, Placed{minus, piece + "-"})
		slices.SortStableFunc(more.fits, func(a, b Placed) int { return cmp.Compare(b.Carat, a.Carat) })
		out = append(out, more)
	}
	return out
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
