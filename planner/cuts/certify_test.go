package cuts

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/presets"
)

// tables is a layer that can move stones about on the tables alone.
func tables(b *Body, bench Bench) *layer {
	return &layer{
		ctx: context.Background(), b: b, room: b.measureRoom(), skin: b.Stone.Allowances.Skin,
		opt: Options{Bench: bench}, slack: leastSlack,
	}
}

// The point of the skin with least room, against all points of the skin a fifth of a
// millimetre apart, for stones beside cracks' edges and pockets' corners.
func TestClosestAgainstAllOfTheSkin(t *testing.T) {
	b := body(t, marked())
	l := tables(b, sawing(0.3))
	shapes, near := []string{"oval", "marquise", "rectangle"}, 0
	rapid.Check(t, func(t *rapid.T) {
		f := placed(t, rapid.SampledFrom(shapes).Draw(t, "shape"), 5, 4, 1, 0, 0, 0, "").Fit
		f.Solid.Sides = rapid.IntRange(1, 2).Draw(t, "sides")
		if f.Solid.Sides == 2 {
			f.Solid.Back = 0.5
		}
		m := l.newMover(nil, f.Candidate, geometry.Identity3())
		s := spot{
			at: geometry.Vec3{
				X: rapid.Float64Range(-7, 7).Draw(t, "x"), Y: rapid.Float64Range(-3, 3).Draw(t, "y"),
				Z: rapid.Float64Range(3, 4.5).Draw(t, "z"),
			},
			turn: rapid.Float64Range(0, 3).Draw(t, "turn"),
		}
		p, v := m.closest(s)
		axes := geometry.RotZ(s.turn)
		require.InDelta(t, l.room.at(s.at.Add(axes.Apply(p))), v, 1e-9)
		require.LessOrEqual(t, v, m.value(s, math.Inf(-1))+1e-9, "no more than at the samples")
		least := math.Inf(1)
		lo, hi := f.Solid.Outline.Extent()
		for x := lo.X; x <= hi.X; x += 0.2 {
			for y := lo.Y; y <= hi.Y; y += 0.2 {
				rho := f.Solid.Outline.Gauge(x, y)
				if rho > 1 {
					continue
				}
				for _, w := range [2]float64{f.Solid.Upper(rho), f.Solid.Lower(rho)} {
					at := s.at.Add(axes.Apply(geometry.Vec3{X: x, Y: y, Z: w - m.middle}))
					least = min(least, l.room.at(at))
				}
			}
		}
		if least > -0.5 { // what is further in never fits
			require.LessOrEqual(t, v, least+0.1)
			near++
		}
	})
	assert.Positive(t, near)
}

// A block of 30 x 12 x 7 mm with two ovals of 12 x 10 that lie half a millimetre apart:
// along the block 30 - 24 - 0.3 - 4 times the skin is left, far more than is asked for,
// once stones and cut are moved.
func TestAPairIsEased(t *testing.T) {
	b := body(t, box(30, 12, 7))
	bench := sawing(0.3)
	l := tables(b, bench)
	p := pair{cut: Cut{Plane: upcut(13, 6, 4, 0.3).Plane, Kerf: 0.3, Kind: Part}}
	lay := func(x float64) laid {
		f := placed(t, "oval", 12, 10, 2, x, 6, 1, "").Fit
		at := geometry.Vec3{X: x, Y: 6, Z: 1 + f.Solid.CentreOfHeight()}
		return laid{entry: &entry{Candidate: f.Candidate, carat: 2, frame: geometry.Identity3()}, at: spot{at: at}}
	}
	p.minus, p.plus = lay(8), lay(20.5)
	eased := l.ease(p, nil)
	require.GreaterOrEqual(t, eased.room, leastSlack)
	var rooms []float64
	for side, s := range map[float64]laid{-1: eased.minus, 1: eased.plus} {
		f := search.Fit{Candidate: s.Candidate, Pose: s.pose}
		rooms = append(rooms, eased.cut.Room(f, side, l.skin))
		assert.GreaterOrEqual(t, eased.cut.Room(f, side, l.skin), eased.room-1e-4, "beside the cut")
		for _, h := range []half{
			{geometry.Vec3{X: 1}, 0}, {geometry.Vec3{X: -1}, -30}, {geometry.Vec3{Y: 1}, 0}, {geometry.Vec3{Y: -1}, -12},
		} {
			assert.GreaterOrEqual(t, least(f, h.normal)-h.from-l.skin, 0.0, "beside the block's walls")
		}
	}
	assert.InDelta(t, rooms[0], rooms[1], 1e-4, "the cut runs in the middle")
	assert.Equal(t, eased, l.ease(p, nil), "the same on every run")
}

// Of the pairs of solids the heaviest come first, the roomiest of those that weigh the
// same, and of one pair a few cuts only.
func TestPairsOfSplits(t *testing.T) {
	heavy, light := &entry{carat: 3}, &entry{carat: 1}
	var splits []split
	for k := range 5 {
		room := 0.1 * float64(k)
		splits = append(splits, split{
			plus:  []laid{{entry: heavy, room: room}, {entry: light, room: 1}},
			minus: []laid{{entry: light, room: room}},
		})
	}
	pairs := pairsOf(splits)
	require.Len(t, pairs, 6)
	for k, want := range []struct{ carat, room float64 }{{4, 0.4}, {4, 0.3}, {4, 0.2}, {2, 0.4}, {2, 0.3}, {2, 0.2}} {
		assert.Equal(t, want.carat, pairs[k].carat())
		assert.InDelta(t, want.room, pairs[k].room, 1e-12)
	}
}

// Layouts are told as they are found: two stones before the search ends, and never less
// than before.
func TestLayoutsAreToldAsTheyAreFound(t *testing.T) {
	b := body(t, box(40, 16, 7))
	told, before := 0, 0.0
	last, err := Several(context.Background(), b, presets.Builtin(), planOfOne(t, b, true),
		Options{Stones: 2, Bench: sawing(0.3)}, func(some []Layout) {
			assert.GreaterOrEqual(t, some[0].Carat(), before)
			before = some[0].Carat()
			if len(some[0].Fits) == 2 {
				told++
			}
		})
	require.NoError(t, err)
	assert.GreaterOrEqual(t, told, 2, "a first answer, and the last")
	assert.InDelta(t, last[0].Carat(), before, 1e-9)
	assert.Equal(t, planner.Top, last[0].Fits[0].Face)
}
