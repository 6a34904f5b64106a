package presets

import (
	"regexp"
	"slices"
)

// Price is what finished stones of a kind bring a carat. No row is built in:
// prices are the cutter's own. A field at its zero value holds for any stone.
type Price struct {
	Name     string // as shown: "small, bright"
	Material string // a material's key
	Carat    Span   // of the finished stone
	Grade    Span   // of the colour under its face, 0 to 5
	Colour   Span   // the share of its face over colour, as a plan gives it, 0 to 1
	Pattern  string // of that colour
	Sides    int    // 1 or 2
	Face     string // "top" or "base"
	PerCarat Range  // money a finished carat
	Currency string // a code of ISO 4217
	Source   string
}

// RoughPrice is what rough of a material brings a carat as it is.
type RoughPrice struct {
	Material string // a material's key; "": any
	PerCarat Range  // money a rough carat
	Currency string // a code of ISO 4217
	Source   string
}

// Span is a range with both ends in it; the zero value holds everything.
type Span struct{ Low, High float64 }

// Holds reports whether x lies in the span.
func (s Span) Holds(x float64) bool { return s == Span{} || x >= s.Low && x <= s.High }

// Limits of sense for prices: a carat of the dearest stones brings millions.
const (
	moneyHigh = 1e9
	caratHigh = 1e6
	gradeHigh = 5
)

var currencyForm = regexp.MustCompile(`^[A-Z]{3}$`)

func (r *reader) prices(file *fields) error {
	return r.rows(file, "prices", func(f *fields) {
		p := Price{
			Name: f.text(
				"name",
			), Material: r.materialOf(f), Carat: f.span("carat", caratHigh), Grade: f.span("grade", gradeHigh),
			Colour: f.span("colour_share", 1), Pattern: f.textOr("pattern", ""),
			Sides: f.choice("sides", 1, 2), Face: f.textOr("face", ""),
			PerCarat: f.band("per_carat", moneyHigh), Currency: f.currency(), Source: r.sourceOf(f),
		}
		if p.Face != "" && p.Face != "top" && p.Face != "base" {
			f.fail("face", "%q: give top or base, or leave it out for either", p.Face)
		}
		r.set.Prices = append(slices.Clip(r.set.Prices), p)
	})
}

func (r *reader) roughPrices(file *fields) error {
	return r.rows(file, "rough_prices", func(f *fields) {
		r.set.RoughPrices = append(slices.Clip(r.set.RoughPrices), RoughPrice{
			Material: r.materialOf(f), PerCarat: f.band("per_carat", moneyHigh), Currency: f.currency(), Source: r.sourceOf(f),
		})
	})
}

// materialOf reads the key of a material that may be left out.
func (r *reader) materialOf(f *fields) string {
	key := f.textOr("material", "")
	if f.err == nil && key != "" && !has(r.set.Materials, key) {
		f.fail("material", "there is no material %q", key)
	}
	return key
}

// span reads two rising numbers from 0 that may be left out.
func (f *fields) span(key string, high float64) Span {
	if _, ok := f.raw[key]; !ok {
		f.known[key] = true
		return Span{}
	}
	ends := f.rising(key, 2, 0, high)
	return Span{Low: ends[0], High: ends[1]}
}

// band reads low and high, or low, likely and high; the likely one of two is the
// middle.
func (f *fields) band(key string, high float64) Range {
	var list []float64
	if f.take(key, &list, "a list of two or three numbers") && len(list) == 2 {
		ends := f.rising(key, 2, 0, high)
		return Range{Low: ends[0], Typical: (ends[0] + ends[1]) / 2, High: ends[1]}
	}
	three := f.rising(key, 3, 0, high)
	return Range{Low: three[0], Typical: three[1], High: three[2]}
}

// choice reads one of a few whole numbers that may be left out; then it is 0.
func (f *fields) choice(key string, from ...int) int {
	if _, ok := f.raw[key]; !ok {
		f.known[key] = true
		return 0
	}
	n := 0
	f.take(key, &n, "a whole number")
	if f.err == nil && !slices.Contains(from, n) {
		f.fail(key, "%d is none of %v", n, from)
	}
	return n
}

// currency reads a code of three capital letters; whether ISO 4217 lists it is
// asked where money is counted.
func (f *fields) currency() string {
	code := f.text("currency")
	if f.err == nil && !currencyForm.MatchString(code) {
		f.fail("currency", "%q: a currency is three capital letters, such as EUR (ISO 4217)", code)
	}
	return code
}
