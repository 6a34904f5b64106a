package command

import (
	"fmt"
	"strings"

	"cabwright/planner"
	"cabwright/planner/money"
	"cabwright/planner/planjson"
	"cabwright/planner/worth"
)

// sum writes money with its currency, if one was named.
func (b *bid) sum(a money.Amount) string { return sumText(a, b.currency) }

func sumText(a money.Amount, c money.Currency) string {
	if c.Code == money.None {
		return a.Text(c)
	}
	return a.Text(c) + " " + c.Code
}

// spanText is "8.00 to 40.00 EUR", or one sum when both are the same.
func spanText(s worth.Span, c money.Currency) string {
	if s.Low.Text(c) == s.High.Text(c) {
		return sumText(s.Low, c)
	}
	return s.Low.Text(c) + " to " + sumText(s.High, c)
}

// hundredths writes weights in tables: two digits behind the point.
var hundredths = money.Currency{Digits: 2}

// text lays a bid out for people.
func (b *bid) text() string {
	var s strings.Builder
	s.WriteString(paragraph(b.heading()))
	s.WriteString(b.estimated())
	terms := fmt.Sprintf("A finished carat brings %s; extras %s; margin %s%%.", spanText(b.terms.Price, b.currency),
		b.sum(b.terms.Extra), b.terms.Margin.Decimal(2))
	if b.asked != nil {
		terms += fmt.Sprintf(
			" Asked: %s, %s a rough carat, %s a gram.", b.sum(*b.asked), b.asked.Over(b.whole.Carat).Text(b.currency),
			b.asked.Times(money.Of(planner.CaratsPerGram)).Over(b.whole.Carat).Text(b.currency),
		)
	}
	s.WriteString(paragraph(terms))
	s.WriteString("\n" + b.table())
	s.WriteString(b.whoPays())
	return s.String()
}

func (b *bid) heading() string {
	what := "rough"
	if len(b.pieces) > 1 {
		what = fmt.Sprintf("rough in %d pieces", len(b.pieces))
	}
	about := ""
	if b.pieces[0].band != nil {
		about = "About "
	}
	s := fmt.Sprintf("%s%s ct of %s", about, b.whole.Carat.Decimal(2), what)
	if b.whole.Potch.Sign() > 0 {
		s += fmt.Sprintf(
			", %s of it potch: %s ct to cut", b.whole.Potch.Decimal(2), b.whole.Carat.Minus(b.whole.Potch).Decimal(2),
		)
	}
	return s + "."
}

// estimated tells what the weights by size rest on.
func (b *bid) estimated() string {
	if b.pieces[0].band == nil {
		return ""
	}
	t := table{right: map[int]bool{2: true}}
	for _, p := range b.pieces {
		t.add(" ", fmt.Sprintf("%g x %g x %g mm", p.size[0], p.size[1], p.size[2]), weight(p.band.Likely)+" ct",
			fmt.Sprintf("%s to %s", weight(p.band.Low), weight(p.band.High)))
	}
	return t.String() + paragraph(
		fmt.Sprintf("By size alone, as %s of %s, SG %.2f (%.2f to %.2f): weigh it before you pay.",
			b.form.Name, planner.Visible(b.material.Name), b.material.SG.Typical, b.material.SG.Low, b.material.SG.High),
	)
}

func (b *bid) table() string {
	t := listing([]int{0, 1, 2, 3, 4}, "yield", "finished ct", "bid in all", "a rough ct")
	if b.asked != nil {
		t = listing([]int{0, 1, 2, 3, 4}, "yield", "finished ct", "bid in all", "a rough ct", "a finished ct costs")
	}
	for _, y := range b.yields {
		m := worth.MostToPay(b.whole, y, b.terms)
		row := []string{y.Decimal(2) + "%", m.Finished.Text(hundredths), b.twoSums(m.Most), b.twoSums(m.PerCarat)}
		if b.asked != nil {
			row = append(row, worth.BreakEven(b.cost(), m.Finished).Text(b.currency))
		}
		t.add(row...)
	}
	s := t.String()
	if b.terms.Extra.Sign() > 0 && b.asked != nil {
		s += "The cost of a finished carat counts the extras.\n"
	}
	return s
}

func (b *bid) twoSums(s worth.Span) string {
	if s.Low.Compare(s.High) == 0 {
		return s.Low.Text(b.currency)
	}
	return s.Low.Text(b.currency) + " - " + s.High.Text(b.currency)
}

// cost is what the parcel costs at the price asked.
func (b *bid) cost() money.Amount { return b.asked.Plus(b.terms.Extra) }

// whoPays says of each piece whether it alone pays for the parcel.
func (b *bid) whoPays() string {
	if b.asked == nil || len(b.pieces) < 2 {
		return ""
	}
	right := []int{1}
	head := []string{"piece", "ct"}
	for i, y := range b.yields {
		right = append(right, 2+i)
		head = append(head, "at "+y.Decimal(2)+"%")
	}
	t := listing(right, head...)
	for _, p := range b.pieces {
		row := []string{planner.Visible(p.name), p.rough.Carat.Text(hundredths)}
		for _, y := range b.yields {
			row = append(row, paysText(worth.PaysFor(p.rough, y, b.terms.Price, b.cost())))
		}
		t.add(row...)
	}
	return "\n" + paragraph(
		fmt.Sprintf("Does one piece alone pay for the parcel, %s with the extras?", b.sum(b.cost())),
	) + t.String()
}

func paysText(p worth.Pays) string {
	return map[worth.Pays]string{worth.PaysNever: "no", worth.PaysAtHigh: "at the high price", worth.PaysAtLow: "yes"}[p]
}

// json is what other programs are told of the bids.
func (b *bid) json() planjson.Bids {
	out := planjson.Bids{Currency: b.currency}
	for _, y := range b.yields {
		row := planjson.Bid{Bid: worth.MostToPay(b.whole, y, b.terms)}
		if b.asked != nil {
			even := worth.BreakEven(b.cost(), row.Finished)
			row.BreakEven = &even
		}
		out.Rows = append(out.Rows, row)
	}
	if len(b.pieces) == 1 && b.pieces[0].band == nil {
		return out
	}
	for _, p := range b.pieces {
		piece := planjson.Piece{Name: p.name, Rough: p.rough, Band: p.band}
		if b.asked != nil {
			for _, y := range b.yields {
				piece.Pays = append(piece.Pays, worth.PaysFor(p.rough, y, b.terms.Price, b.cost()))
			}
		}
		out.Pieces = append(out.Pieces, piece)
	}
	return out
}
