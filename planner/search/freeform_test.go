package search

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/geometry/geomtest"
	"cabwright/geometry/outline"
	"cabwright/planner"
	"cabwright/planner/search/internal/searchtest"
	"cabwright/presets"
)

// freeformsOf plans a demo stone with every calibrated size of one back and the
// freeforms, level.
func freeformsOf(t *testing.T, name string, opt Options) (best map[planner.Face]Fit, free []Fit) {
	opt.Level = true
	p, err := Run(context.Background(), searchtest.Demo(t, name), opt, nil)
	require.NoError(t, err)
	best = map[planner.Face]Fit{}
	for _, f := range p.Fits {
		if f.Solid.Outline.Shape == Freeform {
			free = append(free, f)
		} else if f.Volume > best[f.Face].Volume {
			best[f.Face] = f
		}
	}
	return best, free
}

// A freeform is worth cutting only where it outweighs the calibrated sizes. One
// with a tip (a pear, a marquise) is no freeform itself, and is beaten on most of
// the demo stones only.
func TestFreeformBeatsCalibrated(t *testing.T) {
	t.Parallel()
	names, shapes := []string{"one-crack"}, []string{"pear", Freeform}
	if searchtest.Long {
		names, shapes = []string{"one-crack", "nugget", "nodule", "two-faces", "seam", "slab"}, nil
	}
	for _, name := range names {
		best, free := freeformsOf(
			t, name, Options{Shapes: shapes, Sides: []int{1}, Faces: []planner.Face{planner.Top}, Level: searchtest.Raced},
		)
		require.NotEmpty(t, free, name)
		for _, f := range free {
			b := best[f.Face]
			t.Logf("%s %s: freeform %.2f ct %.1fx%.1f, best size %s %gx%g %.2f ct", name, f.Face, f.Carat,
				f.Solid.Outline.Length, f.Solid.Outline.Width, b.Solid.Outline.Shape,
				b.Solid.Outline.Length, b.Solid.Outline.Width, b.Carat)
			if len(b.Solid.Outline.Corners()) == 0 || name == "one-crack" {
				assert.Greater(t, f.Volume, b.Volume, "%s %s", name, f.Face)
			} else {
				assert.Greater(t, f.Volume, 0.95*b.Volume, "%s %s", name, f.Face)
			}
		}
	}
}

// A level pose is one that may lean: what is found before anything is proved is never
// lighter for it, neither the best freeform nor the best size. On these stones a search
// that only knows leaning poses ends lighter, by a size and by a tenth.
func TestLeaningIsNeverLighterThanLevel(t *testing.T) {
	t.Parallel()
	for name, face := range map[string]planner.Face{"two-faces": planner.Top, "hard/jagged": planner.Base} {
		stone := searchtest.Demo(t, name)
		rough, err := planner.NewRough(stone)
		require.NoError(t, err)
		heaviest := func(level bool) (free, size float64) {
			opt := Options{Shapes: []string{"cushion", Freeform}, Sides: []int{1}, Faces: []planner.Face{face}, Level: level}
			r := newRun(context.Background(), stone, rough, presets.Builtin(), opt.filled())
			r.findFirst()
			for _, t := range r.trials {
				if t.fits() && t.size < 0 {
					free = max(free, t.volume)
				}
			}
			return free, r.best()
		}
		free, size := heaviest(true)
		freeLeaning, sizeLeaning := heaviest(false)
		t.Logf("%s: freeform %.1f and %.1f mm3, size %.1f and %.1f", name, free, freeLeaning, size, sizeLeaning)
		require.GreaterOrEqual(t, freeLeaning, free, name)
		require.GreaterOrEqual(t, sizeLeaning, size, name)
	}
}

