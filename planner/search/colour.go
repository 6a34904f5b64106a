package search

import "cabwright/planner"

// ColourShare returns the colour share of a candidate at any pose in a stone, 0 to
// 1, as Fit.Colour has it for what the search found: for a fit moved by hand.
func ColourShare(stone planner.Stone, c Candidate, pose Pose) float64 {
	return reporter{zones: stone.Colour}.colour(c, pose)
}
