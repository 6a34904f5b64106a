package search

import "cabwright/planner"

// ColourShare returns the colour share of a candidate at any pose in a stone, 0 to
// 1, as Fit.Colour has it for what the search found: for a fit moved by hand. It
// is 0 while the rough is not known.
func ColourShare(rough *planner.Rough, stone planner.Stone, c Candidate, pose Pose) float64 {
	if rough == nil {
		return 0
	}
	return planner.ColourShare(rough, stone.Colour, c.Face, c.Solid, pose.Place)
}
