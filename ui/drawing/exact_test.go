package drawing

import (
	"fmt"
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

// slab is a rectangle with level faces at z 1 and 7.
func slab() planner.Stone {
	return planner.Stone{
		Outline:    []geometry.Vec2{v2(-12, -8), v2(12, -8), v2(12, 8), v2(-12, 8)},
		Top:        []geometry.Vec3{v3(0, 0, 7)},
		Base:       []geometry.Vec3{v3(0, 0, 1)},
		Allowances: planner.Allowances{Skin: 0.5, Crack: 1, SealedCrack: 0.6, Pocket: 0.4},
	}
}

func roughOf(t require.TestingT, s planner.Stone) *planner.Rough {
	r, err := planner.NewRough(s)
	require.NoError(t, err)
	return r
}

// level is a fit lying level along x with its girdle centre at the given point.
func level(t require.TestingT, shape string, length, width float64, sides int, at geometry.Vec3) *search.Fit {
	f := fitted(t, shape, length, width, sides)
	f.Pose = search.Pose{Origin: at, Axes: geometry.Identity3()}
	return f
}

func TestOffsetOfACircle(t *testing.T) {
	assert.Empty(t, offset(nil, 1))
	var circle []geometry.Vec2
	for i := range 90 {
		s, c := math.Sincos(-float64(i) * math.Pi / 45) // clockwise
		circle = append(circle, v2(5*c, 5*s))
	}
	for _, p := range offset(circle, 0.7) {
		// The corners of a 90-gon lie a little inside its offset's arcs.
		assert.InDelta(t, 5.7, p.Norm(), 0.01)
	}
}

// TestOffsetIsOutside: every point of the offset of a convex polygon is d away
// from it: exactly, since arcs go round its corners.
func TestOffsetIsOutside(t *testing.T) {
	square := []geometry.Vec2{v2(0, 0), v2(4, 0), v2(4, 3), v2(0, 3)}
	for _, p := range offset(square, 1.2) {
		assert.InDelta(t, 1.2, toPolygon(square, p), 1e-9)
		assert.False(t, geometry.InPolygon(square, p))
	}
}

func toPolygon(poly []geometry.Vec2, p geometry.Vec2) float64 {
	d := math.Inf(1)
	for i, a := range poly {
		d = math.Min(d, geometry.ToSegment(p, a, poly[(i+1)%len(poly)]))
	}
	return d
}

// TestSectionAlongAnOval: along its length a level oval is, t from its middle,
// as high as its upper side at the gauge |t| / a says, and its back as deep.
func TestSectionAlongAnOval(t *testing.T) {
	f := level(t, "oval", 14, 10, 2, v3(1, 0.5, 3))
	bodies := sections(f, Cut{v2(-20, 0.5), v2(20, 0.5)}, 0.05)
	require.Len(t, bodies, 1)
	b := bodies[0]
	assert.InDelta(t, 21-7, b.t[0], 0.06)
	assert.InDelta(t, 21+7, b.t[len(b.t)-1], 0.06)
	for i, at := range b.t {
		rho := math.Abs(at-21) / 7
		assert.InDelta(t, 3+f.Solid.Upper(rho), b.high[i], 1e-3)
		assert.InDelta(t, 3+f.Solid.Lower(rho), b.low[i], 1e-3)
	}
	assert.Empty(t, sections(f, Cut{v2(-20, 6), v2(20, 6)}, 0.05), "a cut beside the fit")
	assert.Empty(t, sections(nil, Cut{v2(0, 0), v2(1, 0)}, 0.05))
}

// TestUprightAgainstSampling: an upright line through a tilted fit is inside it
// exactly between the two heights found.
func TestUprightAgainstSampling(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shape := rapid.SampledFrom([]string{"oval", "round", "cushion", "octagon", "marquise", "pear"}).Draw(t, "shape")
		length, width := 14.0, 9.0
		if shape == "round" {
			width = length
		}
		f := fitted(t, shape, length, width, rapid.IntRange(1, 2).Draw(t, "sides"))
		tilt := rapid.Float64Range(-0.26, 0.26)
		f.Pose.Axes = geometry.RotZ(rapid.Float64Range(0, 6).Draw(t,
			"turn")).Mul(geometry.RotX(tilt.Draw(t, "x"))).Mul(geometry.RotY(tilt.Draw(t, "y")))
		p := v2(rapid.Float64Range(-8, 8).Draw(t, "px"), rapid.Float64Range(-8, 8).Draw(t, "py"))
		low, high, ok := Upright(f, p)
		const edge = 0.35 // mm; the line may be found inside from its second look on
		for z := -5.0; z < 12; z += 0.1 {
			in := holds(f, f.Pose.Local(geometry.Vec3{X: p.X, Y: p.Y, Z: z}))
			if in && (!ok || z < low-1e-3 || z > high+1e-3) && longEnough(f, p, z, edge) {
				t.Fatalf("z %.2f is inside, found %.3f to %.3f (%v)", z, low, high, ok)
			}
			if !in && ok && z > low+1e-3 && z < high-1e-3 {
				t.Fatalf("z %.2f is outside, found %.3f to %.3f", z, low, high)
			}
		}
	})
}

