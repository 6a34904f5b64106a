package command

import (
	"context"
	"fmt"
	"path/filepath"

	"github.com/spf13/cobra"

	"cabwright/planner"
	"cabwright/planner/cuts"
	"cabwright/planner/money"
	"cabwright/planner/planjson"
	"cabwright/planner/search"
	"cabwright/planner/worth"
	"cabwright/presets"
)

const worthHelp = `Says what stones cost you and what each of their fits may bring: the cost out of the stone
files, a lot shared by weight to the last cent, your own prices out of your presets, and
the price a finished carat at which each fit breaks even. Beside it stands what the rough
may bring uncut, if you have a price for that.

Each worth is low to high: the low weight at the low price, the high weight at the high
one. No price comes with the program, and no money is ever converted into another.`

const worthExample = `  cabwright worth river.stone                        fits by weight, with their worth
  cabwright worth river.stone --rank worth --top 5   the dearest first
  cabwright worth lot/*.stone --json                 all stones of a lot together
  cabwright worth river.stone --price 8-40           a price for this time, a finished carat
  cabwright worth river.stone --odds                 on average, where marks are not sure
  cabwright worth river.stone --stones 3 --rank worth   several stones sawn from it, the dearest first
  cabwright worth river.stone --learn finished       also as your finished stones came out`

// rankWorth is the word for the order that only worth has.
const rankWorth = "worth"

type worthFlags struct {
	search   searchFlags
	stones   stonesFlags
	price    string
	currency string
	learn    learnFlag
	odds     bool
	asJSON   bool

	several *cuts.Options // nil: one stone from each rough
}

func (a *app) worthCommand() *cobra.Command {
	var f worthFlags
	cmd := &cobra.Command{
		Use:     "worth FILE...",
		Short:   "Cost, worth and break-even of stones",
		Long:    worthHelp,
		Example: worthExample,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return usagef("worth needs a stone file or several: cabwright worth FILE...")
			}
			return nil
		},
		ValidArgsFunction: completeStone,
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.worth(cmd.Context(), args, f)
		},
	}
	f.search.register(cmd)
	f.stones.register(cmd)
	cmd.Flags().Lookup("rank").Usage = "best first by carat, clearance, colour or worth"
	cmd.Flags().StringVar(&f.price, "price", "", "money a finished carat, low-high, in place of your presets' prices")
	cmd.Flags().StringVar(&f.currency, "currency", "", "count in this money (ISO 4217); default: that of the cost")
	f.learn.register(cmd)
	cmd.Flags().BoolVar(&f.odds, "odds", false, "also what each place brings on average, where marks are not sure")
	cmd.Flags().BoolVar(&f.asJSON, "json", false, "print everything as JSON")
	complete(cmd, "currency", money.Codes)
	return cmd
}

// worth plans the stones and prices what fits.
func (a *app) worth(ctx context.Context, paths []string, f worthFlags) error {
	byWorth := f.search.rank == rankWorth
	if byWorth {
		f.search.rank = string(search.ByCarat)
	}
	opt, err := f.search.options()
	if err != nil {
		return err
	}
	several, asked, err := a.stonesOptions(&f.stones, opt)
	if err != nil {
		return err
	}
	if asked {
		f.several = &several
	}
	set, err := a.presets()
	if err != nil {
		return err
	}
	stones, err := a.readAll(paths, f.search.material)
	if err != nil {
		return err
	}
	prices, err := f.prices(paths, stones, set)
	if err != nil {
		return err
	}
	costs, remarks := worth.Costs(purchases(stones))
	all := planjson.Worth{Currency: prices.Currency, Top: f.search.top}
	for i, s := range stones {
		w, err := a.worthOf(ctx, s, paths[i], costs[i], opt, prices, f)
		if err != nil {
			return err
		}
		if byWorth {
			w.Sort()
			worth.SortLayouts(w.Layouts)
		}
		all.Stones, all.SG = append(all.Stones, w), append(all.SG, s.gravity.Likely)
	}
	for _, r := range remarks {
		a.warn(r)
	}
	if f.asJSON {
		return planjson.WriteWorth(a.std.Out, all)
	}
	top := f.search.top
	if top == 0 {
		top = tableTop
	}
	_, err = fmt.Fprint(a.std.Out, worthText{all: all, paths: paths, prices: prices, top: top}.String())
	return err
}

