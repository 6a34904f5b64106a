package worthview

import (
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"cabwright/planner"
	"cabwright/planner/money"
	"cabwright/planner/search"
	"cabwright/planner/worth"
	"cabwright/ui/view"
)

// View is the view of cost and worth; New makes one.
type View struct {
	typed   *worth.Span // a price a finished carat for now; nil: the presets' prices
	byWorth bool        // the list is sorted by worth, not by carats
	extra   money.Amount
	margin  money.Amount // percent
	first   int          // the first line of the list that is shown
	shown   known
	colours map[body]worth.Colour // of the fits seen, while the stone stays as it is
}

// known is what was worked out last and what it was worked out from.
type known struct {
	revision, planOf, fits int
	first                  body
	typed                  *worth.Span
	byWorth, rough         bool
	stone                  worth.Stone
	prices                 worth.Prices
	remarks                []string
}

// body tells one placed solid from another.
type body struct {
	shape                           string
	length, width, wall, dome, back float64
	sides                           int
	face                            planner.Face
	pose                            search.Pose
}

func bodyOf(f search.Fit) body {
	o := f.Solid.Outline
	return body{length: o.Length, width: o.Width, wall: f.Solid.Wall, dome: f.Solid.Dome, back: f.Solid.BackDepth(),
		sides: f.Solid.Sides, face: f.Face, pose: f.Pose, shape: o.Shape}
}

// New returns the view.
func New() *View { return &View{colours: map[body]worth.Colour{}} }

// Name stands on the title line.
func (v *View) Name() string { return "Worth" }

// Update has nothing to wait for.
func (v *View) Update(*view.State, tea.Msg) tea.Cmd { return nil }

// Mouse moves the choice with the wheel.
func (v *View) Mouse(s *view.State, m view.Mouse) tea.Cmd {
	switch m.Kind {
	case view.WheelUp:
		v.move(s, -1)
	case view.WheelDown:
		v.move(s, 1)
	case view.Press:
		if row := m.Row - listHead; row >= 0 {
			v.choose(s, v.first+row)
		}
	}
	return nil
}

// priced is how many fits are given a worth, the heaviest first: more than anyone
// reads down a list.
const priced = 60

// stone returns the stone with what it is worth, worked out anew when something it
// hangs on has changed.
func (v *View) stone(s *view.State) *known {
	now := known{revision: s.Revision(), planOf: s.PlanOf, fits: len(s.Plan.Fits), typed: v.typed, byWorth: v.byWorth,
		rough: s.Rough != nil && s.RoughOf == s.Revision()}
	if len(s.Plan.Fits) > 0 {
		now.first = bodyOf(s.Plan.Fits[0])
	}
	k := &v.shown
	if k.revision == now.revision && k.planOf == now.planOf && k.fits == now.fits && k.first == now.first &&
		k.typed == now.typed && k.byWorth == now.byWorth && k.rough == now.rough &&
		k.prices.Currency.Code != "" {
		return k
	}
	if k.revision != now.revision || k.rough != now.rough {
		clear(v.colours)
	}
	v.weigh(s, &now)
	v.shown = now
	return &v.shown
}

func (v *View) weigh(s *view.State, k *known) {
	stone := s.Stone()
	currency := worth.CurrencyFor(stone, s.Presets)
	k.prices = worth.PricesIn(s.Presets, currency)
	if v.typed != nil {
		rough := k.prices.Rough
		k.prices = worth.OnePrice(*v.typed, currency)
		k.prices.Rough = rough
	}
	var rough *planner.Rough
	model := 0.0
	if k.rough {
		rough = s.Rough
		model = planner.Carat(rough.Volume(), planner.UsualGravity(stone, s.Presets))
	}
	costs, remarks := worth.Costs([]worth.Purchase{worth.PurchaseOf(stone, model)})
	k.remarks = remarks
	fits := s.Plan.Fits[:min(priced, len(s.Plan.Fits))]
	k.stone = worth.Weigh(
		stone,
		fits,
		func(f search.Fit) worth.Colour { return v.colour(stone, rough, f) },
		costs[0],
		model,
		k.prices,
	)
	if v.byWorth {
		k.stone.Sort()
	}
}

// colour looks at the colour under a fit, once.
func (v *View) colour(stone planner.Stone, rough *planner.Rough, f search.Fit) worth.Colour {
	key := bodyOf(f)
	if c, known := v.colours[key]; known && f.Solid.Outline.Shape != freeform {
		return c
	}
	c := worth.ColourUnder(stone, rough, f)
	v.colours[key] = c
	return c
}

// freeform outlines of one length and width can differ.
const freeform = "freeform"

// at is the index of the chosen fit in the list, -1 when none of it is chosen.
func (v *View) at(s *view.State) int {
	if s.Chosen == nil {
		return -1
	}
	chosen := bodyOf(*s.Chosen)
	return slices.IndexFunc(v.stone(s).stone.Fits, func(f worth.Fit) bool { return bodyOf(f.Fit) == chosen })
}

func (v *View) move(s *view.State, by int) { v.choose(s, max(0, v.at(s)+by)) }

func (v *View) choose(s *view.State, i int) {
	if fits := v.stone(s).stone.Fits; i >= 0 && i < len(fits) {
		s.Choose(fits[i].Fit)
	}
}
