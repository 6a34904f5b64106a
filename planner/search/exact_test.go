package search

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
	"cabwright/planner/search/internal/poses"
	"cabwright/planner/search/internal/searchtest"
)

// exactCase is a polygon in which the largest outline of a kind is known.
type exactCase struct {
	name, source  string
	poly          []geometry.Vec2
	shape         string
	length, width float64        // of the largest
	centre        *geometry.Vec2 // where it lies; nil: anywhere
	skin          float64
}

func vertices(scale float64, xy ...float64) []geometry.Vec2 {
	var out []geometry.Vec2
	for i := 0; i+1 < len(xy); i += 2 {
		out = append(out, geometry.Vec2{X: scale * xy[i], Y: scale * xy[i+1]})
	}
	return out
}

func exactCases() []exactCase {
	at := func(x, y float64) *geometry.Vec2 { return &geometry.Vec2{X: x, Y: y} }
	cases := []exactCase{
		{name: "kite", source: "JTS, MaximumInscribedCircleTest.testKite",
			poly: vertices(0.1, 100, 0, 200, 200, 300, 200, 300, 100), shape: "round",
			length: 0.2 * 61.803398874989476, width: 0.2 * 61.803398874989476, centre: at(
				23.819660112501052, 13.819660112501052,
			)},
		{name: "obtuse triangle", source: "JTS, testTriangleObtuse",
			poly: vertices(10, 1, 1, 1, 9, 2, 2), shape: "round",
			length: 20 * 0.4852813742385702, width: 20 * 0.4852813742385702, centre: at(14.852813742385702, 21.7157287525381)},
		{name: "right triangle", source: "JTS, testTriangleRight",
			poly: vertices(3, 1, 1, 1, 7, 9, 1), shape: "round", length: 12, width: 12, centre: at(9, 9)},
		{name: "thin quadrangle", source: "JTS, testThinQuad",
			poly: vertices(5, 1, 2, 9, 3, 9, 1, 1, 1), shape: "round",
			length: 10 * 0.937742251701450, width: 10 * 0.937742251701450, centre: at(5*8.06225774829855, 5*1.9377422517014502)},
		{name: "trapezium with a corner that is none", source: "JTS, testQuadWithCollinearVertex",
			poly: vertices(4, 1, 5, 5, 5, 9, 5, 5, 1), shape: "round",
			length: 8 * 1.6568542494923801, width: 8 * 1.6568542494923801, centre: at(20, 4*3.34314575050762)},
		// A circle that touches x = 0, y = 0 and the inner corner (1, 1): r sqrt 2 + r = sqrt 2.
		{name: "L of three squares", source: "elementary geometry",
			poly: vertices(15, 0, 0, 2, 0, 2, 1, 1, 1, 1, 2, 0, 2), shape: "round",
			length: 30 * (2 - math.Sqrt2), width: 30 * (2 - math.Sqrt2), centre: at(15*(2-math.Sqrt2), 15*(2-math.Sqrt2))},
		// The half width of an ellipse at 45 degrees is sqrt((a^2 + b^2)/2) = 1/2.
		{name: "4:3 ellipse in a square", source: "elementary geometry: semi-major axis 0.565685",
			poly: vertices(20, 0, 0, 1, 0, 1, 1, 0, 1), shape: "oval",
			length: 40 * math.Sqrt(0.5/(1+0.5625)), width: 30 * math.Sqrt(0.5/(1+0.5625)), centre: at(10, 10)},
		// The same with an allowance: the square is that much larger on all sides.
		{name: "4:3 ellipse with an allowance", source: "elementary geometry",
			poly: vertices(1, -0.5, -0.5, 20.5, -0.5, 20.5, 20.5, -0.5, 20.5), shape: "oval", skin: 0.5,
			length: 40 * math.Sqrt(0.5/(1+0.5625)), width: 30 * math.Sqrt(0.5/(1+0.5625)), centre: at(10, 10)},
		{name: "square in a square", source: "elementary geometry",
			poly: vertices(1, 0, 0, 12, 0, 12, 12, 0, 12), shape: "square", length: 12, width: 12, centre: at(6, 6)},
	}
	// The ellipse of greatest area in a triangle is Steiner's, so of its own
	// proportions it is the largest. Its axes: MathWorld, Steiner Inellipse.
	tri := vertices(1, 0, 0, 24, 0, 7, 19)
	a, b, c := tri[0].Sub(tri[1]).Norm(), tri[1].Sub(tri[2]).Norm(), tri[2].Sub(tri[0]).Norm()
	z := math.Sqrt(a*a*a*a + b*b*b*b + c*c*c*c - a*a*b*b - b*b*c*c - c*c*a*a)
	return append(cases, exactCase{name: "Steiner's ellipse", source: "Steiner; area pi/(3 sqrt 3) of the triangle's",
		poly: tri, shape: "oval", length: math.Sqrt(a*a+b*b+c*c+2*z) / 3, width: math.Sqrt(a*a+b*b+c*c-2*z) / 3,
		centre: at((0+24+7)/3.0, 19/3.0)})
}

