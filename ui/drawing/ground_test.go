package drawing

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/ui/canvas"
	"cabwright/ui/style"
)

// board is a ground of so many cells, a millimetre wide each.
func board(cols, rows int) *ground {
	c := canvas.New(cols, rows, canvas.Braille)
	c.SetView(canvas.View{MMPerCell: 1})
	return newGround(c, *style.New(style.TrueColour, style.Dark).Palette())
}

// A mask covers as much as the polygon's area: half cells are squares of 1 mm2
// here, and only the four lines a row is looked at along are not exact.
func TestMaskHoldsThePolygonsArea(t *testing.T) {
	g := board(40, 20)
	assert.Empty(t, g.mask(nil).share)
	assert.Empty(t, g.mask([]geometry.Vec2{v2(0, 0), v2(1, 1)}).share)
	assert.Empty(t, g.mask([]geometry.Vec2{v2(0, 0), v2(1, math.NaN()), v2(2, 0)}).share)
	rapid.Check(t, func(t *rapid.T) {
		num := rapid.Float64Range(-15, 15)
		tri := []geometry.Vec2{v2(num.Draw(t, "ax"), num.Draw(t, "ay")), v2(num.Draw(t, "bx"), num.Draw(t, "by")),
			v2(num.Draw(t, "cx"), num.Draw(t, "cy"))}
		sum := 0.0
		for _, s := range g.mask(tri).share {
			require.LessOrEqual(t, float64(s), 1+1e-5)
			sum += float64(s)
		}
		// Between two lines, a quarter of a millimetre apart, the width changes
		// by no more than the triangle is wide.
		require.InDelta(t, math.Abs(geometry.Area(tri)), sum, 30*0.25)
	})
}

// The distance to a triangle against a dense net of points on it.
func TestToTriangleAgainstANet(t *testing.T) {
	assert.InDelta(t, 2, toTriangle(v3(0, 0, 2), v3(0, 0, 0), v3(0, 0, 0), v3(0, 0, 0)), 1e-12, "a point")
	rapid.Check(t, func(t *rapid.T) {
		num := rapid.Float64Range(-5, 5)
		draw := func(name string) geometry.Vec3 {
			return v3(num.Draw(t, name+"x"), num.Draw(t, name+"y"), num.Draw(t, name+"z"))
		}
		p, a, b, c := draw("p"), draw("a"), draw("b"), draw("c")
		best := math.Inf(1)
		const n = 60
		for i := range n + 1 {
			for j := range n + 1 - i {
				q := a.Add(b.Sub(a).Scale(float64(i) / n)).Add(c.Sub(a).Scale(float64(j) / n))
				best = math.Min(best, p.Sub(q).Norm())
			}
		}
		got := toTriangle(p, a, b, c)
		require.LessOrEqual(t, got, best+1e-9)
		// No point of it is further from the net than a mesh is long: 17.4/60.
		require.GreaterOrEqual(t, got, best-0.3)
	})
}

// On a slab of 6 mm, rectangle 24 x 16, skin 0.5, crack 1, pocket 0.4, each
// distance can be read off.
func TestBreachByHand(t *testing.T) {
	s := slab()
	s.Cracks = []planner.Crack{{ID: "C1", Path: []geometry.Vec2{v2(-9, -5), v2(-9, 5)}, Face: planner.Top, Depth: 3}}
	s.Pockets = []planner.Pocket{{ID: "P1", Outline: []geometry.Vec2{v2(6, -2), v2(9, -2), v2(9, 2), v2(6, 2)},
		Face: planner.Base, Depth: 2}}
	o := newObstacles(roughOf(t, s), s)
	for _, c := range []struct {
		at   geometry.Vec3
		want float64
		why  string
	}{
		{v3(0, 0, 6.8), 0.5 - 0.2, "0.2 under the top at 7"},
		{v3(0, 0, 1.1), 0.5 - 0.1, "0.1 over the base at 1"},
		{v3(11.7, 0, 4), 0.5 - 0.3, "0.3 from the outline at 12"},
		{v3(0, 0, 7.5), 0.5 + 0.5, "0.5 outside the top"},
		{v3(-8.4, 0, 5), 1 - 0.6, "0.6 beside the crack's sheet"},
		{v3(-9, 0, 3.5), 1 - 0.5, "0.5 under the sheet's end at 4"},
		{v3(7, 0, 3.1), 0.4 - 0.1, "0.1 over the pocket's floor at 3"},
		{v3(5.7, 0, 2), 0.4 - 0.3, "0.3 beside the pocket"},
	} {
		assert.InDelta(t, c.want, o.breach(c.at), 1e-9, c.why)
	}
	assert.Negative(t, o.breach(v3(0, 0, 4)), "in the middle nothing is too near")
}

