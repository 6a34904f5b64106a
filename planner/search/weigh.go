package search

import (
	"cabwright/planner"
	"cabwright/presets"
)

// Weigh returns what a solid at a pose is worth telling of: its volume, its
// weights and the colour it shows. Whether it fits there is not asked: its
// clearance is 0 and nothing limits it.
func Weigh(stone planner.Stone, set *presets.Set, c Candidate, pose Pose) Fit {
	r := &run{stone: stone, set: set, opt: Options{}.filled()}
	rep := r.reporter(nil)
	v := c.Solid.Volume()
	size := [3]float64{c.Solid.Outline.Length, c.Solid.Outline.Width, c.Solid.Height()}
	band := planner.CaratBand(v, size, planner.DimensionTolerance, rep.sgLow, rep.sg, rep.sgHigh)
	return Fit{
		Candidate: c, Pose: pose, Volume: v, Carat: band.Likely, CaratLow: band.Low, CaratHigh: band.High,
		Colour: rep.colour(c, pose),
	}
}