func TestSteinerAxes(t *testing.T) {
	cases := exactCases()
	c := cases[len(cases)-1]
	require.InDelta(t, math.Pi/(3*math.Sqrt(3))*geometry.Area(c.poly), math.Pi/4*c.length*c.width, 1e-9)
}

// grown is the case's cabochon, scaled in plan.
func (c exactCase) grown(t *testing.T, scale float64) solid.Cabochon {
	o, err := outline.New(c.shape, c.length*scale, c.width*scale)
	require.NoError(t, err)
	return solid.Cabochon{Outline: o, Wall: 1.2, WallLeanDeg: 10, Dome: 2, Sides: 1}
}

// In an upright prism, kept level, the largest outline of a kind fits when it is
// two thousandths smaller and is refused when it is as much larger: on a 12 mm
// stone that is 12 micrometres a side.
func TestLargestOutlinesKnown(t *testing.T) {
	const by = 2e-3
	for _, c := range exactCases() {
		t.Run(c.name, func(t *testing.T) {
			f := searchtest.FieldOf(t, searchtest.Slab(geometry.CounterClockwise(c.poly), 0, 6, c.skin))
			fit, verdict := ask(f, poses.NewModel(c.grown(t, 1-by), false), 0)
			require.Equal(t, Fits, verdict, c.source)
			// Growing the gap by d moves the best place by a few d.
			require.InDelta(
				t, 0, c.centre.Sub(geometry.Vec2{X: fit.at[0], Y: fit.at[1]}).Norm(), 0.25, "%s at %v", c.source, fit.at,
			)
			none, verdict := ask(f, poses.NewModel(c.grown(t, 1+by), false), 0)
			require.Equal(t, CannotFit, verdict, c.source)
			require.Less(t, none.bound, 0.0)
		})
	}
}

// The best clearance in such prisms is known as well: the inscribed circle's
// radius less the stone's. It lies between what is certified and what is proved.
func TestBestClearanceKnown(t *testing.T) {
	for _, c := range exactCases() {
		if c.shape != "round" {
			continue
		}
		f := searchtest.FieldOf(t, searchtest.Slab(geometry.CounterClockwise(c.poly), 0, 12, c.skin))
		want := c.length / 2 * 0.1
		tr, verdict := ask(f, poses.NewModel(c.grown(t, 0.9), false), 0)
		require.Equal(t, Fits, verdict)
		const tol = 0.05
		testRun(f, 0).prove(tr)
		require.True(t, tr.proved, c.name)
		require.LessOrEqual(t, tr.lower, want+1e-6, c.name)
		require.GreaterOrEqual(t, tr.lower, want-tol, c.name)
	}
}
