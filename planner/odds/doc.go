// Package odds weighs a plan as a bet. After the first grind some depths are
// unknown; each mark's clearance from a placed stone depends only on its own
// unsure number, so that every place has one exact limit for it and the odds are
// a product of closed-form terms: nothing is sampled.
//
// Here are the distribution of an unsure number, the limits and odds of a place,
// the place of one size with the best odds, what is left if it fails, what is
// worth looking at first and what each mark costs. The geometry is asked of
// package search; nothing here reads a file or knows how it is shown.
package odds