// longEnough reports whether the stretch inside around z is longer than the
// looks are apart, so that it cannot fall between two.
func longEnough(f *search.Fit, p geometry.Vec2, z, edge float64) bool {
	return holds(f, f.Pose.Local(geometry.Vec3{X: p.X, Y: p.Y, Z: z - edge})) ||
		holds(f, f.Pose.Local(geometry.Vec3{X: p.X, Y: p.Y, Z: z + edge}))
}

// TestCrackInACut: a leaning crack over a straight path meets the cut square to
// it in a straight line that leans as it does.
func TestCrackInACut(t *testing.T) {
	stone := slab()
	stone.Cracks = []planner.Crack{{ID: "C1", Path: []geometry.Vec2{v2(2, -5), v2(2, 5)}, Face: planner.Top, Depth: 4,
		Lean: 30, Toward: 180}}
	k := Cut{v2(-12, 0), v2(12, 0)}
	x := slicer{scene: Scene{Stone: stone}, rough: roughOf(t, stone), cut: k, spans: k.through(stone.Outline)}
	lines := x.meets(stone.Cracks[0], v2(2, -5), v2(2, 5), 0, reach(x.rough, stone.Cracks[0]))
	require.Len(t, lines, 1)
	first, last := lines[0][0], lines[0][len(lines[0])-1]
	assert.InDelta(t, 14, first.X, 1e-9)
	assert.InDelta(t, 7, first.Y, 1e-9)
	assert.InDelta(t, 14-4*math.Tan(math.Pi/6), last.X, 1e-9)
	assert.InDelta(t, 3, last.Y, 1e-9)

	beside := Cut{v2(-12, 6), v2(12, 6)}
	x.cut, x.spans = beside, beside.through(stone.Outline)
	assert.Empty(t, x.meets(stone.Cracks[0], v2(2, -5), v2(2, 5), 0, reach(x.rough, stone.Cracks[0])))

	stone.Cracks[0].Through = true
	x.cut, x.spans = k, k.through(stone.Outline)
	lines = x.meets(stone.Cracks[0], v2(2, -5), v2(2, 5), 0, reach(x.rough, stone.Cracks[0]))
	require.Len(t, lines, 1)
	assert.InDelta(t, 1, lines[0][len(lines[0])-1].Y, 0.2, "right through, to within a step of the trace")
}

// TestCrackInACutAgainstSampling is the brute-force twin of meets: whether the
// sheet has points on both sides of the cut decides whether a line is drawn, and
// each point drawn lies on the sheet, in the cut and in the rough.
func TestCrackInACutAgainstSampling(t *testing.T) {
	stone := sample()
	r := roughOf(t, stone)
	rapid.Check(t, func(t *rapid.T) {
		num := rapid.Float64Range(-9, 9)
		k := Cut{v2(num.Draw(t, "ax"), num.Draw(t, "ay")), v2(num.Draw(t, "bx"), num.Draw(t, "by"))}
		crack := planner.Crack{
			Path: []geometry.Vec2{v2(num.Draw(t, "px"), num.Draw(t, "py")), v2(num.Draw(t, "qx"), num.Draw(t, "qy"))},
			Face: rapid.SampledFrom([]planner.Face{planner.Top, planner.Base}).Draw(t, "face"), Depth: rapid.Float64Range(0.5,
				7).Draw(t, "depth"),
			Lean: rapid.Float64Range(0, 60).Draw(t, "lean"), Toward: rapid.Float64Range(0, 360).Draw(t, "toward"),
		}
		if length := k.B.Sub(k.A).Norm(); length < 1 || crack.Path[0].Sub(crack.Path[1]).Norm() < 1 {
			return
		}
		x := slicer{scene: Scene{Stone: stone}, rough: r, cut: k, spans: k.through(stone.Outline)}
		lines := x.meets(crack, crack.Path[0], crack.Path[1], 0, reach(x.rough, crack))
		for _, line := range lines {
			for _, p := range line {
				if !x.holds(p.X, p.Y) {
					t.Fatalf("%v lies outside the rough", p)
				}
			}
		}
		const n = 24
		at := func(i, j int) (off float64, in bool) {
			p := crack.Path[0].Add(crack.Path[1].Sub(crack.Path[0]).Scale(float64(i) / n))
			q := sheet(r, crack, p, crack.Depth*float64(j)/n)
			along, off := k.Of(q.XY())
			return off, x.holds(along, q.Z)
		}
		left, right, deep := false, false, 0
		least, most := math.Inf(1), math.Inf(-1) // how far off the cut the sheet goes
		for i := range n + 1 {
			for j := range n + 1 {
				a, inA := at(i, j)
				left, right = left || a > -0.01, right || a < 0.01 // what counts as lying in the cut
				least, most = min(least, a), max(most, a)
				if i == n || j == n {
					continue
				}
				if b, inB := at(i+1, j+1); (a > 0) != (b > 0) && inA && inB {
					deep++
				}
			}
		}
		if len(lines) > 0 && !(left && right) {
			t.Fatal("a line is drawn where the sheet is all on one side of the cut")
		}
		const rounding = 1e-9                           // mm; a sheet that ends in the cut is beyond it by rounding only
		crosses := least < -rounding && most > rounding // it goes to both sides
		if len(lines) == 0 && crosses && deep > 3 {     // a graze may end between two steps of the trace
			t.Fatalf("the sheet crosses the cut %d times inside the rough, and no line is drawn", deep)
		}
	})
}