// tones counts the half cells of each material.
func tones(c *canvas.Canvas) map[canvas.Material]int {
	w, h := c.Halves()
	out := map[canvas.Material]int{}
	for y := range h {
		for x := range w {
			out[c.Tone(x, y).Material()]++
		}
	}
	return out
}

func scenery(t *testing.T) Scene {
	s := Scene{Stone: slab(), Rough: roughOf(t, slab()), Palette: style.New(style.TrueColour, style.Dark).Palette()}
	s.Fit = level(t, "round", 8, 8, 1, v3(0, 0, 2))
	s.Fit.Clearance = 1
	return s
}

// The ground is painted over the stone and nowhere else, the fit over its own
// area: a slab of 24 x 16 mm and a round of 8 mm, half cells of 0.5 mm.
func TestGroundHasTheStonesArea(t *testing.T) {
	s := scenery(t)
	c := canvas.New(60, 24, canvas.Braille)
	c.SetView(canvas.View{MMPerCell: 0.5})
	Plan(c, s)
	n := tones(c)
	assert.InDelta(t, math.Pi*16/0.25, n[canvas.Finished], 2*math.Pi*8) // half a half cell along its edge
	assert.Equal(t, 24*16*4, n[canvas.Finished]+n[canvas.Rock])
	assert.Zero(t, n[canvas.Breach])
	s.Palette = nil
	c = canvas.New(60, 24, canvas.Braille)
	Plan(c, s)
	assert.Len(t, tones(c), 1, "without a palette there is no ground")
}

// bright is how bright a half cell is.
func bright(c *canvas.Canvas, x, y int) int {
	r, g, b := c.Tone(x, y).RGB()
	return int(r) + int(g) + int(b)
}

// A dome is lighter where it turns to the light, upper left, than opposite; on
// the base face too, which is seen turned over, and when it leans.
func TestADomeIsLitFromTheUpperLeft(t *testing.T) {
	for _, face := range []planner.Face{planner.Top, planner.Base} {
		for _, tilt := range []float64{0, 0.25} {
			s := scenery(t)
			s.Face = face
			if face == planner.Base { // the dome out of the base
				s.Fit.Face = planner.Base
				s.Fit.Pose = search.Pose{Origin: v3(0, 0, 6), Axes: geometry.RotX(math.Pi - tilt)}
			} else {
				s.Fit.Pose.Axes = geometry.RotX(tilt)
			}
			c := canvas.New(60, 24, canvas.Braille)
			v := canvas.View{MMPerCell: 0.5, Mirror: face == planner.Base}
			c.SetView(v)
			paintPlan(c, s)
			assert.Greater(t, bright(c, 30-4, 24-4), bright(c, 30+4, 24+4)+60, "%s, leaning %g", face, tilt)
		}
	}
}

// A fit that breaks an allowance is red where it does: moved to the right edge,
// on its right.
func TestABreachIsRedWhereItIs(t *testing.T) {
	s := scenery(t)
	s.Fit.Pose.Origin.X, s.Fit.Clearance = 7.9, -0.4
	c := canvas.New(60, 24, canvas.Braille)
	c.SetView(canvas.View{MMPerCell: 0.5})
	Plan(c, s)
	w, h := c.Halves()
	var sum, n float64
	for y := range h {
		for x := range w {
			if c.Tone(x, y).Material() == canvas.Breach {
				sum, n = sum+float64(x), n+1
			}
		}
	}
	require.Positive(t, n)
	assert.Greater(t, (sum/n-30)*0.5, 7.9+2, "mm from the middle: on the far side of the fit's own")
	line := s.LongAxis()
	c = canvas.New(60, 24, canvas.Braille)
	c.SetView(s.SectionWindow(line, 60, 24, 2))
	Section(c, s, line)
	assert.Positive(t, tones(c)[canvas.Breach])
}

