package cuts

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cabwright/geometry"
	"cabwright/planner"
)

func TestDescribeRefuses(t *testing.T) {
	b := body(t, box(20, 10, 8))
	for name, c := range map[string]struct {
		fits []Placed
		cuts []Cut
		want string
	}{
		"a piece that is not there": {nil, []Cut{{Plane: upcut(10, 5, 0, 0.3).Plane, Kerf: 0.3, Piece: "+"}},
			`cut 1: there is no uncut piece "+"`},
		"a piece cut twice": {nil, []Cut{upcut(5, 5, 0, 0.3), upcut(15, 5, 0, 0.3)},
			`cut 2: there is no uncut piece ""`},
		"no direction": {nil, []Cut{{Kerf: 0.3}}, "cut 1: its normal has the length 0"},
		"a stone on a cut piece": {[]Placed{placed(t, "round", 5, 5, 1.5, 5, 5, 1, "")}, []Cut{upcut(10, 5, 0, 0.3)},
			`a stone lies on ""`},
	} {
		_, err := b.Describe(c.fits, c.cuts)
		assert.ErrorContains(t, err, c.want, name)
	}
	l, err := b.Describe(nil, nil)
	require.NoError(t, err)
	require.Len(t, l.Pieces, 1)
	assert.InDelta(t, 1600, l.Pieces[0].Volume, 1e-9)
	assert.Equal(t, 1, l.Pieces[0].Lumps)
}

// A kerf of 0.5 mm through 20 x 15 mm at SG 2.10 costs 150 mm3, 1.575 ct (the
// check cases of the trade's facts, derived).
func TestKerfLossDerived(t *testing.T) {
	b := body(t, box(40, 20, 15))
	for _, deg := range []float64{0, 180} {
		l, err := b.Describe(nil, []Cut{upcut(13.37, 3, deg, 0.5)})
		require.NoError(t, err)
		assert.InDelta(t, 1.575, planner.Carat(l.Steps[0].KerfLost, b.SG), 1e-9)
		assert.InDelta(t, 20*15*(13.37-0.25), l.Pieces[map[float64]int{0: 1, 180: 0}[deg]].Volume, 1e-6)
		assert.InDelta(t, 15, l.Steps[0].Deep, 1e-9, "as deep as the block is thick")
		assert.InDelta(t, 40, l.Steps[0].Held, 1e-9)
	}
	// Turned by 30 degrees through the middle, it is longer by 1/cos 30.
	l, err := b.Describe(nil, []Cut{upcut(20, 10, 30, 0.5)})
	require.NoError(t, err)
	assert.InDelta(t, 150/math.Cos(math.Pi/6), l.Steps[0].KerfLost, 1e-6)
	// Leaning by 20 degrees through the middle, the same.
	c := leant(upcut(20, 10, 0, 0.5), 20)
	c.Point.Z = 7.5
	l, err = b.Describe(nil, []Cut{c})
	require.NoError(t, err)
	assert.InDelta(t, 150/math.Cos(math.Pi/9), l.Steps[0].KerfLost, 1e-4)
	assert.InDelta(t, 15/math.Cos(math.Pi/9), l.Steps[0].Deep, latticeStep, "a leaning blade reaches deeper")
}

// randomCuts draws up to four cuts, each on a piece that is there.
func randomCuts(t *rapid.T) []Cut {
	pieces, cuts := []string{""}, []Cut(nil)
	for range rapid.IntRange(1, 4).Draw(t, "cuts") {
		c := upcut(rapid.Float64Range(-10, 10).Draw(t, "x"), rapid.Float64Range(-6, 6).Draw(t, "y"),
			rapid.Float64Range(0, 360).Draw(t, "deg"), rapid.Float64Range(0.1, 1).Draw(t, "kerf"))
		c.Point.Z = rapid.Float64Range(0, 8).Draw(t, "z")
		if rapid.Bool().Draw(t, "leans") {
			c = leant(c, rapid.Float64Range(-80, 80).Draw(t, "lean"))
		}
		k := rapid.IntRange(0, len(pieces)-1).Draw(t, "piece")
		c.Piece = pieces[k]
		cuts = append(cuts, c)
		pieces = append(pieces[:k:k], append(pieces[k+1:], c.Piece+"+", c.Piece+"-")...)
	}
	return cuts
}

// The volumes of the uncut pieces and of the kerfs add up to the rough's (the
// plan's contract), whatever the cuts.
func TestVolumesAddUp(t *testing.T) {
	b := body(t, domed())
	rapid.Check(t, func(t *rapid.T) {
		root, sum := tree(randomCuts(t)), 0.0
		b.volumes(root)
		root.walk(func(n *node) { sum += n.volume + n.kerf })
		require.InEpsilon(t, b.Rough.Volume(), sum, 1e-9)
	})
}

// On a level slab of any outline a piece is as much of the outline's area as
// lies on its side of the cut, which the corners tell exactly.
func TestVolumesOfASlabExact(t *testing.T) {
	s := box(1, 1, 6)
	s.Outline = []geometry.Vec2{{X: -20, Y: -12}, {X: 19.5, Y: -12.4}, {X: 20.4, Y: 11.6}, {X: -8, Y: 12.6},
		{X: -19.2, Y: 9}}
	b := body(t, s)
	rapid.Check(t, func(t *rapid.T) {
		c := upcut(rapid.Float64Range(-15, 15).Draw(t, "x"), rapid.Float64Range(-9, 9).Draw(t, "y"),
			rapid.Float64Range(0, 360).Draw(t, "deg"), rapid.Float64Range(0.1, 1).Draw(t, "kerf"))
		root := tree([]Cut{c})
		b.volumes(root)
		require.InDelta(t, 6*beyond(s.Outline, c.side(1)), root.plus.volume, 1e-6)
		require.InDelta(t, 6*beyond(s.Outline, c.side(-1)), root.minus.volume, 1e-6)
	})
}

