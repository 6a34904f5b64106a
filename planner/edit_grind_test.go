package planner

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cabwright/geometry"
)

// slab is a level stone, 20 x 20 mm and 8 high, with one of each kind of mark.
func slab() Stone {
	square := func(x, y, half float64) []geometry.Vec2 {
		return []geometry.Vec2{{X: x - half, Y: y - half}, {X: x + half, Y: y - half}, {X: x + half, Y: y + half},
			{X: x - half, Y: y + half}}
	}
	return Stone{
		Name: "Slab", Material: "opal", ScaleCt: 40,
		Outline: square(0, 0, 10), Top: []geometry.Vec3{{Z: 8}}, Base: []geometry.Vec3{{Z: 0}},
		Cracks: []Crack{
			{ID: "C1", Path: []geometry.Vec2{{X: -5}, {X: 5}}, Face: Top, Depth: 3, Lean: 45, Toward: 90,
				DepthRange: &Range{Least: 2, Most: 4}},
			{ID: "C2", Path: []geometry.Vec2{{X: -5}, {X: 5}}, Face: Base, Depth: 3},
			{ID: "C3", Path: []geometry.Vec2{{X: -5}, {X: 5}}, Face: Top, Through: true,
				DepthRange: &Range{Least: 5, Open: true}},
		},
		Pockets: []Pocket{
			{ID: "P1", Outline: square(-5, -5, 2), Face: Top, Depth: 1, DepthRange: &Range{Least: 0.5, Most: 2}},
			{ID: "P2", Outline: square(5, 5, 2), Face: Inside, Low: 6, High: 7},
			{ID: "P3", Outline: square(5, -5, 2), Face: Top, Depth: 0.5},
		},
		Colour: []Zone{
			{ID: "Z1", Outline: square(0, 0, 4), Face: Top, Grade: 4, Depth: 2.5},
			{ID: "Z2", Outline: square(0, 0, 4), Face: Top, Grade: 2},
			{ID: "Z3", Outline: square(0, 0, 4), Face: Base, Grade: 2, Depth: 1},
		},
	}
}

// Worked by hand: 0.7 mm off the level top of 8.
func TestGrindAllOver(t *testing.T) {
	before := slab()
	s, ground, err := Grind(before, Grinding{Face: Top, MM: 0.7})
	require.NoError(t, err)
	assert.Equal(t, []geometry.Vec3{{Z: 7.3}}, s.Top)
	assert.Equal(t, before.Base, s.Base)
	assert.Zero(t, s.ScaleCt, "the weight was that of a heavier stone")
	assert.Equal(t, Ground{Gone: []string{"P3"}}, ground)

	assert.Equal(t, 2.3, s.Cracks[0].Depth)
	assert.Equal(t, Range{Least: 1.3, Most: 3.3}, *s.Cracks[0].DepthRange)
	// The sheet leans 45 degrees toward +y: 0.7 mm down it has gone 0.7 mm that way.
	assert.Equal(t, []geometry.Vec2{{X: -5, Y: 0.7}, {X: 5, Y: 0.7}}, s.Cracks[0].Path)
	assert.Equal(t, before.Cracks[1], s.Cracks[1], "the base was not touched")
	assert.True(t, s.Cracks[2].Through)
	assert.Equal(t, Range{Least: 4.3, Most: s.Cracks[2].DepthRange.Most, Open: true}, *s.Cracks[2].DepthRange)
	assert.Equal(t, 0.3, s.Pockets[0].Depth)
	assert.Equal(t, Range{Least: 0, Most: 1.3}, *s.Pockets[0].DepthRange)
	assert.Equal(t, before.Pockets[1], s.Pockets[1], "heights stay")
	assert.Equal(t, 1.8, s.Colour[0].Depth)
	assert.Zero(t, s.Colour[1].Depth, "a depth that nobody knows")
	assert.Equal(t, before.Colour[2], s.Colour[2])

	assert.True(t, before.Equal(slab()), "the stone before is left alone")
}

