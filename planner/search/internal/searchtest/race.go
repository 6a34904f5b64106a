//go:build race && !long

package searchtest

// How much is tried under the race detector, which makes everything ten times
// slower: it is there to watch the goroutines, not to try more cases.
const (
	ManyProgrammes = 300
	ManyPoses      = 60
	ManySolids     = 8
	ManyCells      = 6
	ManyTwins      = 1
	Long           = false
	Raced          = true
)
