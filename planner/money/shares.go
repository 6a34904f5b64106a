package money

import (
	"math/big"
	"slices"
)

// Shares divides a sum by weights, each share in whole units of the currency, so
// that they add up to the sum as rounded to its unit: everyone gets the whole
// units of the exact share, and the units left over go one each to the largest
// remainders, the first of equal ones first (the method of largest remainders,
// Hamilton 1792). Weights are 0 or more; when all are 0 the shares are equal. The
// sum must not be negative.
func Shares(sum Amount, weights []float64, c Currency) []Amount {
	if len(weights) == 0 {
		return nil
	}
	total := Amount{}
	exact := make([]Amount, len(weights))
	for i, w := range weights {
		exact[i] = Of(w).NotBelowZero()
		total = total.Plus(exact[i])
	}
	if total.Sign() == 0 {
		for i := range exact {
			exact[i] = Of(1)
		}
		total = Of(float64(len(exact)))
	}
	whole := sum.NotBelowZero().units(c)
	units := make([]*big.Int, len(exact))
	rests := make([]Amount, len(exact))
	left := new(big.Int).Set(whole)
	for i, w := range exact {
		quota := Amount{value: new(big.Rat).SetInt(whole)}.Times(w).Over(total).rat()
		units[i] = new(big.Int).Div(quota.Num(), quota.Denom())
		rests[i] = Amount{value: new(big.Rat).Sub(quota, new(big.Rat).SetInt(units[i]))}
		left.Sub(left, units[i])
	}
	order := make([]int, len(exact))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return rests[b].Compare(rests[a]) })
	for _, i := range order[:left.Int64()] {
		units[i].Add(units[i], big.NewInt(1))
	}
	shares := make([]Amount, len(exact))
	for i := range shares {
		shares[i] = fromUnits(units[i], c)
	}
	return shares
}