func TestGrindThroughMarks(t *testing.T) {
	s, ground, err := Grind(slab(), Grinding{Face: Top, MM: 1.5})
	require.NoError(t, err)
	assert.Equal(t, Ground{Gone: []string{"P3"}, Maybe: []string{"P1"}}, ground, "P1 was 1, at most 2 mm deep")
	assert.Equal(t, 0.0, s.Pockets[0].Depth)
	assert.Equal(t, Range{Least: 0, Most: 0.5}, *s.Pockets[0].DepthRange)

	s, ground, err = Grind(slab(), Grinding{Face: Top, MM: 2})
	require.NoError(t, err)
	assert.Equal(t, Ground{Gone: []string{"P1", "P2", "P3"}}, ground, "the top at 6 is where P2 began")
	assert.Empty(t, s.Pockets)

	_, ground, err = Grind(slab(), Grinding{Face: Base, MM: 3})
	require.NoError(t, err)
	assert.Equal(t, Ground{Gone: []string{"C2", "Z3"}}, ground)
	s, ground, err = Grind(slab(), Grinding{Face: Base, MM: 7})
	require.NoError(t, err)
	assert.Equal(t, Ground{Gone: []string{"C2", "P2", "Z3"}}, ground)
	assert.Equal(t, []geometry.Vec3{{Z: 7}}, s.Base)
}

func TestGrindIsRefused(t *testing.T) {
	for name, g := range map[string]Grinding{
		"all of it":   {Face: Top, MM: 8},
		"more":        {Face: Base, MM: 9},
		"negative":    {Face: Top, MM: -1},
		"no number":   {Face: Top, MM: math.NaN()},
		"no face":     {MM: 1},
		"wrong face":  {Face: Inside, MM: 1},
		"no readings": {Face: Top, MM: 1},
	} {
		s := slab()
		if name == "no readings" {
			s.Top = nil
		}
		out, ground, err := Grind(s, g)
		assert.Error(t, err, name)
		assert.True(t, out.Equal(s), name)
		assert.Empty(t, ground, name)
	}
	s, ground, err := Grind(slab(), Grinding{Face: Top, MM: 0})
	require.NoError(t, err)
	assert.Empty(t, ground)
	assert.Equal(t, slab().Top, s.Top)
}

// A window ground into one place lowers the face there and leaves it elsewhere.
func TestGrindHere(t *testing.T) {
	before := slab()
	s, ground, err := Grind(before, Grinding{Face: Top, MM: 0.7, At: &geometry.Vec2{X: -5, Y: -5}, Radius: 3})
	require.NoError(t, err)
	assert.Empty(t, ground)
	rough, err := NewRough(s)
	require.NoError(t, err)
	assert.InDelta(t, 7.3, rough.Top(-5, -5), 1e-6)
	for _, p := range []geometry.Vec2{{X: 5, Y: 5}, {X: 9, Y: -9}, {X: -5, Y: 5}, {X: -1, Y: -1}} {
		assert.InDelta(t, 8, rough.Top(p.X, p.Y), 0.15, "%v", p)
	}
	assert.Equal(t, before.Pockets[2], s.Pockets[2], "P3 lies elsewhere")
	assert.Equal(t, before.Colour[0].Depth, s.Colour[0].Depth, "Z1 is not under the window with all of it")
}

// However a top is ground, the bottoms of what goes in from it stay where they were
// or deeper, and grinding in two goes is grinding once.
func TestGrindLeavesBottoms(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := slab()
		s.Top = nil
		for _, at := range [][2]float64{{-8, -8}, {8, -8}, {0, 0}, {8, 8}, {-8, 8}} {
			s.Top = append(s.Top, geometry.Vec3{X: at[0], Y: at[1], Z: rapid.Float64Range(7, 9).Draw(t, "z")})
		}
		a, b := rapid.Float64Range(0, 1).Draw(t, "a"), rapid.Float64Range(0, 1).Draw(t, "b")
		first, _, err := Grind(s, Grinding{Face: Top, MM: a})
		require.NoError(t, err)
		twice, _, err := Grind(first, Grinding{Face: Top, MM: b})
		require.NoError(t, err)
		once, _, err := Grind(s, Grinding{Face: Top, MM: a + b})
		require.NoError(t, err)
		require.Len(t, once.Pockets, len(twice.Pockets))
		old, err := NewRough(s)
		require.NoError(t, err)
		now, err := NewRough(once)
		require.NoError(t, err)
		for i, k := range once.Cracks {
			if k.Through || k.Face != Top {
				continue
			}
			if d := math.Abs(k.Depth - twice.Cracks[i].Depth); d > 2*leastOff+1e-5 {
				t.Fatalf("%s: %v in one go, %v in two", k.ID, k.Depth, twice.Cracks[i].Depth)
			}
			p := s.Cracks[0].Path[0]
			was, is := old.Top(p.X, p.Y)-s.Cracks[0].Depth, now.Top(p.X, p.Y)-k.Depth
			if k.ID == "C1" && is > was+leastOff+1e-5 {
				t.Fatalf("C1 ended at %v and now ends at %v", was, is)
			}
		}
	})
}
