package search

import (
	"math"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/search/internal/poses"
)

// Screen is one solid made ready for quick looks at many poses, by samples of it (see
// poses.Sample): each is a part of the solid, so that what a sample breaks the solid
// breaks, while what the samples keep may yet be broken between them. Not safe for use
// by several goroutines.
type Screen struct {
	model *poses.Model
	balls []geometry.Vec3 // where the samples lie
	low   []float64       // bounds of their clearance, for About
}

// NewScreen samples a solid whose dome points out of the top, or out of the base.
func NewScreen(c Candidate) *Screen {
	m := poses.NewModel(c.Solid, c.Face == planner.Base)
	return &Screen{model: m, balls: make([]geometry.Vec3, len(m.Samples)), low: make([]float64, len(m.Samples))}
}

// Lay puts the samples at a pose.
func (s *Screen) Lay(at Pose) {
	c := s.model.CoordOf(at)
	r := c.Rotation()
	pivot := c.Pivot()
	for i := range s.balls {
		s.balls[i] = r.Apply(s.model.Samples[i].At).Add(pivot)
	}
}

// About returns the clearance from everything of a site as the samples see it, right to
// about a hundredth of a millimetre; below stop it may be any value below stop.
func (s *Screen) About(site *Site, stop float64) float64 {
	site.ready()
	lowest := 0
	for i, p := range s.balls {
		if s.low[i] = site.field.AtLeast(p) - s.model.Samples[i].Radius; s.low[i] < s.low[lowest] {
			lowest = i
		}
	}
	least := site.field.Estimate(s.balls[lowest], math.Inf(1)) - s.model.Samples[lowest].Radius
	for i, p := range s.balls {
		if least < stop {
			break
		}
		if s.low[i] < least {
			r := s.model.Samples[i].Radius
			least = min(least, site.field.Estimate(p, least+r)-r)
		}
	}
	return least
}
