package worth

import (
	"fmt"

	"cabwright/planner/money"
)

// Purchase is what the stone file says one stone cost. Amounts are in the
// purchase's currency; carats are those of the rough as bought.
type Purchase struct {
	Currency money.Currency
	Paid     *money.Amount // for this stone; nil: not said
	Extra    money.Amount  // shipping, tax, platform, for this stone
	Lot      *Lot          // nil: bought alone
	Carat    float64
}

// Lot is a parcel of several pieces bought together.
type Lot struct {
	Name  string
	Carat float64
	Paid  money.Amount
}

// lotsAgree is how far the weights of a lot's pieces may add up beside the lot's
// own weight and still be all of it, as a share of that: parcels are weighed on
// other scales, and dry out. A convention of our own.
const lotsAgree = 0.02

// Costs returns what each stone cost, its share of a lot and its extras, rounded
// to the currency's unit; nil for a stone of which nothing is said. A lot's stones
// share by weight what is not paid for by name; the shares of a whole lot add up
// to what was paid. remarks say what does not agree.
func Costs(stones []Purchase) (costs []*money.Amount, remarks []string) {
	costs = make([]*money.Amount, len(stones))
	for i, s := range stones {
		if s.Paid != nil {
			cost := s.Paid.Plus(s.Extra).Round(s.Currency)
			costs[i] = &cost
		}
	}
	for _, g := range lots(stones) {
		for k, share := range g.shares(stones) {
			i := g.sharing[k]
			cost := share.Plus(stones[i].Extra).Round(stones[i].Currency)
			costs[i] = &cost
		}
		remarks = append(remarks, g.remarks(stones)...)
	}
	for i, s := range stones {
		if s.Paid == nil && s.Lot == nil && s.Extra.Sign() > 0 {
			cost := s.Extra.Round(s.Currency)
			costs[i] = &cost
		}
	}
	return costs, remarks
}

// group is one lot with its stones, by their index.
type group struct {
	lot      Lot
	currency money.Currency
	named    []int // with a price of their own
	sharing  []int
}

// lots gathers the stones that say the same about their lot, in the order of
// their first stones.
func lots(stones []Purchase) []*group {
	var out []*group
	for i, s := range stones {
		if s.Lot == nil {
			continue
		}
		var mine *group
		for _, g := range out {
			if sameLot(g.lot, g.currency, *s.Lot, s.Currency) {
				mine = g
			}
		}
		if mine == nil {
			mine = &group{lot: *s.Lot, currency: s.Currency}
			out = append(out, mine)
		}
		if s.Paid != nil {
			mine.named = append(mine.named, i)
		} else {
			mine.sharing = append(mine.sharing, i)
		}
	}
	return out
}

// OneLot reports whether two stones say the same about the lot they are of.
func OneLot(a, b Purchase) bool {
	return a.Lot != nil && b.Lot != nil && sameLot(*a.Lot, a.Currency, *b.Lot, b.Currency)
}

func sameLot(a Lot, in money.Currency, b Lot, inOther money.Currency) bool {
	return a.Name == b.Name && a.Carat == b.Carat && a.Paid.Compare(b.Paid) == 0 && in == inOther
}

// shares divides what is left of the lot's cost among the stones without a price
// of their own and the pieces that were not named.
func (g *group) shares(stones []Purchase) []money.Amount {
	left := g.lot.Paid
	for _, i := range g.named {
		left = left.Minus(*stones[i].Paid)
	}
	var weights []float64
	for _, i := range g.sharing {
		weights = append(weights, stones[i].Carat)
	}
	if rest := g.unlisted(stones); rest > 0 {
		weights = append(weights, rest)
	}
	return money.Shares(left, weights, g.currency)[:len(g.sharing)]
}

// unlisted is the weight of the lot that none of the stones accounts for; nought
// when the stones are all of it.
func (g *group) unlisted(stones []Purchase) float64 {
	rest := g.lot.Carat
	for _, list := range [][]int{g.named, g.sharing} {
		for _, i := range list {
			rest -= stones[i].Carat
		}
	}
	if rest <= lotsAgree*g.lot.Carat {
		return 0
	}
	return rest
}

func (g *group) remarks(stones []Purchase) []string {
	sum, named := 0.0, money.Amount{}
	for _, i := range g.named {
		sum += stones[i].Carat
		named = named.Plus(*stones[i].Paid)
	}
	for _, i := range g.sharing {
		sum += stones[i].Carat
	}
	var out []string
	if g.lot.Carat > 0 && sum > g.lot.Carat*(1+lotsAgree) {
		out = append(
			out,
			fmt.Sprintf("lot %q: its stones weigh %.2f ct together, the lot %.2f: its cost is shared among them alone",
				g.lot.Name, sum, g.lot.Carat),
		)
	}
	if named.Compare(g.lot.Paid) > 0 {
		out = append(
			out,
			fmt.Sprintf("lot %q: the stones with a price of their own cost %s, more than the %s paid for the lot",
				g.lot.Name, named.Text(g.currency), g.lot.Paid.Text(g.currency)),
		)
	}
	return out
}
