package search

import (
	"context"
	"fmt"
	"math"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/geometry/geomtest"
	"cabwright/geometry/solid"
	"cabwright/planner"
	"cabwright/planner/search/internal/poses"
	"cabwright/planner/search/internal/searchtest"
	"cabwright/presets"
)

// spare is how much more than the allowance the rough leaves, mm: twice what the
// exact check resolves, a fifth of the tolerance.
const spare = 0.01

// roughFor is rough that is exactly one cabochon plus its allowance: a slab as
// thick as the stone is high, lying as the stone is to lie, over the outline that
// the stone covers in plan, both wider by skin and spare on all sides.
//
// The stone's clearance there is exactly skin and spare, and no pose keeps more,
// for between two parallel planes the height along the dome is the least width
// of a stone that is wider than high.
func roughFor(c solid.Cabochon, pose Pose, skin float64) planner.Stone {
	s := searchtest.Slab(nil, 0, 0, skin)
	// The faces are the planes at the stone's top and bottom, moved out by the
	// allowance along the dome; three readings each lay them exactly.
	up := pose.Axes.W
	plane := func(w float64) []geometry.Vec3 {
		at := pose.Place(geometry.Vec3{Z: w})
		var out []geometry.Vec3
		for _, q := range []geometry.Vec2{{X: 15}, {X: -12, Y: 14}, {X: -10, Y: -13}} {
			out = append(out, geometry.Vec3{X: q.X, Y: q.Y, Z: at.Z - (up.X*(q.X-at.X)+up.Y*(q.Y-at.Y))/up.Z})
		}
		return out
	}
	high, low := plane(c.Wall+c.Dome+skin+spare), plane(-c.BackDepth()-skin-spare)
	if up.Z < 0 {
		high, low = low, high
	}
	s.Top, s.Base = high, low
	// The outline is the polygon of the tangents in 240 directions: outside the
	// true curve by about a micrometre.
	const n = 240
	points := make([]geometry.Vec2, 0, 30000)
	for _, q := range geomtest.Skin(c, 180) {
		points = append(points, pose.Place(q).XY())
	}
	lines := make([]float64, n)
	for k := range lines {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / n)
		reach := math.Inf(-1)
		for _, q := range points {
			reach = max(reach, q.X*cos+q.Y*sin)
		}
		lines[k] = reach + skin + spare
	}
	for k := range lines {
		a, b := 2*math.Pi*float64(k)/n, 2*math.Pi*float64(k+1)/n
		p, q := lines[k], lines[(k+1)%n]
		det := math.Sin(b - a)
		s.Outline = append(
			s.Outline, geometry.Vec2{X: (p*math.Sin(b) - q*math.Sin(a)) / det, Y: (q*math.Cos(a) - p*math.Cos(b)) / det},
		)
	}
	return s
}

// giveBack is one cabochon to be given back.
type giveBack struct {
	shape         string
	length, width float64
	dome, back    string // styles
	face          planner.Face
	tiltDeg, way  float64 // of the dome axis from the vertical, towards this direction
}

func (g giveBack) String() string {
	return fmt.Sprintf("%s %gx%g %s %s %s tilt %g", g.shape, g.length, g.width, g.dome, g.back, g.face, g.tiltDeg)
}

// solid is the preset cabochon.
func (g giveBack) solid(t *testing.T) solid.Cabochon {
	set := presets.Builtin()
	style, ok := set.DomeStyle(g.dome)
	require.True(t, ok)
	back, ok := set.BackStyle(g.back)
	require.True(t, ok)
	dome := style.HeightByWidth * g.width
	c := geomtest.Cab(g.shape, g.length, g.width, dome, 0)
	c.Sides = back.Sides()
	if c.Sides == 2 {
		c.Back = back.Depth(c.Wall, dome)
	}
	return c
}

// pose leans the dome over and turns the stone a little.
func (g giveBack) pose(c solid.Cabochon) Pose {
	m := poses.NewModel(c, g.face == planner.Base)
	at := poses.Coord{0.37, -0.81, 5.3, 0.4}
	sin, cos := math.Sincos(g.way * math.Pi / 180)
	at[poses.Lean], at[poses.Lean+1] = g.tiltDeg*math.Pi/180*sin, g.tiltDeg*math.Pi/180*cos
	return m.Pose(poses.Within(at, g.tiltDeg*math.Pi/180))
}

