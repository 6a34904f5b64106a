package cuts

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/presets"
)

// box is a block of the given size, a corner at the origin, at SG 2.10.
func box(length, width, height float64) planner.Stone {
	return planner.Stone{
		Name: "block", Material: "opal", SG: 2.10,
		Outline:    []geometry.Vec2{{X: 0, Y: 0}, {X: length, Y: 0}, {X: length, Y: width}, {X: 0, Y: width}},
		Top:        []geometry.Vec3{{X: length / 2, Y: width / 2, Z: height}},
		Base:       []geometry.Vec3{{X: length / 2, Y: width / 2, Z: 0}},
		Allowances: planner.Allowances{Skin: 0.5, Crack: 1, SealedCrack: 0.6, Pocket: 0.5},
	}
}

func body(t testing.TB, s planner.Stone) *Body {
	t.Helper()
	b, err := NewBody(s, presets.Builtin())
	require.NoError(t, err)
	return b
}

// upcut is an upright cut through (x, y), its normal at the angle in degrees.
func upcut(x, y, deg, kerf float64) Cut {
	s, c := math.Sincos(deg * math.Pi / 180)
	return Cut{Plane: Plane{Point: geometry.Vec3{X: x, Y: y}, Normal: geometry.Vec3{X: c, Y: s}}, Kerf: kerf}
}

// leant turns a cut's normal up by some degrees.
func leant(c Cut, deg float64) Cut {
	s, k := math.Sincos(deg * math.Pi / 180)
	c.Normal = geometry.Vec3{X: c.Normal.X * k, Y: c.Normal.Y * k, Z: s}
	return c
}

// placed is a level stone at (x, y, z), weighed.
func placed(t require.TestingT, shape string, length, width, dome, x, y, z float64, piece string) Placed {
	o, err := outline.New(shape, length, width)
	require.NoError(t, err)
	c := solid.Cabochon{Outline: o, Wall: 1.2, WallLeanDeg: 10, Dome: dome, Sides: 1}
	f := search.Fit{
		Candidate: search.Candidate{Solid: c, Face: planner.Top, DomeStyle: "medium", BackStyle: "flat"},
		Pose:      search.Pose{Origin: geometry.Vec3{X: x, Y: y, Z: z}, Axes: geometry.Identity3()},
		Volume:    c.Volume(), Carat: planner.Carat(c.Volume(), 2.10),
	}
	return Placed{Fit: f, Piece: piece}
}
