package planner

import "cabwright/planner/money"

// Cost is what a stone cost. A sum that is nil is not given.
type Cost struct {
	Currency string        // a code of ISO 4217
	Paid     *money.Amount // for the stone; nil with a Lot: its share of that, by weight
	Extra    *money.Amount // spent on it besides
	Lot      *Lot          // what it was bought with; nil: alone
	Unknown  []UnknownKey
}

// Lot is a parcel of rough that was bought together.
type Lot struct {
	Name    string
	Carat   float64 // its whole weight; 0: not known
	Paid    *money.Amount
	Unknown []UnknownKey
}

func (c Cost) equal(o Cost) bool {
	return c.Currency == o.Currency && sameSum(c.Paid, o.Paid) && sameSum(c.Extra, o.Extra) &&
		(c.Lot == o.Lot || c.Lot != nil && o.Lot != nil && c.Lot.equal(*o.Lot)) &&
		sameFunc(c.Unknown, o.Unknown, UnknownKey.equal)
}

func (l Lot) equal(o Lot) bool {
	return l.Name == o.Name && l.Carat == o.Carat && sameSum(l.Paid, o.Paid) &&
		sameFunc(l.Unknown, o.Unknown, UnknownKey.equal)
}

// sameSum reports whether two sums are written alike: 70 is not 70.00, as a file
// keeps the figures it was given.
func sameSum(a, b *money.Amount) bool {
	return a == b || a != nil && b != nil && a.Figures() == b.Figures()
}