// TestNearest: in a slab the gaps of a level fit can be read off.
func TestNearest(t *testing.T) {
	stone := slab()
	r := roughOf(t, stone)
	assert.Empty(t, Nearest(r, stone, nil).Where)
	assert.Empty(t, Nearest(nil, stone, level(t, "oval", 10, 8, 1, v3(0, 0, 2))).Where)
	for _, c := range []struct {
		at    geometry.Vec3
		where string
		gap   float64
	}{
		{v3(0, 0, 1.3), "base", 0.3},                // flat back 0.3 over the base
		{v3(0, 0, 2.5), "top", 7 - (2.5 + 1.2 + 3)}, // crown 0.3 under the top
		{v3(6.8, 0, 1.6), "outline", 12 - (6.8 + 5)},
	} {
		got := Nearest(r, stone, level(t, "oval", 10, 8, 1, c.at))
		assert.Equal(t, c.where, got.Where, "%v", c.at)
		assert.InDelta(t, c.gap, got.Gap, 0.01)
	}
}

// TestKept: the ring shows the allowance of what limits the fit.
func TestKept(t *testing.T) {
	stone := slab()
	stone.Cracks = []planner.Crack{{ID: "C1"}, {ID: "C2", Sealed: true}}
	stone.Pockets = []planner.Pocket{{ID: "P1"}}
	for by, want := range map[string]float64{"": 0.5, "skin": 0.5, "C1": 1, "C2": 0.6, "P1": 0.4, "gone": 0.5} {
		assert.Equal(t, want, kept(Scene{Stone: stone, Fit: &search.Fit{LimitedBy: []string{by}}}), by)
	}
	assert.Equal(t, 0.5, kept(Scene{Stone: stone, Fit: &search.Fit{LimitedBy: []string{"C1", "skin"}}}))
}

func TestCutThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		num := rapid.Float64Range(-50, 50)
		k := Cut{v2(num.Draw(t, "ax"), num.Draw(t, "ay")), v2(num.Draw(t, "bx"), num.Draw(t, "by"))}
		at := num.Draw(t, "t")
		if along, off := k.Of(k.At(at)); math.Abs(along-at) > 1e-9 || math.Abs(off) > 1e-9 {
			t.Fatalf("%g came back as %g, %g beside the line", at, along, off)
		}
		if _, off := k.Of(k.Moved(2).A); math.Abs(off-2) > 1e-9 {
			t.Fatalf("moved 2 mm to the left it lies %g mm to the left", off)
		}
		back := k.Turned(0.7).Turned(-0.7)
		if back.A.Sub(k.A).Norm() > 1e-9 || back.B.Sub(k.B).Norm() > 1e-9 {
			t.Fatalf("turned there and back: %v, was %v", back, k)
		}
	})
}

// TestLongAxisIsSeenFromTheLeft: A is on the left of the screen on both faces.
func TestLongAxisIsSeenFromTheLeft(t *testing.T) {
	for _, f := range []*search.Fit{nil, fitted(t, "oval", 12, 10, 1)} {
		for _, face := range []planner.Face{planner.Top, planner.Base} {
			s := Scene{Stone: sample(), Fit: f, Face: face}
			k, v := s.LongAxis(), s.Window(52, 21, 1)
			a, _ := v.Cell(52, 21, k.A)
			b, _ := v.Cell(52, 21, k.B)
			assert.Less(t, a, b, "%v", face)
		}
	}
	k := Scene{}.LongAxis() // no outline: nothing to run through, and no panic
	assert.False(t, k.Inside(nil))
}

