// Package worth says what rough may cost and what finished stones may bring: the
// highest bid for a lot, the shares of a lot's cost, prices for fits, and where
// each breaks even. Money is exact (package money) and rounded at the end. What
// may come in: arithmetic on weights, prices and costs; no searching, no files.
package worth
