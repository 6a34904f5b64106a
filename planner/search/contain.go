package search

import (
	"math"
	"sync"

	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
)

// containment passes proofs from one solid to another: a pose of the outer with
// clearance c gives the inner one c less its stick-out at least, so a bound on
// the inner one's clearance bounds the outer's, stick-out added.
type containment struct {
	outlines []outline.Outline
	once     []sync.Once
	profiles []outline.Profile
	// The outlines' radii in some directions, for a quick look before the real
	// one.
	radii [][]float64
}

const radiusDirections = 24

func newContainment(outlines []outline.Outline) *containment {
	n := len(outlines)
	c := &containment{outlines: outlines, once: make([]sync.Once, n), profiles: make([]outline.Profile, n)}
	for _, o := range outlines {
		r := make([]float64, radiusDirections)
		for k := range r {
			r[k] = o.Radius(2 * math.Pi * float64(k) / radiusDirections)
		}
		c.radii = append(c.radii, r)
	}
	return c
}

func (c *containment) profile(i int) outline.Profile {
	c.once[i].Do(func() { c.profiles[i] = c.outlines[i].Profile() })
	return c.profiles[i]
}

// stickOut returns an upper bound on how far inner sticks out of outer, or
// +Inf where it plainly sticks out by more than worth is.
func (c *containment) stickOut(outer, inner *trial, worth float64) float64 {
	if inner.volume > outer.volume || inner.Solid.Dome > outer.Solid.Dome+worth ||
		inner.Solid.BackDepth() > outer.Solid.BackDepth()+worth {
		return math.Inf(1)
	}
	if inner.size == outer.size {
		// One outline: only the heights differ, and they were compared.
		return max(0, max(inner.Solid.Dome-outer.Solid.Dome, inner.Solid.BackDepth()-outer.Solid.BackDepth()))
	}
	in, out := c.radii[inner.size], c.radii[outer.size]
	for k, r := range in {
		// Sticking out along a radius by d is being off by at least d/2 for outlines
		// whose sides stand less than 60 degrees off square to the radius.
		if r-out[k] > 2*worth {
			return math.Inf(1)
		}
	}
	return solid.StickOut(outer.Solid, inner.Solid, c.profile(outer.size), c.profile(inner.size))
}
