package odds

import (
	"cmp"
	"slices"

	"cabwright/planner/search"
)

// Place is one solid at one pose, seen as a bet: it succeeds when every unsure
// mark turns out to keep its allowance, else what is left is cut.
type Place struct {
	search.Fit
	Limits []Limit // one for each thing that is not sure, in the stone's order
	Odds   float64 // the product of the limits' factors: all marks independent
	Linked float64 // the least of them: all marks deep or shallow together
	// IfNot is the heaviest stone found that keeps all allowances with every mark at
	// its most, within this one's outline in plan; nil: none, or the place is sure.
	IfNot    *search.Fit
	Expected float64 // carats on average
	// PaysAbove is the odds from which the place is worth more on average than the
	// heaviest sure stone; 0: there is nothing to lose.
	PaysAbove float64
	// Planned is the same solid where the plan lays it; nil: the plan has none.
	Planned *Planned
}

// Planned is where the plan lays a solid, and its odds there.
type Planned struct {
	Pose search.Pose
	Odds float64
}

// Sure reports whether nothing that a mark can turn out to be spoils the place.
func (p Place) Sure() bool { return p.Odds == 1 }

// settle fills in the odds from the limits.
func (p *Place) settle() {
	p.Odds, p.Linked = 1, 1
	for _, l := range p.Limits {
		p.Odds *= l.Factor
		p.Linked = min(p.Linked, l.Factor)
	}
}

// left returns the carats of what is left if the place fails.
func (p Place) left() float64 {
	if p.IfNot == nil {
		return 0
	}
	return p.IfNot.Carat
}

// expect fills in what follows from the odds, given the heaviest sure stone.
func (p *Place) expect(bestSure float64) {
	p.Expected = Expected(p.Odds, p.Carat, p.left())
	p.PaysAbove = PaysAbove(p.Carat, p.left(), bestSure)
}

// Expected returns the average of what a bet brings.
func Expected(odds, success, failure float64) float64 { return odds*success + (1-odds)*failure }

// PaysAbove returns the odds from which a bet brings more on average than what is
// sure: 0 when even a failure does, more than 1 when not even success does.
func PaysAbove(success, failure, sure float64) float64 {
	if success <= failure {
		if sure <= failure {
			return 0
		}
		return 1
	}
	return max(0, (sure-failure)/(success-failure))
}

// BestSure returns the carats of the heaviest place that is sure, 0 for none.
func BestSure(places []Place) float64 {
	best := 0.0
	for _, p := range places {
		if p.Sure() {
			best = max(best, p.Carat)
		}
	}
	return best
}

// ByExpected orders places by what they bring on average, the surer first among
// equals.
func ByExpected(places []Place) {
	slices.SortStableFunc(places, func(a, b Place) int {
		return cmp.Or(cmp.Compare(b.Expected, a.Expected), cmp.Compare(b.Odds, a.Odds), cmp.Compare(b.Carat, a.Carat))
	})
}
