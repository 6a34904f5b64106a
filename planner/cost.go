package planner

import (
	"errors"
	"math/big"
	"regexp"
)

// Money is an amount in the currency that stands beside it, exactly as it was
// written: "70.00". It is text because sums and shares of money are exact and
// binary fractions are not. Empty: none is given.
type Money string

// Cost is what a stone cost.
type Cost struct {
	Currency string // a code of ISO 4217
	Paid     Money  // for the stone; empty with a Lot: its share of that, by weight
	Extra    Money  // spent on it besides
	Lot      *Lot   // what it was bought with; nil: alone
	Unknown  []UnknownKey
}

// Lot is a parcel of rough that was bought together.
type Lot struct {
	Name    string
	Carat   float64 // its whole weight; 0: not known
	Paid    Money
	Unknown []UnknownKey
}

// ErrMoney says what an amount of money should look like.
var ErrMoney = errors.New("write the amount in plain figures, 0 or more, such as 12.50")

// plainFigures are numbers of JSON without sign or exponent, below 10^15.
var plainFigures = regexp.MustCompile(`^(0|[1-9][0-9]{0,14})(\.[0-9]{1,20})?$`)

// ParseMoney returns an amount that is written in plain figures; the error is
// ErrMoney.
func ParseMoney(text string) (Money, error) {
	if !plainFigures.MatchString(text) {
		return "", ErrMoney
	}
	return Money(text), nil
}

// Rat returns the amount as an exact fraction; none given is 0.
func (m Money) Rat() *big.Rat {
	r, ok := new(big.Rat).SetString(string(m))
	if !ok {
		return new(big.Rat)
	}
	return r
}

func (c Cost) equal(o Cost) bool {
	return c.Currency == o.Currency && c.Paid == o.Paid && c.Extra == o.Extra &&
		(c.Lot == o.Lot || c.Lot != nil && o.Lot != nil && c.Lot.equal(*o.Lot)) &&
		sameFunc(c.Unknown, o.Unknown, UnknownKey.equal)
}

func (l Lot) equal(o Lot) bool {
	return l.Name == o.Name && l.Carat == o.Carat && l.Paid == o.Paid && sameFunc(l.Unknown, o.Unknown, UnknownKey.equal)
}
