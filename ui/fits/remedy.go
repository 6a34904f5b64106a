package fits

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/ui/view"
)

// A change of one thing of the stone, by so many mm, that may make room.
type change struct {
	most  float64 // mm; 0 for a change that is made or not
	last  bool    // named after all others
	words func(mm float64) string
	stone func(mm float64) planner.Stone
}

// thickerMost is by how much thicker a stone is imagined at most, mm: more would be
// another stone.
const thickerMost = 3

// changes returns what could be changed, given what is in the way: the allowance of
// each kind of obstacle, the depth of a mark, a crack that could be sealed, the
// thickness of the stone.
func changes(stone planner.Stone, short []search.Shortfall) []change {
	b := changeList{stone: stone, allowances: map[string]bool{}}
	inWay := func(id string) bool {
		return slices.ContainsFunc(short, func(s search.Shortfall) bool { return s.ID == id })
	}
	for i, k := range stone.Cracks {
		if inWay(k.ID) {
			b.crack(i)
		}
	}
	for i, p := range stone.Pockets {
		if inWay(p.ID) {
			b.pocket(i)
		}
	}
	for i, k := range stone.Cracks {
		if inWay(k.ID) {
			b.gone(k.ID, func(s *planner.Stone) { s.Cracks = slices.Delete(slices.Clone(s.Cracks), i, i+1) })
		}
	}
	for i, p := range stone.Pockets {
		if inWay(p.ID) {
			b.gone(p.ID, func(s *planner.Stone) { s.Pockets = slices.Delete(slices.Clone(s.Pockets), i, i+1) })
		}
	}
	if inWay("skin") {
		b.allowance("skin", func(a *planner.Allowances) *float64 { return &a.Skin })
		b.add(change{
			most:  thickerMost,
			words: func(mm float64) string { return hundredths(mm) + " mm thicker" },
			stone: func(mm float64) planner.Stone { return thicker(stone, mm) },
		})
	}
	return b.changes
}

// changeList gathers the changes of one stone.
type changeList struct {
	stone      planner.Stone
	changes    []change
	allowances map[string]bool // those that are in it
}

func (b *changeList) add(c change) { b.changes = append(b.changes, c) }

// allowance offers a smaller allowance, once.
func (b *changeList) allowance(name string, of func(*planner.Allowances) *float64) {
	now := *of(&b.stone.Allowances)
	if now <= 0 || b.allowances[name] {
		return
	}
	b.allowances[name] = true
	b.add(change{
		most:  now,
		words: func(mm float64) string { return allowanceWords(name, now, mm) },
		stone: func(mm float64) planner.Stone {
			next := b.stone
			*of(&next.Allowances) -= mm
			return next
		},
	})
}

// gone is the stone without a mark: what shows that it alone is in the way.
func (b *changeList) gone(id string, take func(*planner.Stone)) {
	b.add(change{
		last:  true,
		words: func(float64) string { return "without " + planner.Visible(id) },
		stone: func(float64) planner.Stone {
			next := b.stone
			take(&next)
			return next
		},
	})
}

func (b *changeList) crack(i int) {
	k := b.stone.Cracks[i]
	with := func(edit func(*planner.Crack)) planner.Stone {
		next := b.stone
		next.Cracks = slices.Clone(b.stone.Cracks)
		edit(&next.Cracks[i])
		return next
	}
	if k.Sealed {
		b.allowance("sealed crack", func(a *planner.Allowances) *float64 { return &a.SealedCrack })
	} else {
		b.allowance("crack", func(a *planner.Allowances) *float64 { return &a.Crack })
		b.add(change{
			words: func(float64) string { return planner.Visible(k.ID) + " sealed" },
			stone: func(float64) planner.Stone { return with(func(c *planner.Crack) { c.Sealed = true }) },
		})
	}
	if !k.Through && k.Depth > 0 {
		b.add(change{most: k.Depth, words: lessDeep(k.ID), stone: func(mm float64) planner.Stone {
			return with(func(c *planner.Crack) { c.Depth -= mm })
		}})
	}
}

