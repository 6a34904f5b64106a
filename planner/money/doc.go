// Package money holds sums of money exactly: currencies as ISO 4217 lists them,
// amounts as rational numbers that are rounded once, at the end, and shares of a
// sum that add up to it. What may come in: arithmetic and the list of codes;
// nothing about stones.
package money
