package drawing

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/ui/canvas"
)

var update = flag.Bool("update", false, "write the golden frames anew")

// v2 is short for a point.
func v2(x, y float64) geometry.Vec2 { return geometry.Vec2{X: x, Y: y} }

// v3 is short for a reading.
func v3(x, y, z float64) geometry.Vec3 { return geometry.Vec3{X: x, Y: y, Z: z} }

// sample is a stone with one of each kind of mark.
func sample() planner.Stone {
	return planner.Stone{
		Name: "Sample", Material: "opal-hydrophane", SG: 1.83,
		Outline: []geometry.Vec2{v2(-14, -2), v2(-9.5, -8.1), v2(3, -9.6), v2(13.2, -3.4), v2(11, 6.9), v2(-2, 9.3),
			v2(-11.5, 6)},
		Top:  []geometry.Vec3{v3(0, 0, 9.2), v3(-8, 0, 7.9), v3(8, 0, 8.1), v3(0, 6, 7.6), v3(0, -6, 7.4)},
		Base: []geometry.Vec3{v3(0, 0, 0.4), v3(-10, 0, 0.9), v3(10, 0, 0.7), v3(0, 8, 1), v3(0, -8, 0.9)},
		Cracks: []planner.Crack{
			{ID: "C1", Path: []geometry.Vec2{v2(4, -9), v2(5.5, -4), v2(8, 1)}, Face: planner.Top, Depth: 6, Lean: 20, Toward: 0,
				RunOn: 1},
			{ID: "C2", Path: []geometry.Vec2{v2(-11, -3), v2(-8, -6)}, Face: planner.Base, Depth: 3, Sealed: true},
			{ID: "C3", Path: []geometry.Vec2{v2(7, 7), v2(10, 2)}, Face: planner.Top, Through: true, Lean: 10, Toward: 45},
		},
		Pockets: []planner.Pocket{
			{ID: "P1", Outline: []geometry.Vec2{v2(-9, 2), v2(-5, 2), v2(-5, 6), v2(-9, 6)}, Face: planner.Top, Depth: 5.5},
			{ID: "P2", Outline: []geometry.Vec2{v2(-3, -8), v2(0, -8), v2(-1, -6.5)}, Face: planner.Inside, Low: 2, High: 4},
		},
		Colour: []planner.Zone{
			{ID: "Z1", Face: planner.Top, Outline: []geometry.Vec2{v2(-4, -4), v2(6, -4), v2(6, 5), v2(-4, 5)}, Grade: 4,
				Pattern: "honeycomb", Depth: 2.5},
			{ID: "Z2", Face: planner.Base, Outline: []geometry.Vec2{v2(-6, -3), v2(3, -4), v2(2, 4)}, Grade: 2},
		},
		Allowances: planner.Allowances{Skin: 0.5, Crack: 1, SealedCrack: 0.6, Pocket: 0.5},
	}
}

// fitted is a cabochon lying in the sample stone, turned and tilted a little.
func fitted(t require.TestingT, shape string, length, width float64, sides int) *search.Fit {
	o, err := outline.New(shape, length, width)
	require.NoError(t, err)
	return &search.Fit{
		Candidate: search.Candidate{
			Solid: solid.Cabochon{Outline: o, Wall: 1.2, WallLeanDeg: 10, Dome: 3, Back: 1, Sides: sides}, Face: planner.Top,
		},
		Pose:      search.Pose{Origin: v3(-0.5, 0.4, 3.2), Axes: geometry.RotZ(0.3).Mul(geometry.RotX(0.1))},
		LimitedBy: []string{"C1", "skin"},
	}
}

// full is the scene with everything in it.
func full(t require.TestingT) Scene {
	r, err := planner.NewRough(sample())
	require.NoError(t, err)
	return Scene{Stone: sample(), Rough: r, Fit: fitted(t, "oval", 12, 10, 2), Names: true}
}

// golden compares a frame with the one kept in testdata.
func golden(t *testing.T, name string, lines []string) {
	t.Helper()
	path := filepath.Join("testdata", name+".txt")
	got := strings.Join(lines, "\n") + "\n"
	if *update {
		require.NoError(t, os.MkdirAll("testdata", 0o755))
		require.NoError(t, os.WriteFile(path, []byte(got), 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, string(want), got)
}

// frame checks a canvas's size and returns its lines.
func frame(t require.TestingT, c *canvas.Canvas) []string {
	w, h := c.Size()
	lines := c.Lines(nil)
	require.Len(t, lines, h)
	for _, l := range lines {
		require.Equal(t, w, ansi.StringWidth(l), "%q", l)
	}
	return lines
}

// TestFrames keeps the pictures at the drawing's two designed sizes.
func TestFrames(t *testing.T) {
	modes := map[string]canvas.Mode{"braille": canvas.Braille, "blocks": canvas.HalfBlock, "ascii": canvas.ASCII}
	for _, size := range []struct {
		name          string
		width, height int
	}{{"small", 52, 21}, {"large", 100, 46}} {
		for mode, m := range modes {
			if size.name == "large" && m != canvas.Braille {
				continue
			}
			for what, draw := range map[string]func(*canvas.Canvas){
				"top": func(c *canvas.Canvas) {
					s := full(t)
					k := s.LongAxis()
					s.Line = &k
					c.SetView(s.Window(size.width, size.height, 1))
					Plan(c, s)
				},
				"base": func(c *canvas.Canvas) {
					s := full(t)
					s.Face, s.Fit, s.Chosen, s.Corners, s.Readings = planner.Base, nil, "P1", true, true
					c.SetView(s.Window(size.width, size.height, 1))
					Plan(c, s)
				},
				"section": func(c *canvas.Canvas) {
					s := full(t)
					k := s.LongAxis()
					c.SetView(s.SectionWindow(k, size.width, size.height, 2))
					Section(c, s, k)
				},
			} {
				t.Run(what+"-"+mode+"-"+size.name, func(t *testing.T) {
					c := canvas.New(size.width, size.height, m)
					draw(c)
					golden(t, what+"-"+mode+"-"+size.name, frame(t, c))
				})
			}
		}
	}
}
