package fits

import (
	"context"
	"fmt"
	"slices"

	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/ui/view"
)

// A change of one thing of the stone, by so many mm, that may make room.
type change struct {
	most  float64 // mm; 0 for a change that is made or not
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
	if inWay("skin") {
		b.allowance("skin", func(a *planner.Allowances) *float64 { return &a.Skin })
		b.add(change{
			most:  thickerMost,
			words: func(mm float64) string { return fmt.Sprintf("%.2f mm thicker", mm) },
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
	return func(mm float64) string { return fmt.Sprintf("%s %.2f mm less deep", planner.Visible(id), mm) }
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

// bisections narrow a change of some mm down to about a hundredth.
const bisections = 8

// remedies tries the changes and returns those that make a candidate fit, near the
// pose that is best known, the smallest first. It opens a changed stone some dozens
// of times; ctx ends it.
func remedies(ctx context.Context, all []change, fits func(planner.Stone) bool) []string {
	type found struct {
		mm    float64
		words string
	}
	var out []found
	for _, c := range all {
		if ctx.Err() != nil {
			return nil
		}
		if !fits(c.stone(c.most)) {
			continue
		}
		low, high := 0.0, c.most
		for i := 0; i < bisections && high-low > 0.005 && ctx.Err() == nil; i++ {
			if mid := (low + high) / 2; fits(c.stone(mid)) {
				high = mid
			} else {
				low = mid
			}
		}
		// What is shown is what was tried.
		if mm := up2(high); mm < c.most && fits(c.stone(mm)) {
			high = mm
		}
		out = append(out, found{high, c.words(high)})
	}
	slices.SortStableFunc(out, func(a, b found) int {
		switch {
		case a.mm < b.mm:
			return -1
		case a.mm > b.mm:
			return 1
		}
		return 0
	})
	words := make([]string, len(out))
	for i, f := range out {
		words[i] = f.words
	}
	return words
}

// fitsIn returns a question: does a candidate fit in a stone, near a pose?
func fitsIn(open func(planner.Stone) (view.Site, error), c search.Candidate, near search.Pose, tilt float64) func(planner.Stone) bool {
	return func(stone planner.Stone) bool {
		site, err := open(stone)
		if err != nil {
			return false
		}
		_, reading := site.Settle(c, near, tilt)
		return reading.Clearance >= 0
	}
}