// worthOf plans one stone and weighs what its fits are worth.
func (a *app) worthOf(
	ctx context.Context, s *specimen, path string, cost *money.Amount, opt search.Options, prices worth.Prices,
	f worthFlags,
) (worth.Stone, error) {
	plan, err := a.search(ctx, s.stone, opt)
	if err != nil {
		return worth.Stone{}, err
	}
	if plan.Stopped == search.Cancelled {
		return worth.Stone{}, fmt.Errorf("the search was stopped before the worth of %s was known", planner.Visible(path))
	}
	own, err := a.learned(path, f.learn)
	if err != nil {
		return worth.Stone{}, err
	}
	w := worth.Weigh(s.stone, plan.Fits, s.colourUnder, cost, s.modelCt(), prices)
	if remark := s.notDry(); remark != "" {
		w.Remarks = append(w.Remarks, remark)
	}
	if own.said != "" {
		w.Remarks = append(w.Remarks, own.said)
	}
	if c := own.correction; c != nil {
		w.ByOwn(c.Band, s.colourUnder, prices)
		w.OwnSaid = c.Text()
	}
	if f.several != nil {
		layouts, err := a.severalStones(ctx, s, plan, *f.several)
		if err != nil {
			return w, err
		}
		w.Layouts = s.weighLayouts(layouts, cost, prices)
	}
	if f.odds {
		w.Bets, err = a.bets(ctx, s, plan, opt, prices)
	}
	return w, err
}

// readAll reads several stone files.
func (a *app) readAll(paths []string, material string) ([]*specimen, error) {
	var out []*specimen
	for _, path := range paths {
		s, err := a.read(path, material)
		if err != nil {
			return nil, err
		}
		for _, w := range s.notes() {
			a.warn(filepath.Base(path) + ": " + w.String())
		}
		out = append(out, s)
	}
	return out, nil
}

func (s *specimen) colourUnder(f search.Fit) worth.Colour {
	return worth.ColourUnder(s.stone, s.rough, f)
}

func purchases(stones []*specimen) []worth.Purchase {
	var out []worth.Purchase
	for _, s := range stones {
		out = append(out, worth.PurchaseOf(s.stone, s.modelCt()))
	}
	return out
}

func (s *specimen) modelCt() float64 { return planner.Carat(s.rough.Volume(), s.gravity.Likely) }

// prices returns what the stones are priced by: one currency for all of them, since
// nothing is converted.
func (f worthFlags) prices(paths []string, stones []*specimen, set *presets.Set) (worth.Prices, error) {
	var c money.Currency
	if f.currency != "" {
		var err error
		if c, err = currencyOf(f.currency); err != nil {
			return worth.Prices{}, err
		}
	}
	from := ""
	for i, s := range stones {
		if s.stone.Cost == nil {
			continue
		}
		its, _ := money.Lookup(s.stone.Cost.Currency)
		switch {
		case c.Code == "":
			c, from = its, paths[i]
		case c.Code != its.Code && from == "":
			return worth.Prices{}, usagef("%s cost %s, not %s: nothing is converted", paths[i], its.Code, c.Code)
		case c.Code != its.Code:
			return worth.Prices{}, usagef(
				"%s cost %s and %s cost %s: nothing is converted, ask for them apart", from, c.Code, paths[i], its.Code,
			)
		}
	}
	if c.Code == "" {
		c = worth.CurrencyFor(stones[0].stone, set)
	}
	for _, row := range set.Prices {
		if _, ok := money.Lookup(row.Currency); !ok {
			return worth.Prices{}, usagef("your own presets: price %q: %q is no code of ISO 4217", row.Name, row.Currency)
		}
	}
	if f.price != "" {
		span, err := priceSpan("price", f.price)
		if err != nil {
			return worth.Prices{}, err
		}
		p := worth.OnePrice(span, c)
		p.Rough = worth.PricesIn(set, c).Rough
		return p, nil
	}
	return worth.PricesIn(set, c), nil
}