func (b *changeList) pocket(i int) {
	p := b.stone.Pockets[i]
	b.allowance("pocket", func(a *planner.Allowances) *float64 { return &a.Pocket })
	if (p.Face != planner.Top && p.Face != planner.Base) || p.Depth <= 0 {
		return
	}
	b.add(change{most: p.Depth, words: lessDeep(p.ID), stone: func(mm float64) planner.Stone {
		next := b.stone
		next.Pockets = slices.Clone(b.stone.Pockets)
		next.Pockets[i].Depth -= mm
		return next
	}})
}

func allowanceWords(name string, now, less float64) string {
	return fmt.Sprintf("%s allowance %s instead of %s", name, hundredths(now-less), hundredths(now))
}

func lessDeep(id string) func(float64) string {
	return func(mm float64) string { return fmt.Sprintf("%s %s mm less deep", planner.Visible(id), hundredths(mm)) }
}

// thicker raises the whole top.
func thicker(stone planner.Stone, mm float64) planner.Stone {
	next := stone
	next.Top = slices.Clone(stone.Top)
	for i := range next.Top {
		next.Top[i].Z += mm
	}
	return next
}

// trialsMost is how many amounts of one change are tried after one that is enough:
// clearances change nearly evenly, so that the least comes out to some hundredths.
const trialsMost = 5

// remedies tries the changes and returns those that make a candidate fit that lacks
// so many mm, near the pose that is best known, the smallest first. clearance is
// what the candidate has in a changed stone, which takes a while to be opened; ctx
// ends it.
func remedies(ctx context.Context, all []change, lacking float64, clearance func(planner.Stone) float64) []string {
	type found struct {
		hundredths int
		words      string
	}
	var out []found
	for _, c := range all {
		n, ok := least(ctx, c, lacking, clearance)
		if ctx.Err() != nil {
			return nil
		}
		if ok {
			words := c.words(float64(n) / 100)
			if c.last {
				n = math.MaxInt
			}
			out = append(out, found{n, words})
		}
	}
	slices.SortStableFunc(out, func(a, b found) int { return cmp.Compare(a.hundredths, b.hundredths) })
	words := make([]string, len(out))
	for i, f := range out {
		words[i] = f.words
	}
	return words
}

// least returns the least amount of a change that was tried and is enough, in
// hundredths of a mm; ok is false when none is.
func least(
	ctx context.Context,
	c change,
	lacking float64,
	clearance func(planner.Stone) float64,
) (amount int, ok bool) {
	at := func(n int) float64 { return clearance(c.stone(min(float64(n)/100, c.most))) }
	most := int(math.Floor(c.most*100 + 1e-6))
	low, lowHas := 0, -lacking
	high := min(most, int(math.Ceil(lacking*100-1e-6)))
	highHas := at(high)
	if highHas < 0 && high < most && ctx.Err() == nil {
		low, lowHas = high, highHas
		high = most
		highHas = at(high)
	}
	if highHas < 0 {
		return 0, false
	}
	for i := 0; i < trialsMost && high-low > 1 && ctx.Err() == nil; i++ {
		n := low + int(math.Ceil(float64(high-low)*lowHas/(lowHas-highHas)))
		if i%2 == 1 {
			n = (low + high) / 2 // in case they do not change evenly
		}
		n = max(low+1, min(high-1, n))
		if has := at(n); has >= 0 {
			high, highHas = n, has
		} else {
			low, lowHas = n, has
		}
	}
	return high, true
}

// clearanceIn returns a question: what clearance has a candidate in a stone, near a
// pose?
func clearanceIn(
	open func(planner.Stone) (view.Site, error),
	c search.Candidate,
	near search.Pose,
	tilt float64,
) func(planner.Stone) float64 {
	return func(stone planner.Stone) float64 {
		site, err := open(stone)
		if err != nil {
			return math.Inf(-1)
		}
		_, reading := site.Settle(c, near, tilt)
		return reading.Clearance
	}
}
