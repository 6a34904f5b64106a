package money

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"regexp"
	"strconv"
	"strings"
)

// Amount is a sum of money, or a price for a carat, exactly: a rational number.
// The zero value is nought. An Amount never changes: every method returns a new
// one.
type Amount struct {
	value   *big.Rat
	written string // the figures it was read from; "" for one that was worked out
}

func (a Amount) rat() *big.Rat {
	if a.value == nil {
		return new(big.Rat)
	}
	return a.value
}

// Of returns the decimal that a number read from a file or a form was written
// as: the shortest one that stands for it, so that 0.1 is one tenth. A number
// that is none, or infinite, is nought.
func Of(x float64) Amount {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return Amount{}
	}
	r, ok := new(big.Rat).SetString(strconv.FormatFloat(x, 'g', -1, 64))
	if !ok {
		return Amount{}
	}
	return Amount{value: r}
}

// maxDigits is how long a number may be that is typed: more than any price has.
const maxDigits = 15

var (
	plain     = regexp.MustCompile(`^[0-9]+(?:[.,][0-9]+)?$`)
	thousands = regexp.MustCompile(`^[0-9]{1,3}(,[0-9]{3})+$`)
)

// Parse reads a sum as it is typed: 12, 12.50 or 12,50, never negative. 2,232 is
// refused, since it is two thousand to some and two to others.
func Parse(text string) (Amount, error) {
	text = strings.TrimSpace(text)
	if thousands.MatchString(text) && !strings.HasPrefix(text, "0") {
		return Amount{}, fmt.Errorf("%q can be read in two ways: write %s or %s", text,
			strings.ReplaceAll(text, ",", ""), strings.Replace(text, ",", ".", 1))
	}
	if !plain.MatchString(text) || len(text) > maxDigits {
		return Amount{}, fmt.Errorf("%q is no sum: write it as 12 or 12.50", text)
	}
	whole, part, broken := strings.Cut(strings.Replace(text, ",", ".", 1), ".")
	if whole = strings.TrimLeft(whole, "0"); whole == "" {
		whole = "0"
	}
	if broken {
		whole += "." + part
	}
	return ParseFigures(whole)
}

// plainFigures are numbers of JSON without sign or exponent, below 10^15.
var plainFigures = regexp.MustCompile(`^(0|[1-9][0-9]{0,14})(\.[0-9]{1,20})?$`)

// ErrFigures says what an amount in a file should look like.
var ErrFigures = errors.New("write the amount in plain figures, 0 or more, such as 12.50")

// ParseFigures reads an amount as a file has it, in plain figures, and keeps how it
// was written; the error is ErrFigures.
func ParseFigures(text string) (Amount, error) {
	if !plainFigures.MatchString(text) {
		return Amount{}, ErrFigures
	}
	r, ok := new(big.Rat).SetString(text)
	if !ok {
		return Amount{}, ErrFigures
	}
	return Amount{r, text}, nil
}

// mostFigures is how many figures behind the point a file can hold.
const mostFigures = 20

// Figures returns an amount as a file has it: as it was read there, 70.00, or in as
// many figures as it needs.
func (a Amount) Figures() string {
	if a.written != "" {
		return a.written
	}
	return a.Decimal(mostFigures)
}

// Plus returns a + b.
func (a Amount) Plus(b Amount) Amount { return Amount{value: new(big.Rat).Add(a.rat(), b.rat())} }

// Minus returns a - b.
func (a Amount) Minus(b Amount) Amount { return Amount{value: new(big.Rat).Sub(a.rat(), b.rat())} }

// Times returns a * b: a price by a weight, a sum by a share.
func (a Amount) Times(b Amount) Amount { return Amount{value: new(big.Rat).Mul(a.rat(), b.rat())} }

// Over returns a / b, and nought when b is.
func (a Amount) Over(b Amount) Amount {
	if b.Sign() == 0 {
		return Amount{}
	}
	return Amount{value: new(big.Rat).Quo(a.rat(), b.rat())}
}

// Percent returns p hundredths of a.
func (a Amount) Percent(p Amount) Amount { return a.Times(p).Over(Of(100)) }

// Sign is -1, 0 or 1 for a sum below, at or above nought.
func (a Amount) Sign() int { return a.rat().Sign() }

// Compare is -1, 0 or 1 for a below, equal to or above b.
func (a Amount) Compare(b Amount) int { return a.rat().Cmp(b.rat()) }

// NotBelowZero returns the amount, or nought when it is negative.
func (a Amount) NotBelowZero() Amount {
	if a.Sign() < 0 {
		return Amount{}
	}
	return a
}

// Float returns the number nearest to the amount, for drawing and sorting.
func (a Amount) Float() float64 {
	f, _ := a.rat().Float64()
	return f
}

// units returns the amount in the currency's smallest unit, half a unit going to
// the even one.
func (a Amount) units(c Currency) *big.Int {
	scaled := new(big.Rat).Mul(a.rat(), new(big.Rat).SetInt(power10(c.Digits)))
	floor := new(big.Int).Div(scaled.Num(), scaled.Denom()) // Euclidean: down, as denominators are positive
	rest := new(big.Rat).Sub(scaled, new(big.Rat).SetInt(floor))
	half := rest.Cmp(big.NewRat(1, 2))
	if half > 0 || half == 0 && floor.Bit(0) == 1 {
		floor.Add(floor, big.NewInt(1))
	}
	return floor
}

func power10(n int) *big.Int { return new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(n)), nil) }

func fromUnits(n *big.Int, c Currency) Amount {
	return Amount{value: new(big.Rat).SetFrac(n, power10(c.Digits))}
}

// Round returns the amount to the currency's unit, half to even
// (roundTiesToEven of IEEE 754).
func (a Amount) Round(c Currency) Amount { return fromUnits(a.units(c), c) }

// Text writes the amount rounded to the currency's unit, with all its digits and
// without the code: 128.00.
func (a Amount) Text(c Currency) string { return a.Round(c).rat().FloatString(c.Digits) }

// Decimal writes the amount with at most so many digits behind the point and no
// trailing zeros: for weights and percents.
func (a Amount) Decimal(digits int) string {
	s := a.Round(Currency{Digits: digits}).rat().FloatString(digits)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}
