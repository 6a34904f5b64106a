//go:build !long && !race

package searchtest

// How much the routine run tries; `go test -tags long` tries far more.
const (
	ManyProgrammes = 1500
	ManyPoses      = 300
	ManySolids     = 40
	ManyCells      = 40
	ManyTwins      = 4
	Long           = false
	Raced          = false
)
