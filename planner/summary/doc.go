// Package summary says what a finished stone is, for a sale or a ledger: its size,
// weight, kind, sides, colour, treatments and care, as text and as a picture. What
// may come in: facts that the stone file holds, and how they are set; no searching,
// no files, no prices.
package summary