// beyond is the area of the part of a convex polygon on an upright side
// (Sutherland and Hodgman 1974).
func beyond(poly []geometry.Vec2, h half) float64 {
	var out []geometry.Vec2
	for i, p := range poly {
		q := poly[(i+1)%len(poly)]
		from, to := h.normal.XY().Dot(p)-h.from, h.normal.XY().Dot(q)-h.from
		if from >= 0 {
			out = append(out, p)
		}
		if (from >= 0) != (to >= 0) {
			out = append(out, p.Add(q.Sub(p).Scale(from/(from-to))))
		}
	}
	return math.Abs(geometry.Area(out))
}

// Each piece holds what counting small cubes tells. The lattice of the cubes
// misses a thin wedge by some mm3.
func TestVolumesAgainstCounting(t *testing.T) {
	b := body(t, domed())
	for seed := range 8 {
		cuts := rapid.Custom(randomCuts).Example(seed)
		root := tree(cuts)
		b.volumes(root)
		root.walk(func(n *node) {
			if n.cut == nil {
				slow := counted(b, halves(cuts, n.name))
				require.InDelta(t, slow, n.volume, 0.01*slow+4, "piece %q of %v", n.name, cuts)
			}
		})
	}
}

// counted counts small cubes: a slow twin that knows no columns. Its rows are
// shifted against each other by the golden ratio, so that no cut falls between
// all of them alike.
func counted(b *Body, sides []half) float64 {
	const step = 0.25
	const golden = 0.6180339887498949
	part := func(v float64) float64 { return v - math.Floor(v) }
	lo, hi := geometry.Bounds(b.Rough.Outline)
	z0, z1 := b.Rough.Heights()
	n := 0
	for j := 0.0; lo.Y+j*step < hi.Y; j++ {
		for i := 0.0; lo.X+i*step < hi.X; i++ {
			x, y := lo.X+(i+part(j*golden))*step, lo.Y+(j+part(i*golden))*step
			if !geometry.InPolygon(b.Rough.Outline, geometry.Vec2{X: x, Y: y}) {
				continue
			}
			low, high := b.Rough.Base(x, y), b.Rough.Top(x, y)
			for k := part((i + 3*j) * golden); z0+k*step < z1; k++ {
				z := z0 + k*step
				in := z >= low && z <= high
				for _, h := range sides {
					in = in && h.normal.Dot(geometry.Vec3{X: x, Y: y, Z: z}) >= h.from
				}
				if in {
					n++
				}
			}
		}
	}
	return float64(n) * step * step * step
}

// domed is a rough with a dented outline and bent faces.
func domed() planner.Stone {
	s := box(1, 1, 1)
	s.Outline = []geometry.Vec2{{X: -12, Y: -6}, {X: 0, Y: -4}, {X: 11, Y: -7}, {X: 12, Y: 5}, {X: 1, Y: 8},
		{X: -11, Y: 6}}
	s.Top = []geometry.Vec3{{X: 0, Y: 0, Z: 8}, {X: -10, Y: 0, Z: 6}, {X: 10, Y: 0, Z: 6.5}, {X: 0, Y: 6, Z: 5},
		{X: 0, Y: -5, Z: 7}}
	s.Base = []geometry.Vec3{{X: 0, Y: 0, Z: 0}, {X: -10, Y: 0, Z: 1}, {X: 10, Y: 1, Z: 0.5}, {X: 0, Y: 6, Z: 1.2}}
	return s
}

// A cut across the dent of a rough leaves two lumps on one side.
func TestLumps(t *testing.T) {
	s := box(1, 1, 5)
	s.Outline = []geometry.Vec2{{X: 0, Y: 0}, {X: 30, Y: 0}, {X: 30, Y: 20}, {X: 20, Y: 20}, {X: 20, Y: 10},
		{X: 10, Y: 10}, {X: 10, Y: 20}, {X: 0, Y: 20}}
	b := body(t, s)
	l, err := b.Describe(nil, []Cut{upcut(0, 12, 90, 0.3)})
	require.NoError(t, err)
	require.Equal(t, "+", l.Pieces[0].Name)
	assert.Equal(t, 2, l.Pieces[0].Lumps)
	assert.Equal(t, 1, l.Pieces[1].Lumps)
}

// Slices: 40 mm of block at 5 mm and kerfs of 0.3, 0.8 and 1.0 give 7, 7 and 6
// (the check cases of the trade's facts, derived). Every slice is what lies
// between two cuts one slice and one kerf apart.
func TestSlicesDerived(t *testing.T) {
	for kerf, want := range map[float64]int{0.3: 7, 0.8: 7, 1.0: 6} {
		b := body(t, box(40, 20, 15))
		piece, whole, cuts := "", 0, []Cut(nil)
		for at := 5.0; ; at += 5 + kerf {
			if at+kerf > 40 {
				break // no cut any more: what is left is no whole slice
			}
			c := upcut(at+kerf/2, 0, 0, kerf)
			c.Piece = piece
			cuts, piece = append(cuts, c), piece+"+"
		}
		l, err := b.Describe(nil, cuts)
		require.NoError(t, err)
		for _, p := range l.Pieces {
			if p.Volume >= 5*20*15-1e-6 {
				whole++
			}
		}
		assert.Equal(t, want, whole, "kerf %g", kerf)
	}
}