// A saw cut dims what it takes off: here a quarter of the slab.
func TestAnOffcutIsDimmed(t *testing.T) {
	s := scenery(t)
	s.Fit = nil
	s.Saw = []SawCut{{Name: "1", Point: v3(6, 0, 4), Normal: v3(2, 0, 0), Kerf: 0.3, Offcut: true}}
	c := canvas.New(60, 24, canvas.Braille)
	c.SetView(canvas.View{MMPerCell: 0.5})
	Plan(c, s)
	assert.Equal(t, 6*16*4, tones(c)[canvas.Offcut])
	class, drawn := c.Drawn(30+12, 12)
	assert.True(t, drawn)
	assert.Equal(t, canvas.SawCut, class)
	line := Cut{v2(-12, 0), v2(12, 0)}
	c = canvas.New(60, 24, canvas.Braille)
	c.SetView(s.SectionWindow(line, 60, 24, 2))
	Section(c, s, line)
	n := tones(c)
	assert.InDelta(t, 0.25, float64(n[canvas.Offcut])/float64(n[canvas.Offcut]+n[canvas.Rock]), 0.03)
}

// A section shows a fit's dome, wall and back, a zone to its depth, and a pocket
// whose depth is not sure more faintly the deeper it may go.
func TestASectionIsFilled(t *testing.T) {
	s := scenery(t)
	s.Fit = level(t, "oval", 10, 8, 2, v3(0, 0, 3))
	s.Fit.Clearance = 0.1
	s.Stone.Colour = []planner.Zone{{ID: "Z1", Face: planner.Top,
		Outline: []geometry.Vec2{v2(-11, -3), v2(-7, -3), v2(-7, 3), v2(-11, 3)}, Grade: 3, Depth: 2}}
	s.Stone.Pockets = []planner.Pocket{{ID: "P1", Face: planner.Top, Depth: 2.5,
		DepthRange: &planner.Range{Least: 1, Most: 4},
		Outline:    []geometry.Vec2{v2(7, -3), v2(10, -3), v2(10, 3), v2(7, 3)}}}
	line := Cut{v2(-12, 0), v2(12, 0)}
	c := canvas.New(60, 24, canvas.Braille)
	c.SetView(canvas.View{MMPerCell: 0.5, Centre: v2(12, 4)})
	x := slicer{scene: s, rough: s.Rough, cut: line, spans: line.through(s.Stone.Outline), labels: labels{c: c}}
	x.paint()
	n := tones(c)
	for _, m := range []canvas.Material{canvas.Rock, canvas.Play, canvas.Finished, canvas.Wall, canvas.Back} {
		assert.Positive(t, n[m], m)
	}
	assert.Equal(t, 4*2*4, n[canvas.Play], "4 x 2 mm of colour")
	// The pocket's middle is at 20.5 mm from A, half cells of 0.5 mm, z 4 in the middle.
	at := func(z float64) float64 {
		r, _, b := c.Tone(30+17, 24-int(math.Round((z-4)/0.5))-1).RGB()
		return float64(r) - float64(b) // sand is warm
	}
	assert.Greater(t, at(6.5), at(5)+10, "sure against likely")
	assert.Greater(t, at(5), at(3.5)+5, "likely against most")
	assert.Greater(t, at(3.5), at(2)+2, "most against rock")
}

// The stretches of a crack's depth are full to the least, dashed to the likely
// and dotted to the most.
func TestStagesOfADepth(t *testing.T) {
	r := roughOf(t, slab())
	sure := planner.Crack{Depth: 3}
	assert.Equal(t, []stage{{0, 3, canvas.Dashed}}, stages(r, sure, canvas.Dashed))
	sure.DepthRange = &planner.Range{Least: 1, Most: 4}
	assert.Equal(t, []stage{{0, 1, canvas.Solid}, {1, 3, canvas.Dashed}, {3, 4, canvas.Dotted}},
		stages(r, sure, canvas.Dashed))
	sure.DepthRange = &planner.Range{Least: 3, Open: true}
	assert.Equal(t, []stage{{0, 3, canvas.Solid}, {3, 6, canvas.Dotted}}, stages(r, sure, canvas.Dashed),
		"the slab is 6 mm thick")
}
