package command

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"cabwright/planner"
	"cabwright/planner/money"
	"cabwright/planner/planjson"
	"cabwright/planner/worth"
	"cabwright/presets"
)

const bidHelp = `Says what you can pay for rough before you own it: the weight less the potch, at each
yield, times what a finished carat brings you, less your margin and the extras. With
the price asked it says what each finished carat will have cost, and of several pieces
which one alone would pay for the parcel.

The figures are the ones you type: nothing here knows what a parcel is worth.`

const bidExample = `  cabwright bid --carat 135 --potch 10 --price 8-40 --extra 12 --margin 30 --currency EUR
  cabwright bid --carat 186 --yield 30 --price 25-60 --asked 2232
  cabwright bid --piece big=62/4 --piece 40 --piece 33 --price 8-40 --asked 84
  cabwright bid --size 24x17x11 --form nodule --material opal-hydrophane --price 10-40`

// bidFlags are what bid is told, as it was typed.
type bidFlags struct {
	carat, potch, price, extra, margin, asked, currency string
	form, material, doubt                               string
	yields, pieces, sizes                               []string
	asJSON                                              bool
}

func (a *app) bidCommand() *cobra.Command {
	var f bidFlags
	cmd := &cobra.Command{
		Use:     "bid",
		Short:   "Work out the most to pay for rough",
		Long:    bidHelp,
		Example: bidExample,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 0 {
				return usagef("bid takes no file: %q; what a stone of yours is worth is told by cabwright worth FILE", args[0])
			}
			return nil
		},
		RunE: func(*cobra.Command, []string) error {
			set, err := a.presets()
			if err != nil {
				return err
			}
			b, err := f.bid(set)
			if err != nil {
				return err
			}
			if f.asJSON {
				return planjson.WriteBids(a.std.Out, b.json())
			}
			_, err = fmt.Fprint(a.std.Out, b.text())
			return err
		},
	}
	flags := cmd.Flags()
	flags.StringVar(&f.carat, "carat", "", "weight of the rough in carats")
	flags.StringVar(&f.potch, "potch", "0", "carats of it that are potch and will not be cut")
	flags.StringArrayVar(
		&f.pieces, "piece", nil, "instead of --carat, once for each piece: CARAT, NAME=CARAT or NAME=CARAT/POTCH",
	)
	flags.StringArrayVar(&f.sizes, "size", nil, "instead of a weight, once for each piece: LxWxH in mm off a photograph")
	flags.StringVar(&f.form, "form", "nodule", "the form of the pieces given by size: "+formNames())
	flags.StringVar(&f.material, "material", "", "their material (see cabwright presets materials)")
	flags.StringVar(&f.doubt, "doubt", "", "percent by which each of those measures may be wrong (5)")
	flags.StringSliceVar(&f.yields, "yield", []string{"5", "20", "35"}, "percent of the weight that ends up finished")
	flags.StringVar(&f.price, "price", "", "money a finished carat, low-high")
	flags.StringVar(&f.extra, "extra", "0", "shipping, tax, platform: money in all")
	flags.StringVar(&f.margin, "margin", "0", "percent of the sale that is to be left over")
	flags.StringVar(&f.asked, "asked", "", "the price asked for all of it")
	flags.StringVar(&f.currency, "currency", "", "the money meant, by its code (ISO 4217), such as EUR")
	flags.BoolVar(&f.asJSON, "json", false, "print the bids as JSON")
	complete(cmd, "currency", money.Codes)
	complete(cmd, "material", materialKeys)
	complete(cmd, "form", func() []string { return strings.Split(formNames(), ", ") })
	return cmd
}

func formNames() string {
	var names []string
	for _, f := range worth.Forms() {
		names = append(names, f.Name)
	}
	return strings.Join(names, ", ")
}

// piece is one piece of what is for sale.
type piece struct {
	name  string
	rough worth.Rough
	size  [3]float64    // mm; zero: it was weighed
	band  *planner.Band // of a piece that was not
}

// bid is a bid as it was asked for.
type bid struct {
	pieces   []piece
	whole    worth.Rough
	yields   []money.Amount
	terms    worth.Terms
	asked    *money.Amount
	currency money.Currency
	form     worth.Form
	material presets.Material
}

// bid reads the flags.
func (f bidFlags) bid(set *presets.Set) (*bid, error) {
	b := &bid{}
	var err error
	if b.currency, err = currencyOf(f.currency); err != nil {
		return nil, err
	}
	if err := f.weights(b, set); err != nil {
		return nil, err
	}
	if f.price == "" {
		return nil, usagef("bid needs --price LOW-HIGH: what a finished carat brings you")
	}
	if b.terms.Price, err = priceSpan("price", f.price); err != nil {
		return nil, err
	}
	if b.terms.Extra, err = amount("extra", f.extra); err != nil {
		return nil, err
	}
	if b.terms.Margin, err = percentage("margin", f.margin); err != nil {
		return nil, err
	}
	if b.terms.Margin.Compare(money.Of(100)) >= 0 {
		return nil, usagef("--margin %s: give percent of the sale, below 100", f.margin)
	}
	if f.asked != "" {
		asked, err := amount("asked", f.asked)
		if err != nil {
			return nil, err
		}
		b.asked = &asked
	}
	for _, text := range f.yields {
		y, err := percentage("yield", text)
		if err != nil {
			return nil, err
		}
		if y.Sign() == 0 || y.Compare(money.Of(100)) > 0 {
			return nil, usagef("--yield %s: give percent, above 0 and up to 100", text)
		}
		b.yields = append(b.yields, y)
	}
	if len(b.yields) == 0 {
		return nil, usagef("--yield is empty: give percent, such as 5,20,35")
	}
	return b, nil
}

