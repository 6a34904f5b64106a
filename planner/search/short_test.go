//go:build !long && !race

package search

// How much the routine run tries; `go test -tags long` tries far more.
const (
	manyProgrammes = 1500
	manyPoses      = 300
	manySolids     = 40
	manyCells      = 40
	manyTwins      = 4
	long           = false
	raced          = false
)
