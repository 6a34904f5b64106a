//go:build long

package searchtest

// How much the long run tries.
const (
	ManyProgrammes = 100000
	ManyPoses      = 20000
	ManySolids     = 600
	ManyCells      = 1500
	ManyTwins      = 50
	Long           = true
	Raced          = false
)