// weights reads which pieces there are, each in one of three ways.
func (f bidFlags) weights(b *bid, set *presets.Set) error {
	ways := 0
	for _, given := range []bool{f.carat != "", len(f.pieces) > 0, len(f.sizes) > 0} {
		if given {
			ways++
		}
	}
	if ways != 1 {
		return usagef(
			"bid needs the rough in one way: --carat 135, or --piece 62 for each piece, or --size 24x17x11 for each",
		)
	}
	if f.carat == "" && f.potch != "0" {
		return usagef("--potch goes with --carat; of a piece it is written --piece NAME=CARAT/POTCH")
	}
	if err := f.estimates(b, set); err != nil {
		return err
	}
	if f.carat != "" {
		p, err := weighed("carat", "", f.carat, f.potch)
		if err != nil {
			return err
		}
		b.pieces = []piece{p}
	}
	for i, text := range f.pieces {
		name, weights, named := strings.Cut(text, "=")
		if !named {
			name, weights = fmt.Sprint(i+1), text
		}
		carat, potch, has := strings.Cut(weights, "/")
		if !has {
			potch = "0"
		}
		p, err := weighed("piece", name, carat, potch)
		if err != nil {
			return err
		}
		b.pieces = append(b.pieces, p)
	}
	for _, p := range b.pieces {
		b.whole = b.whole.Plus(p.rough)
	}
	return nil
}

// weighed is a piece that was on a scale.
func weighed(flag, name, carat, potch string) (piece, error) {
	ct, err := exactWeight(flag, carat)
	if err != nil {
		return piece{}, err
	}
	potchCt, err := exactWeight("potch", potch)
	if err != nil {
		return piece{}, err
	}
	if ct.Sign() == 0 {
		return piece{}, usagef("--%s %s: rough that weighs nothing", flag, carat)
	}
	if potchCt.Compare(ct) > 0 {
		return piece{}, usagef("%s ct of potch is more than the %s ct there are", potchCt.Decimal(4), ct.Decimal(4))
	}
	return piece{name: name, rough: worth.Rough{Carat: ct, Potch: potchCt}}, nil
}

// estimates reads the pieces that are known by their sizes alone.
func (f bidFlags) estimates(b *bid, set *presets.Set) error {
	if len(f.sizes) == 0 {
		return nil
	}
	found := false
	for _, form := range worth.Forms() {
		if form.Name == f.form {
			b.form, found = form, true
		}
	}
	if !found {
		names := strings.Split(formNames(), ", ")
		return usagef("--form %q: the forms are %s%s", f.form, formNames(), planner.DidYouMean(f.form, names))
	}
	key := f.material
	if key == "" {
		key = set.Defaults.Material
	}
	m, known := set.Material(key)
	if !known {
		return unknownMaterial(key, set)
	}
	b.material = m
	doubt := worth.SizeDoubt()
	if f.doubt != "" {
		percent, err := percentage("doubt", f.doubt)
		if err != nil {
			return err
		}
		if doubt = percent.Float() / 100; doubt >= 1 {
			return usagef("--doubt %s: give percent, below 100", f.doubt)
		}
	}
	for i, text := range f.sizes {
		size, err := threeSizes(text)
		if err != nil {
			return err
		}
		band := worth.Estimate(size, b.form, m.SG, doubt)
		// A weight that is guessed from a photograph is not known to more than a tenth.
		likely := money.Of(math.Max(0.01, math.Round(band.Likely*100)/100))
		b.pieces = append(
			b.pieces, piece{name: fmt.Sprint(i + 1), rough: worth.Rough{Carat: likely}, size: size, band: &band},
		)
	}
	return nil
}

// threeSizes reads LxWxH in mm.
func threeSizes(text string) (size [3]float64, err error) {
	parts := strings.Split(strings.ToLower(strings.ReplaceAll(text, " ", "")), "x")
	if len(parts) != 3 {
		return size, usagef("--size %q: give length, width and height in mm, such as 24x17x11", text)
	}
	for i, p := range parts {
		v, err := strconv.ParseFloat(strings.Replace(p, ",", ".", 1), 64)
		if err != nil || !(v >= 0.1 && v <= 1000) {
			return size, usagef("--size %q: %q is no measure from 0.1 to 1000 mm", text, p)
		}
		size[i] = v
	}
	return size, nil
}

// amount reads a sum or a weight that was typed after a flag.
func amount(flag, text string) (money.Amount, error) {
	v, err := money.Parse(text)
	if err != nil {
		return v, usagef("--%s: %v", flag, err)
	}
	return v, nil
}

// priceSpan reads a price: 8-40, or 12 when low and high are the same.
func priceSpan(flag, text string) (worth.Span, error) {
	low, high, two := strings.Cut(text, "-")
	if !two {
		high = low
	}
	var s worth.Span
	var err error
	if s.Low, err = amount(flag, low); err != nil {
		return s, err
	}
	if s.High, err = amount(flag, high); err != nil {
		return s, err
	}
	if s.High.Compare(s.Low) < 0 {
		return s, usagef("--%s %s: the low end comes first", flag, text)
	}
	return s, nil
}

// currencyOf reads the code of a currency; none named is none meant.
func currencyOf(code string) (money.Currency, error) {
	if code == "" {
		code = money.None
	}
	c, ok := money.Lookup(strings.ToUpper(code))
	if !ok {
		return c, usagef("--currency %q is no code of ISO 4217: give one such as EUR or USD", code)
	}
	return c, nil
}