func giveBacks() []giveBack {
	all := []giveBack{
		{"round", 10, 10, "medium", "flat", planner.Top, 0, 0},
		{"round", 8, 8, "high", "lentil", planner.Base, 0, 0},
		{"oval", 14, 10, "high", "flat", planner.Base, 0, 0},
		{"oval", 12, 10, "medium", "slight", planner.Top, 11, 70},
		{"cushion", 10, 10, "low", "slight", planner.Top, 0, 0},
		{"square", 9, 9, "medium", "flat", planner.Top, 8, 200},
		{"rectangle", 12, 10, "high", "flat", planner.Base, 0, 0},
		{"octagon", 11, 9, "medium", "lentil", planner.Top, 0, 0},
		{"pear", 13, 9, "medium", "flat", planner.Top, 0, 0},
		{"pear", 9, 7, "high", "slight", planner.Base, 12, -40},
		{"marquise", 14, 7, "high", "flat", planner.Top, 0, 0},
		{"triangle", 9, 9, "low", "flat", planner.Base, 6, 120},
		{"heart", 10, 10, "medium", "flat", planner.Top, 0, 0},
		{"heart", 8, 8, "high", "slight", planner.Base, 0, 0},
	}
	if !searchtest.Long {
		return all
	}
	for _, shape := range []string{
		"round", "oval", "cushion", "square", "rectangle", "octagon", "pear", "marquise", "triangle", "heart",
	} {
		for _, back := range []string{"flat", "slight", "lentil"} {
			for i, face := range []planner.Face{planner.Top, planner.Base} {
				for k, tilt := range []float64{0, 9} {
					l, w := 10.0, 10.0
					switch shape {
					case "oval", "pear", "rectangle", "octagon":
						w = 8
					case "marquise":
						w = 5
					}
					all = append(
						all,
						giveBack{shape, l, w, []string{"low", "medium", "high"}[(i+k)%3], back, face, tilt, float64(50*i + 100*k)},
					)
				}
			}
		}
	}
	return all
}

// Rough that is one cabochon and its allowance gives that cabochon back, with a
// clearance within the tolerance of what is left, and no heavier one on that
// face and back.
func TestGiveBack(t *testing.T) {
	t.Parallel()
	var given atomic.Int32
	all := giveBacks()
	if searchtest.Raced {
		all = all[:2]
	}
	for _, g := range all {
		t.Run(g.String(), func(t *testing.T) {
			c := g.solid(t)
			pose := g.pose(c)
			s := roughFor(c, pose, 0.5)
			// What the construction says of itself, by the exact field.
			f := searchtest.FieldOf(t, s)
			require.InDelta(t, spare, searchtest.DenseClearance(f, geomtest.Skin(c, 120), pose), 0.005)

			opt := Options{
				Shapes: []string{g.shape}, Faces: []planner.Face{g.face}, Sides: []int{c.Sides}, Level: g.tiltDeg == 0,
				Workers: 1,
			}
			plan, err := Run(context.Background(), s, opt, nil)
			require.NoError(t, err)
			found, fuller := false, false
			for _, fit := range plan.Fits {
				// Of one outline and as many sides only the fullest solid is kept: a lower
				// dome over a deeper back may be that, and fit upside down.
				sized := fit.Solid.Outline.Length == g.length && fit.Solid.Outline.Width == g.width
				fuller = fuller || sized && fit.BackStyle != g.back && fit.Volume > c.Volume()
				assert.GreaterOrEqual(t, fit.Clearance, 0.0)
				// A lentil's back is as good a front; so is a lower dome on a larger outline.
				if sized && fit.DomeStyle == g.dome && fit.BackStyle == g.back {
					found = true
					assert.LessOrEqual(t, fit.Clearance, spare+1e-3)
				}
				if fit.BackStyle == g.back {
					assert.False(
						t, fit.Solid.Outline.Length > g.length && fit.Solid.Outline.Width > g.width, "the next size up: %+v",
						fit.Solid,
					)
					assert.LessOrEqual(t, fit.Volume, c.Volume()*(1+1e-9), "%+v", fit.Solid)
				}
			}
			said := fmt.Sprintf("%d fits, stopped %s", len(plan.Fits), plan.Stopped)
			within := false
			for _, out := range plan.RuledOut {
				sized := out.Solid.Outline.Length == g.length && out.Solid.Outline.Width == g.width
				if sized && out.DomeStyle == g.dome && out.BackStyle == g.back {
					within = out.Verdict == Undecided && out.Bound <= plan.Tolerance
					said += fmt.Sprintf(", verdict %d, bound %g", out.Verdict, out.Bound)
				}
			}
			// Undecided by less than the tolerance is an answer as well, but a rare one.
			assert.True(t, found || within || fuller, said)
			if found {
				given.Add(1)
			}
			for _, out := range plan.RuledOut {
				if out.BackStyle == g.back && out.Solid.Outline.Width > g.width {
					assert.Equal(t, CannotFit, out.Verdict, "%+v", out.Solid)
				}
			}
		})
	}
	require.GreaterOrEqual(t, int(given.Load()), len(all)*9/10)
}