// The outline is convex, nowhere sharper than asked, and as long and wide as said;
// the stone keeps every allowance on a dense net, and weighs what quadrature says.
func TestFreeformOutline(t *testing.T) {
	for _, radius := range []float64{3, 0}[:map[bool]int{false: 1, true: 2}[searchtest.Long]] {
		least := radius
		if least == 0 {
			least = 1.5 // common practice, the default
		}
		s := searchtest.Demo(t, "one-crack")
		p, err := Run(
			context.Background(), s,
			Options{Shapes: []string{"round", Freeform}, Sides: []int{1}, Level: true, CornerRadius: radius}, nil,
		)
		require.NoError(t, err)
		f := searchtest.FieldOf(t, s)
		seen := 0
		for _, fit := range p.Fits {
			o := fit.Solid.Outline
			if o.Shape != Freeform {
				continue
			}
			seen++
			require.True(t, o.Convex())
			poly := o.Polygon
			for i, a := range poly {
				b, c := poly[(i+1)%len(poly)], poly[(i+2)%len(poly)]
				require.Greater(t, b.Sub(a).Cross(c.Sub(b)), -1e-9, "turns the wrong way at %v", b)
			}
			lo, hi := geometry.Bounds(poly)
			require.InDelta(t, o.Length, hi.X-lo.X, 1e-9)
			require.InDelta(t, o.Width, hi.Y-lo.Y, 1e-9)
			require.GreaterOrEqual(t, o.Length, o.Width-1e-9)
			require.Greater(t, sharpest(poly), 0.85*least, "%+v", fit.Candidate)
			require.GreaterOrEqual(t, searchtest.DenseClearance(f, geomtest.Skin(fit.Solid, 200), fit.Pose), 0.0)
			require.InEpsilon(t, fit.Solid.Volume(), fit.Volume, 1e-12)
		}
		require.GreaterOrEqual(t, seen, 2)
	}
}

// sharpest is the least radius of curvature of a convex polygon that stands for a
// smooth curve: an arc of radius r turns by l/r over a length l. It is taken over
// stretches of more than 45 degrees, as single corners of a polygon say nothing:
// with corners of 5 degrees it may be a ninth too low.
func sharpest(poly []geometry.Vec2) float64 {
	n := len(poly)
	edge := func(i int) geometry.Vec2 { return poly[(i+1)%n].Sub(poly[i%n]) }
	least := math.Inf(1)
	for i := range n {
		turned, length := 0.0, 0.0
		for k := 1; k < n && turned < math.Pi/4; k++ {
			a, b := edge(i+k-1), edge(i+k)
			turned += math.Atan2(a.Cross(b), a.Dot(b))
			length += b.Norm()
		}
		if turned > 0 {
			least = min(least, length/turned)
		}
	}
	return least
}

func TestSharpestOfACircle(t *testing.T) {
	o, err := outline.New("round", 6, 6)
	require.NoError(t, err)
	require.InDelta(t, 3, sharpest(o.Points(72)), 0.01)
	require.Less(t, sharpest(vertices(1, 0, 0, 4, 0, 4, 4, 0, 4)), 4.0)
}

// In a level slab over a disc, high enough for any dome, the greatest freeform is nearly the
// disc less its allowance: at least 97% of its area, and never more.
func TestFreeformInADisc(t *testing.T) {
	t.Parallel()
	o, err := outline.New("round", 20, 20)
	require.NoError(t, err)
	s := searchtest.Slab(o.Points(120), 0, 12, 0.5)
	p, err := Run(
		context.Background(), s,
		Options{Shapes: []string{"oval", Freeform}, Level: true, Sides: []int{1}, Faces: []planner.Face{planner.Top}}, nil,
	)
	require.NoError(t, err)
	best := 0.0
	for _, f := range p.Fits {
		if f.Solid.Outline.Shape == Freeform {
			best = max(best, f.Solid.Outline.Area())
		}
	}
	whole := math.Pi * 9.5 * 9.5
	require.LessOrEqual(t, best, whole)
	require.Greater(t, best, 0.97*whole)
}
