//go:build !long

package cuts_test

// How many stones are read and how many are held against a raster: each takes some
// seconds of processor time, and the long form does all that are wanted.
const (
	readStones   = 7
	rasterStones = 5
)
