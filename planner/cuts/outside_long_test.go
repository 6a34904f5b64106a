//go:build long

package cuts_test

const (
	readStones   = 30
	rasterStones = 10
)
