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
	mid   geometry.Vec3   // the ball that holds the solid
	far   float64
}

// NewScreen samples a solid whose dome points out of the top, or out of the base.
func NewScreen(c Candidate) *Screen {
	m := poses.NewModel(c.Solid, c.Face == planner.Base)
	s := &Screen{model: m, balls: make([]geometry.Vec3, len(m.Samples)), low: make([]float64, len(m.Samples))}
	for _, b := range m.Samples {
		s.far = max(s.far, b.Lever+b.Radius)
	}
	return s
}

// Lay puts the samples at a pose.
func (s *Screen) Lay(at Pose) {
	c := s.model.CoordOf(at)
	r := c.Rotation()
	s.mid = c.Pivot()
	for i := range s.balls {
		s.balls[i] = r.Apply(s.model.Samples[i].At).Add(s.mid)
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

// Touching appends to out which samples come nearer to a mark of the site than its
// allowance by more than fine, mm: of those in among, or of all where that is nil.
func (s *Screen) Touching(site *Site, fine float64, among, out []int32) []int32 {
	s.each(site, 0, among, func(i int32, clearance float64) {
		if clearance < -fine {
			out = append(out, i)
		}
	})
	return out
}

// Least returns the least clearance of some samples from the marks of a site, mm, where
// that is below enough.
func (s *Screen) Least(site *Site, among []int32, enough float64) float64 {
	least := enough
	s.each(site, enough, among, func(_ int32, clearance float64) { least = min(least, clearance) })
	return least
}

// each measures samples against each mark that may be nearer than enough.
func (s *Screen) each(site *Site, enough float64, among []int32, found func(sample int32, clearance float64)) {
	for k := 1; k < site.field.Obstacles(); k++ {
		near := site.field.AroundOnly(k, s.mid, s.far, enough)
		if near.Empty() {
			continue
		}
		ask := func(i int32) {
			r := s.model.Samples[i].Radius
			c := near.Corner(s.balls[i], enough+r)
			found(i, near.Least(&c)-r)
		}
		if among == nil {
			for i := range s.balls {
				ask(int32(i))
			}
			continue
		}
		for _, i := range among {
			ask(i)
		}
	}
}
