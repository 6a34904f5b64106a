//go:build long

package search

// How much the long run tries.
const (
	manyProgrammes = 100000
	manyPoses      = 20000
	manySolids     = 600
	manyCells      = 1500
	manyTwins      = 50
	long           = true
	raced          = false
)
