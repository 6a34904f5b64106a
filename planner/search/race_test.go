//go:build race && !long

package search

// How much is tried under the race detector, which makes everything ten times
// slower: it is there to watch the goroutines, not to try more cases.
const (
	manyProgrammes = 300
	manyPoses      = 60
	manySolids     = 8
	manyCells      = 6
	manyTwins      = 1
	long           = false
	raced          = true
)
