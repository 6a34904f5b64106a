package search

import (
	"cabwright/planner"
	"cabwright/presets"
)

// Weigh returns what a solid at a pose is worth telling of: its volume, its
// weights and the colour it shows. Whether it fits there is not asked: its
// clearance is 0 and nothing limits it.
func Weigh(stone planner.Stone, rough *planner.Rough, set *presets.Set, c Candidate, pose Pose) Fit {
	gravity := planner.GravityOf(stone, set, rough.Volume())
	v := c.Solid.Volume()
	size := [3]float64{c.Solid.Outline.Length, c.Solid.Outline.Width, c.Solid.Height()}
	band := planner.CaratBand(v, size, planner.DimensionTolerance, gravity)
	return Fit{
		Candidate: c, Pose: pose, Volume: v, Carat: band.Likely, CaratLow: band.Low, CaratHigh: band.High,
		Colour: ColourShare(rough, stone, c, pose),
	}
}
