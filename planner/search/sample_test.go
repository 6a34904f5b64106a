package search

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cabwright/geometry"
	"cabwright/geometry/geomtest"
	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
	"cabwright/planner"
	"cabwright/presets"
)

// own turns a sample back into the solid's own axes.
func (m *model) own(s sample) geometry.Vec3 {
	p := s.at
	if m.flip {
		p.Y, p.Z = -p.Y, -p.Z
	}
	p.Z += m.pivot
	return p
}

// outside tells by how much a point breaks the contract's inequalities of the
// solid: 0 or less inside.
func outside(c solid.Cabochon, p geometry.Vec3) float64 {
	rho := c.Outline.Gauge(p.X, p.Y)
	if rho > 1 {
		return (rho - 1) * p.XY().Norm()
	}
	return max(p.Z-c.Upper(rho), c.Lower(rho)-p.Z)
}

// Every sample is a point of the solid: gauge and heights as the contract has
// them. Balls are in it with their whole surface.
func TestSamplesLieInTheSolid(t *testing.T) {
	kinds := map[bool]int{}
	rapid.Check(t, func(t *rapid.T) {
		c := geomtest.Cabochon().Draw(t, "solid")
		if c.RimRatio() < 0.3 {
			return // not asked for: see trialsFor
		}
		m := newModel(c, rapid.Bool().Draw(t, "flip"))
		for _, s := range m.samples {
			p := m.own(s)
			// A hair inwards: where the skin stands upright, a rounding of the gauge
			// would count as a height.
			hair := geometry.Vec3{X: p.X * (1 - 1e-9), Y: p.Y * (1 - 1e-9), Z: p.Z}
			require.LessOrEqual(t, outside(c, hair), 1e-9, "%+v", p)
			require.InDelta(t, s.at.Norm(), s.lever, 1e-12)
			require.InDelta(t, math.Hypot(s.at.X, s.at.Y), s.flat, 1e-12)
			kinds[s.radius > 0]++
			if s.radius == 0 {
				continue
			}
			for i := range 80 {
				// Points spread over a ball: the golden angle (Fibonacci lattice).
				z := 1 - (2*float64(i)+1)/80
				sin, cos := math.Sincos(float64(i) * math.Pi * (3 - math.Sqrt(5)))
				flat := math.Sqrt(1 - z*z)
				q := p.Add(geometry.Vec3{X: flat * cos, Y: flat * sin, Z: z}.Scale(s.radius))
				require.LessOrEqual(t, outside(c, q), 1e-6, "ball %g about %v", s.radius, p)
			}
		}
		require.Equal(t, c.Outline.TurnPeriod(), m.period)
	})
	require.Greater(t, kinds[true], 100, "balls were looked at")
	require.Greater(t, kinds[false], 1000)
}

// No part of a preset's skin is further from a sample than samples are apart,
// the face of a flat back aside, which is sampled thinly: what touches it is met
// at its rim or found by the exact check.
func TestSamplesCoverTheSkin(t *testing.T) {
	t.Parallel()
	set := presets.Builtin()
	for _, o := range sizes(set, Options{}) {
		for _, back := range []float64{0, o.Width * 0.2} {
			c := cab(t, o.Shape, o.Length, o.Width, 0.3*o.Width, back)
			if c.RimRatio() < 0.3 {
				continue
			}
			m := newModel(c, false)
			// 110 points at most go round the outline, so a large one has wider gaps.
			apart := max(0.9, perimeter(c)/110)
			for _, p := range denseSkin(c, 60) {
				if back == 0 && p.Z == 0 {
					continue
				}
				near := math.Inf(1)
				for _, s := range m.samples {
					near = min(near, p.Sub(m.own(s)).Norm())
				}
				require.LessOrEqual(t, near, 1.6*apart, "%s %gx%g back %g at %v", o.Shape, o.Length, o.Width, back, p)
			}
		}
	}
}

// Passing a proof on from a size to another is right for a heavier one that holds
// it, and refused otherwise.
func TestStickOutOfTrials(t *testing.T) {
	set := presets.Builtin()
	outlines := sizes(set, Options{})
	trials := trialsFor(set, outlines, planner.Top, Options{})
	inside := newContainment(outlines)
	r := random(5)
	finite, zero := 0, 0
	for range manySolids * 20 {
		outer, inner := trials[r.IntN(len(trials))], trials[r.IntN(len(trials))]
		worth := between(r, 0, 2)
		s := inside.stickOut(outer, inner, worth)
		require.GreaterOrEqual(t, s, 0.0)
		if math.IsInf(s, 1) {
			continue
		}
		finite++
		if s == 0 {
			zero++
		}
		require.LessOrEqual(t, inner.volume, outer.volume)
		for _, p := range denseSkin(inner.Solid, 10) {
			d := geomtest.Distance(outer.Solid, p, 16)
			if d > s { // looked at more closely
				d = geomtest.Distance(outer.Solid, p, 96)
			}
			require.LessOrEqual(t, d, s+1e-4, "%v in %v", inner.Candidate, outer.Candidate)
		}
	}
	assert.Greater(t, finite, 20)
	assert.Greater(t, zero, 5)
}

// Signs of stickOut on pairs that anyone can see.
func TestStickOutSigns(t *testing.T) {
	var outlines []outline.Outline
	for _, s := range [][2]float64{{16, 12}, {14, 10}, {12, 10}} {
		o, err := outline.New("oval", s[0], s[1])
		require.NoError(t, err)
		outlines = append(outlines, o)
	}
	trial := func(size int, dome, back float64) *trial {
		o := outlines[size]
		c := cab(t, "oval", o.Length, o.Width, dome, back)
		return &trial{Candidate: Candidate{Solid: c}, volume: c.Volume(), size: size}
	}
	in := newContainment(outlines)
	assert.Zero(t, in.stickOut(trial(0, 4, 0), trial(1, 3, 0), 1), "a smaller one of the family")
	assert.Zero(t, in.stickOut(trial(0, 4, 0), trial(0, 3, 0), 1), "a lower dome on the same outline")
	assert.InDelta(t, 0.2, in.stickOut(trial(0, 4, 1), trial(0, 3, 1.2), 1), 1e-9, "a deeper back")
	assert.InDelta(t, 0.5, in.stickOut(trial(0, 3, 1), trial(0, 3.5, 0.2), 1), 1e-9, "a taller dome, a shallower back")
	assert.Equal(t, math.Inf(1), in.stickOut(trial(1, 3, 0), trial(0, 4, 0), 1), "the larger in the smaller")
	assert.Equal(t, math.Inf(1), in.stickOut(trial(0, 3, 0), trial(1, 4.2, 0), 1), "a dome that stands out by more than it is worth")
	assert.Equal(t, math.Inf(1), in.stickOut(trial(2, 10, 0), trial(1, 3, 0), 0.3), "2 mm longer, and heavier or not")
}