// TestMet names what a cut runs through and nothing else.
func TestMet(t *testing.T) {
	s := Scene{Stone: sample()}
	assert.Empty(t, Met(s, Cut{v2(-14, 4), v2(0, 4)}))
	s.Rough = roughOf(t, s.Stone)
	assert.Equal(t, []string{"C3", "P1", "Z1"}, Met(s, Cut{v2(-14, 4), v2(0, 4)}))
	assert.Empty(t, Met(s, Cut{v2(-14, 40), v2(0, 40)}))
}

// TestAnySceneHoldsTheFrame: plans, cuts and printed drawings have their size
// whatever is drawn, at any size.
func TestAnySceneHoldsTheFrame(t *testing.T) {
	stones := []planner.Stone{{}, {Outline: []geometry.Vec2{v2(1, 1)}}, slab(), sample()}
	hostile := sample()
	hostile.Cracks[0].ID = "\x1b[31m\u202e中文 a very long name"
	hostile.Pockets[0].ID = "👨‍👩‍👧‍👦"
	hostile.Outline[0] = v2(math.NaN(), 1e308)
	hostile.Cracks[1].Path = []geometry.Vec2{v2(1e308, -1e308), v2(math.Inf(1), 0)}
	stones = append(stones, hostile)
	rapid.Check(t, func(t *rapid.T) {
		s := Scene{Stone: rapid.SampledFrom(stones).Draw(t, "stone"), Names: true, Corners: rapid.Bool().Draw(t, "corners"),
			Readings: true}
		s.Face = rapid.SampledFrom([]planner.Face{planner.Top, planner.Base, ""}).Draw(t, "face")
		s.Bare = rapid.Bool().Draw(t, "bare")
		if r, err := planner.NewRough(s.Stone); err == nil {
			s.Rough = r
		}
		if rapid.Bool().Draw(t, "fitted") {
			s.Fit = fitted(t, "pear", 12, 8, 2)
		}
		w, h := rapid.IntRange(0, 120).Draw(t, "w"), rapid.IntRange(0, 40).Draw(t, "h")
		mode := canvas.Mode(rapid.IntRange(0, 2).Draw(t, "mode"))
		c := canvas.New(w, h, mode)
		c.SetView(s.Window(w, h, 1))
		if rapid.Bool().Draw(t, "painted") {
			s.Palette = style.New(style.TrueColour, style.Dark).Palette()
		}
		if rapid.Bool().Draw(t, "more") {
			s.Ghost, s.Also = fitted(t, "heart", 9, 9, 1), []search.Fit{*fitted(t, "round", 5, 5, 2)}
			s.Saw = []SawCut{{Name: "1", Point: v3(2, 1, 4), Normal: v3(1, 0.3, 0.2), Kerf: 0.3, Offcut: true},
				{Normal: v3(0, 0, 1), Offcut: true}}
		}
		line := s.LongAxis()
		s.Line = &line
		Plan(c, s)
		frame(t, c)
		k := Cut{v2(rapid.Float64Range(-20, 20).Draw(t, "ax"), 0), v2(3, rapid.Float64Range(-20, 20).Draw(t, "by"))}
		c = canvas.New(w, h, mode)
		c.SetView(s.SectionWindow(k, w, h, 2))
		Section(c, s, k)
		frame(t, c)
		if got := Best(s.Stone, s.Fit, w, h, mode); len(got) != h {
			t.Fatalf("%d lines for a height of %d", len(got), h)
		}
	})
}

// BenchmarkScene is what a frame of the fits' view draws at its designed sizes
// and on a very large terminal, painted in 24-bit colour.
func BenchmarkScene(b *testing.B) {
	s := full(b)
	sheet := style.New(style.TrueColour, style.Dark)
	s.Palette = sheet.Palette()
	for _, size := range [][2]int{{52, 21}, {112, 47}, {441, 197}} {
		name := fmt.Sprintf("%dx%d", size[0], size[1])
		b.Run("plan-"+name, func(b *testing.B) {
			for b.Loop() {
				c := canvas.New(size[0], size[1], canvas.Braille)
				c.SetView(s.Window(size[0], size[1], 1))
				Plan(c, s)
				c.Lines(sheet.Canvas)
			}
		})
		b.Run("section-"+name, func(b *testing.B) {
			k := s.LongAxis()
			for b.Loop() {
				c := canvas.New(size[0], size[1], canvas.Braille)
				c.SetView(s.SectionWindow(k, size[0], size[1], 2))
				Section(c, s, k)
				c.Lines(sheet.Canvas)
			}
		})
	}
}

// holds reports whether a point, in the solid's own axes, lies in the finished
// stone.
func holds(f *search.Fit, p geometry.Vec3) bool {
	rho := f.Solid.Outline.Gauge(p.X, p.Y)
	return rho <= 1 && p.Z <= f.Solid.Upper(rho) && p.Z >= f.Solid.Lower(rho)
}
