package odds

import (
	"cmp"
	"math"
	"slices"
)

// Look says what knowing one mark before the first cut is worth.
type Look struct {
	ID   string
	What What
	// Gain is by how many carats more the best choice is worth on average, never below 0.
	Gain float64
	// To is the deepest limit that decides, mm: who looks that far and finds the mark
	// still there knows all that matters. NaN where nothing decides, or the answer is
	// no length.
	To float64
	// IfLess and IfMore are what to cut when the mark ends before To, or is not there,
	// and when it goes on; nil: nothing of what was looked at.
	IfLess, IfMore *Place
	// Rule is the whole of it: what to cut up to which value. Where two numbers of the mark
	// are not sure there is none, and Between is what they decide between, heaviest first.
	Rule    []Choice
	Between []*Place

	gainTo func(depth float64) float64
}

// GainTo returns what looking to a depth only is worth, in carats: a mark that
// ends before it is known, of any other that it goes on.
func (l Look) GainTo(depth float64) float64 { return l.gainTo(depth) }

// Choice is one line of a rule: up to a value, mm, this place. UpTo is NaN where the
// mark is not there and the worst there is on the last line.
type Choice struct {
	UpTo  float64
	Place *Place
}

// looks weighs knowing each mark on its own, dearest first. The steps and places
// point into the list given.
func looks(places []Place, qs []question) []Look {
	var out []Look
	for k := 0; k < len(qs); {
		n := 1
		for k+n < len(qs) && qs[k+n].ID == qs[k].ID {
			n++
		}
		out = append(out, look(places, qs, k, k+n))
		k += n
	}
	slices.SortStableFunc(out, func(a, b Look) int { return cmp.Compare(b.Gain, a.Gain) })
	return out
}

// look weighs knowing the questions from k to end, which are of one mark.
func look(places []Place, qs []question, k, end int) Look {
	l := Look{ID: qs[k].ID, What: qs[k].What, To: math.NaN(), gainTo: func(float64) float64 { return 0 }}
	if len(places) == 0 {
		return l
	}
	combined := []cell{{chance: 1, pass: full(len(places)), here: true}}
	for j := k; j < end; j++ {
		combined = product(combined, qs[j].cells(places, j))
	}
	worth := func(cells []cell) []Outcome { return outcomes(places, cells, k, end) }
	l.Gain = Knowing(worth(combined))
	if end > k+1 || qs[k].What == There {
		l.halves(places, worth(combined), func(i int) bool { return !combined[i].here })
		if qs[k].What != There {
			l.between(places, worth(combined))
		}
		return l
	}
	q := qs[k]
	l.gainTo = func(depth float64) float64 {
		cells := q.cells(places, k, depth)
		return Knowing(Posterior(worth(cells), q.window(cells, depth)))
	}
	for _, c := range combined {
		if c.here && l.gainTo(c.end) >= l.Gain-1e-9 &&
			(math.IsNaN(l.To) || q.further(reach{upTo: c.end}, reach{upTo: l.To}) < 0) {
			l.To = c.end
		}
	}
	if l.Gain <= 1e-9 {
		l.Gain, l.To = 0, math.NaN()
	}
	l.halves(places, worth(combined), func(i int) bool { return !q.beyond(combined[i], l.To) })
	if len(q.slices) == 1 {
		l.rule(places, combined, worth(combined))
	} else {
		l.between(places, worth(combined))
	}
	return l
}

// product returns every cell of one with every cell of another.
func product(a, b []cell) []cell {
	var out []cell
	for _, x := range a {
		for _, y := range b {
			out = append(out, cell{x.chance * y.chance, x.pass & y.pass, x.here && y.here, y.slice, y.end})
		}
	}
	return out
}

// outcomes gives what each place is worth over each cell of the marks from k to
// end, the others being as unsure as before.
func outcomes(places []Place, cells []cell, k, end int) []Outcome {
	out := make([]Outcome, len(cells))
	for c := range cells {
		out[c] = Outcome{cells[c].chance, make([]float64, len(places))}
	}
	for i, p := range places {
		others := 1.0
		for j, l := range p.Limits {
			if j < k || j >= end {
				others *= l.Factor
			}
		}
		for c, is := range cells {
			odds := 0.0
			if is.pass.has(i) {
				odds = others
			}
			out[c].Worth[i] = Expected(odds, p.Carat, p.left())
		}
	}
	return out
}

// beyond reports whether the mark goes on past a depth over the whole of a cell.
func (q question) beyond(c cell, depth float64) bool {
	return c.here && q.further(reach{upTo: c.end}, reach{upTo: depth}) > 0
}

// window returns what somebody sees who looks to a depth: each cell before it, and
// of all beyond it only that, slice by slice of the run-on, which shows outside.
func (q question) window(cells []cell, depth float64) [][]float64 {
	var signs [][]float64
	beyond := map[int][]float64{}
	for i, c := range cells {
		if q.beyond(c, depth) {
			if beyond[c.slice] == nil {
				beyond[c.slice] = make([]float64, len(cells))
				signs = append(signs, beyond[c.slice])
			}
			beyond[c.slice][i] = 1
			continue
		}
		alone := make([]float64, len(cells))
		alone[i] = 1
		signs = append(signs, alone)
	}
	return signs
}

// halves finds what to cut when the mark turns out less or more.
func (l *Look) halves(places []Place, all []Outcome, less func(cell int) bool) {
	var low, high []Outcome
	for i, o := range all {
		if less(i) {
			low = append(low, o)
		} else {
			high = append(high, o)
		}
	}
	l.IfLess, l.IfMore = pick(places, low), pick(places, high)
	if l.IfLess == nil {
		l.IfLess = l.IfMore
	}
	if l.IfMore == nil {
		l.IfMore = l.IfLess
	}
}

// pick returns the place that is worth most over some outcomes, of equals the one
// with the best odds; nil where there is no outcome.
func pick(places []Place, over []Outcome) *Place {
	first, worth := Blind(over)
	if first < 0 {
		return nil
	}
	best := first
	for i := range places {
		sum := 0.0
		for _, o := range over {
			sum += o.Chance * o.Worth[i]
		}
		if sum >= worth-1e-9 && places[i].Odds > places[best].Odds {
			best = i
		}
	}
	return &places[best]
}

// rule lists what to cut from cell to cell, joined where it stays the same.
func (l *Look) rule(places []Place, cells []cell, all []Outcome) {
	for i, o := range all {
		p := pick(places, []Outcome{o})
		if n := len(l.Rule); n > 0 && l.Rule[n-1].Place == p && !math.IsNaN(l.Rule[n-1].UpTo) {
			l.Rule[n-1].UpTo = cells[i].end
			continue
		}
		l.Rule = append(l.Rule, Choice{cells[i].end, p})
	}
}

// between lists what is cut in one cell or another.
func (l *Look) between(places []Place, all []Outcome) {
	for _, o := range all {
		if p := pick(places, []Outcome{o}); !slices.Contains(l.Between, p) {
			l.Between = append(l.Between, p)
		}
	}
	slices.SortStableFunc(l.Between, func(a, b *Place) int { return cmp.Compare(b.Carat, a.Carat) })
}

// knowingAll returns what it is worth to know every mark before the first cut.
func knowingAll(places []Place, qs []question) float64 {
	if len(places) == 0 {
		return 0
	}
	blind, sure := 0.0, 0.0
	for _, p := range places {
		blind, sure = max(blind, p.Expected), max(sure, p.left())
	}
	all := make([][]cell, len(qs))
	for k, q := range qs {
		all[k] = q.cells(places, k)
	}
	return max(0, knownAll(places, all, sure)-blind)
}
