package planjson

import (
	"io"
	"math"

	"cabwright/planner"
	"cabwright/planner/odds"
	"cabwright/planner/search"
)

type bets struct {
	Unsure    []unsure   `json:"unsure"`
	Places    []place    `json:"places"`
	BestSure  *measured  `json:"best_sure_carat"` // null: none is sure
	LookFirst []look     `json:"look_first"`
	Costs     []markCost `json:"costs"`
}

type unsure struct {
	ID     text      `json:"id"`
	What   text      `json:"what"`
	Least  *measured `json:"least"` // these three are null when only whether it is there is unsure
	Likely *measured `json:"likely"`
	Most   *measured `json:"most"`
	Chance exact     `json:"chance"`
}

// laid is a solid at a pose, as a fit has it, with its weight.
type laid struct {
	Rank       int      `json:"rank"`
	Shape      text     `json:"shape"`
	Length     exact    `json:"length_mm"`
	Width      exact    `json:"width_mm"`
	Wall       exact    `json:"wall_mm"`
	WallLean   exact    `json:"wall_lean_deg"`
	Dome       exact    `json:"dome_mm"`
	Back       exact    `json:"back_mm"`
	Sides      int      `json:"sides"`
	DomeStyle  text     `json:"dome_style"`
	Face       text     `json:"face"`
	Outline    []vec2   `json:"outline_mm,omitempty"` // freeform only
	Origin     vec3     `json:"origin_mm"`
	LengthAxis vec3     `json:"length_axis"`
	WidthAxis  vec3     `json:"width_axis"`
	DomeAxis   vec3     `json:"dome_axis"`
	Carat      measured `json:"carat"`
}

type place struct {
	laid
	Limits    []limit  `json:"limits"`
	Odds      measured `json:"odds"`
	Linked    measured `json:"odds_linked"`
	IfNot     *fit     `json:"if_not"`
	Expected  measured `json:"expected_carat"`
	PaysAbove measured `json:"pays_above"`
}

type limit struct {
	ID     text      `json:"id"`
	What   text      `json:"what"`
	UpTo   *measured `json:"up_to_mm"`
	Factor measured  `json:"factor"`
}

type look struct {
	ID     text      `json:"id"`
	Gain   measured  `json:"gain_carat"`
	To     *measured `json:"look_to_mm"` // null: nothing decides, or there is no length to it
	IfLess *laid     `json:"if_less"`
	IfMore *laid     `json:"if_more"`
}

type markCost struct {
	ID      text     `json:"id"`
	AtLeast measured `json:"carat_at_least"`
}

// Odds returns the member that says what a plan is worth as a bet.
func Odds(a odds.Answer) Member { return Member{name: "odds", object: betsOf(a)} }

// WriteOdds writes the stone and what its plan is worth as a bet as one JSON object.
func WriteOdds(w io.Writer, s planner.Stone, rough Rough, a odds.Answer) error {
	b := &builder{}
	b.raw("{\n  \"format\": \"cabwright-odds\", \"version\": 1,\n  \"stone\": ")
	b.value(head(s, rough))
	b.member(Odds(a))
	b.raw("\n}\n")
	if b.err != nil {
		return b.err
	}
	_, err := w.Write(b.Bytes())
	return err
}

func betsOf(a odds.Answer) bets {
	out := bets{Unsure: []unsure{}, Places: []place{}, LookFirst: []look{}, Costs: []markCost{}}
	for _, u := range a.Unsure {
		n := unsure{ID: text(u.ID), What: text(u.What), Chance: exact(u.Chance)}
		if u.What != odds.There {
			n.Least, n.Likely, n.Most = number(u.Range.Least), number(u.Range.Likely), number(u.Range.Most)
		}
		out.Unsure = append(out.Unsure, n)
	}
	if a.BestSure > 0 {
		out.BestSure = number(a.BestSure)
	}
	for i, p := range a.Places {
		out.Places = append(out.Places, placeOf(i+1, p))
	}
	for _, l := range a.LookFirst {
		out.LookFirst = append(out.LookFirst, look{
			ID: text(l.ID), Gain: measured(l.Gain), To: number(l.To),
			IfLess: ranked(a.Places, l.IfLess), IfMore: ranked(a.Places, l.IfMore),
		})
	}
	for _, c := range a.Costs {
		out.Costs = append(out.Costs, markCost{text(c.ID), measured(math.Floor(c.AtLeast*1e4) / 1e4)})
	}
	return out
}

func placeOf(rank int, p odds.Place) place {
	out := place{
		laid: laidOf(rank, p.Fit), Limits: []limit{}, Odds: measured(p.Odds), Linked: measured(p.Linked),
		Expected: measured(p.Expected), PaysAbove: measured(p.PaysAbove),
	}
	for _, l := range p.Limits {
		n := limit{ID: text(l.ID), What: text(l.What), Factor: measured(l.Factor)}
		if !l.Always {
			n.UpTo = number(l.UpTo)
		}
		out.Limits = append(out.Limits, n)
	}
	if p.IfNot != nil {
		f := fitOf(1, *p.IfNot)
		out.IfNot = &f
	}
	return out
}

func laidOf(rank int, f search.Fit) laid {
	n := fitOf(rank, f)
	return laid{
		n.Rank, n.Shape, n.Length, n.Width, n.Wall, n.WallLean, n.Dome, n.Back, n.Sides, n.DomeStyle, n.Face, n.Outline,
		n.Origin, n.LengthAxis, n.WidthAxis, n.DomeAxis, n.Carat,
	}
}

// ranked finds a place in the list it points into.
func ranked(places []odds.Place, p *odds.Place) *laid {
	for i := range places {
		if &places[i] == p {
			l := laidOf(i+1, p.Fit)
			return &l
		}
	}
	return nil
}

// number is a measured number, or null for none.
func number(x float64) *measured {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	m := measured(x)
	return &m
}
