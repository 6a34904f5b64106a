package cuts

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/presets"
)

// Equal circles, as large as n of them go into a square of side 1 and into a disc
// of radius 1. The packings of Peikert et al. 1992 and Markot and Csendes 2005 (square)
// and of Graham 1968 and Fodor 1999 (disc) are proved to be the best; best is
// published, and parted the largest found for circles that straight cuts from side
// to side can part (multistart, not proved) where those of the packing cannot.
//
// With the plane of each cut kerf/2 + skin from every stone, n stones of radius r in
// a block of side L are n circles of radius r + skin + kerf/2 in a square of side
// L + kerf: r = rho (L + kerf) - skin - kerf/2, and in a disc of radius R it is
// rho (R + kerf/2) - skin - kerf/2.
var circles = []struct {
	n      int
	disc   bool
	best   float64
	parted float64
}{
	{n: 2, best: .292893, parted: .292893},
	{n: 3, best: .254333, parted: .25},
	{n: 4, best: .25, parted: .25},
	{n: 5, best: .207107, parted: .207107},
	{n: 6, best: .187681, parted: .1847},
	{n: 7, best: .174458, parted: .1716},
	{n: 2, disc: true, best: .5, parted: .5},
	{n: 3, disc: true, best: .464102, parted: .4444},
	{n: 4, disc: true, best: .414214, parted: .414214},
	{n: 5, disc: true, best: .370192, parted: .3656},
	{n: 6, disc: true, best: .333333, parted: .333333},
	{n: 7, disc: true, best: .333333, parted: .3111},
}

// circleBlock is a rough whose stones are circles in plan.
func circleBlock(disc bool) planner.Stone {
	s := box(circleSide, circleSide, 6)
	if disc {
		s.Outline = nil
		for k := range 180 {
			sin, cos := math.Sincos(float64(k) * math.Pi / 90)
			s.Outline = append(s.Outline, geometry.Vec2{X: circleSide / 2 * (1 + cos), Y: circleSide / 2 * (1 + sin)})
		}
	}
	return s
}

const circleSide = 40.0

// laidCircles is how many rounds of a radius are laid into the rough.
func laidCircles(t *testing.T, n int, disc bool, r float64) int {
	t.Helper()
	b := body(t, circleBlock(disc))
	f := placed(t, "round", 2*r, 2*r, 2, circleSide/2, circleSide/2, 1.2, "").Fit
	bench := sawing(0.3)
	layouts, err := Several(context.Background(), b, presets.Builtin(), search.Plan{Stone: b.Stone, Fits: []search.Fit{f}},
		Options{Stones: n, Bench: bench}, nil)
	require.NoError(t, err)
	most := 0
	for _, l := range layouts {
		most = max(most, len(l.Fits))
	}
	return most
}

// As many stones of 0.98 of the published radius are found where straight cuts can part
// that packing. Two circles that touch are parted by the tangent at their contact alone.
// So nothing parts three that all touch, as 3 in a square and 3 in a disc, nor the ring of
// 5 in a disc, whose contacts' tangents are five different lines, nor 7 there, where a row
// touches the next at several places; of the ring of 6 contacts lie opposite each other,
// and one cut through the middle runs along both tangents. Nor was a first cut found for 6
// and 7 in a square. Those are held against 0.96 of the largest radius found to be parted.
func TestEqualCircles(t *testing.T) {
	for _, c := range circles {
		if testing.Short() && c.n > 4 {
			continue
		}
		whole := (circleSide + 0.3) * map[bool]float64{false: 1, true: 0.5}[c.disc]
		radius := func(rho float64) float64 { return rho*whole - 0.5 - 0.15 }
		near := 0.98
		if c.parted < c.best {
			near = 0.96
		}
		assert.Equal(t, c.n, laidCircles(t, c.n, c.disc, near*radius(c.parted)), "%+v", c)
		if c.n <= 3 { // each takes every start to find nothing
			assert.Less(t, laidCircles(t, c.n, c.disc, 1.01*radius(c.best)), c.n, "more than mathematics allows: %+v", c)
		}
	}
}
