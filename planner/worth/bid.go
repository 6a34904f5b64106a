package worth

import "cabwright/planner/money"

// Span is money from low to high.
type Span struct{ Low, High money.Amount }

// Rough is what is weighed before buying, in carats.
type Rough struct {
	Carat money.Amount
	Potch money.Amount // of that, what holds no colour and will not be cut
}

// Terms are what a buyer knows or decides before a bid.
type Terms struct {
	Price  Span         // money a finished carat
	Extra  money.Amount // shipping, tax, platform: money in all
	Margin money.Amount // percent of the sale that is to be left over
}

// Bid is the most that may be paid for rough at one yield. Nothing in it is
// rounded.
type Bid struct {
	Yield    money.Amount // percent of the cuttable weight
	Finished money.Amount // carats
	Most     Span         // in all: never below nought
	PerCarat Span         // of rough, potch and all
}

// MostToPay returns the highest bid at a yield: what the finished carats bring,
// less the margin, less the extras. With potch it is the rest that is cut.
func MostToPay(r Rough, yield money.Amount, t Terms) Bid {
	b := Bid{Yield: yield, Finished: r.finished(yield)}
	kept := money.Of(100).Minus(t.Margin)
	most := func(price money.Amount) money.Amount {
		return b.Finished.Times(price).Percent(kept).Minus(t.Extra).NotBelowZero()
	}
	b.Most = Span{Low: most(t.Price.Low), High: most(t.Price.High)}
	b.PerCarat = Span{Low: b.Most.Low.Over(r.Carat), High: b.Most.High.Over(r.Carat)}
	return b
}

func (r Rough) finished(yield money.Amount) money.Amount {
	return r.Carat.Minus(r.Potch).NotBelowZero().Percent(yield)
}

// Plus is the rough of two pieces together.
func (r Rough) Plus(s Rough) Rough {
	return Rough{Carat: r.Carat.Plus(s.Carat), Potch: r.Potch.Plus(s.Potch)}
}

// BreakEven is the price a finished carat at which a cost comes back: nought when
// nothing is finished.
func BreakEven(cost, finished money.Amount) money.Amount { return cost.Over(finished) }

// Pays says whether one piece of a parcel brings back what the whole parcel costs.
type Pays int

// Whether it does so at no price of a span, at its high end only, or at its low
// end already.
const (
	PaysNever Pays = iota
	PaysAtHigh
	PaysAtLow
)

// PaysFor reports whether the finished carats of a piece at a yield bring in the
// whole cost of a parcel. The margin is not counted: to pay for it is to get the
// money back.
func PaysFor(piece Rough, yield money.Amount, price Span, cost money.Amount) Pays {
	finished := piece.finished(yield)
	return paysBack(finished.Times(price.Low), finished.Times(price.High), cost)
}

// PaysBack reports whether one stone brings in a whole cost.
func PaysBack(v Value, cost money.Amount) Pays { return paysBack(v.Low, v.High, cost) }

func paysBack(low, high, cost money.Amount) Pays {
	switch {
	case low.Compare(cost) >= 0:
		return PaysAtLow
	case high.Compare(cost) >= 0:
		return PaysAtHigh
	}
	return PaysNever
}
