package worthview

import (
	"cabwright/planner"
	"cabwright/planner/odds"
	"cabwright/planner/search"
	"cabwright/planner/worth"
	"cabwright/presets"
	"cabwright/ui/view"
)

// priced is how many fits are given a worth, the heaviest first: more than anyone
// reads down a list.
const priced = 60

// question is what the worths hang on.
type question struct {
	priced        view.PricedOf
	plans, planOf int
	folder        int
	bets          int // places with odds
}

// known is what was worked out, and what it is about.
type known struct {
	of      question
	stone   worth.Stone
	prices  worth.Prices
	remarks []string
	lot     []lotStone // of the stone's lot, itself among them; none: bought alone
}

// work is a question with all it takes to answer it beside the event loop.
type work struct {
	of      question
	what    view.Priced
	fits    []search.Fit
	bets    []odds.Place
	folder  view.Folder
	set     *presets.Set
	colours *colours
}

// workOf gathers what the worths hang on now.
func (v *View) workOf(s *view.State) work {
	what, of := s.Priced()
	w := work{
		of: question{
			priced: of, plans: s.Plans(), planOf: s.PlanOf, folder: s.Folder.Number,
			bets: len(s.Bets.Answer.Places),
		},
		what: what, fits: s.Plan.Fits[:min(priced, len(s.Plan.Fits))], folder: s.Folder, set: s.Presets, colours: &v.colours,
	}
	if s.Bets.Of == s.Revision() {
		w.bets = s.Bets.Answer.Places
	}
	return w
}

// out answers.
func (w work) out() known {
	k := known{of: w.of, prices: w.what.Prices}
	stone, rough := w.what.Stone, w.what.Rough
	model := modelCt(stone, rough, w.set)
	mine, lot, remarks := w.lot(model)
	k.remarks = remarks
	w.colours.keep(w.of.priced)
	colour := func(f search.Fit) worth.Colour { return w.colours.under(w.what, f) }
	k.stone = worth.Weigh(stone, w.fits, colour, mine, model, w.what.Prices)
	if own := w.folder.Own; own != nil {
		k.stone.ByOwn(own.Band, colour, w.what.Prices)
	}
	for _, p := range w.bets {
		k.stone.Bets = append(k.stone.Bets, worth.BetOf(stone, p.Fit, p.Odds, p.IfNot, colour, w.what.Prices))
	}
	k.lot = lot
	return k
}

// modelCt is what a stone weighs as drawn, 0 while its solid is not made.
func modelCt(s planner.Stone, r *planner.Rough, set *presets.Set) float64 {
	if r == nil {
		return 0
	}
	return planner.Carat(r.Volume(), planner.GravityOf(s, set, r.Volume()).Likely)
}

// colours is what lies under the fits seen, while the stone stays as it is. Work
// beside the event loop alone touches it, and only one piece of it at a time.
type colours struct {
	of    view.PricedOf
	known map[body]worth.Colour
}

// keep forgets what was seen in another stone.
func (c *colours) keep(of view.PricedOf) {
	of.Typed = nil
	if c.known == nil || c.of != of {
		c.of, c.known = of, map[body]worth.Colour{}
	}
}

// under looks at the colour under a fit, once.
func (c *colours) under(what view.Priced, f search.Fit) worth.Colour {
	if view.Freeform(f.Candidate) { // freeforms of one length and width can differ
		return what.Colour(f)
	}
	key := bodyOf(f)
	seen, ok := c.known[key]
	if !ok {
		seen = what.Colour(f)
		c.known[key] = seen
	}
	return seen
}
