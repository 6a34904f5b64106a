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

// marked is a rough with bent faces, two cracks, of which one leans, and a pocket from
// each face.
func marked() planner.Stone {
	s := domed()
	s.Cracks = []planner.Crack{
		{ID: "C1", Path: []geometry.Vec2{{X: -5, Y: -8}, {X: -4, Y: 2}, {X: -6, Y: 9}}, Face: planner.Top, Depth: 4},
		{
			ID: "C2", Path: []geometry.Vec2{{X: 5, Y: -3}, {X: 7, Y: 4}}, Face: planner.Base, Depth: 5,
			Lean: 35, Toward: 160, RunOn: 1,
		},
	}
	square := func(x, y float64) []geometry.Vec2 {
		return []geometry.Vec2{{X: x, Y: y}, {X: x + 2, Y: y}, {X: x + 2, Y: y + 2}, {X: x, Y: y + 2}}
	}
	s.Pockets = []planner.Pocket{
		{ID: "P1", Outline: square(-1, 1), Face: planner.Top, Depth: 2},
		{ID: "P2", Outline: square(1, -2), Face: planner.Base, Depth: 3},
	}
	return s
}

// What a cube says to be above some room is: the room at a point, read from the tables, is
// never below it, inside, outside and beyond the tables.
func TestCubesBoundTheRoom(t *testing.T) {
	for name, s := range map[string]planner.Stone{"plain": domed(), "marked": marked(), "block": box(40, 16, 7)} {
		b := body(t, s)
		r := b.measureRoom()
		lo, hi := geometry.Bounds(b.Rough.Outline)
		low, high := b.Rough.Heights()
		settled := 0
		rapid.Check(t, func(t *rapid.T) {
			p := geometry.Vec3{
				X: rapid.Float64Range(lo.X-2, hi.X+2).Draw(t, "x"),
				Y: rapid.Float64Range(lo.Y-2, hi.Y+2).Draw(t, "y"),
				Z: rapid.Float64Range(low-2, high+2).Draw(t, "z"),
			}
			room := r.at(p)
			require.False(t, r.cells.above(p, room+1e-6), "%s: %v has %g only", name, p, room)
			if r.cells.above(p, room-1.5) {
				settled++
			}
		})
		assert.Greater(t, settled, 20, "%s: a cube says next to nothing", name)
	}
}

// What of a crack lies in a piece, against points of it a twentieth of a millimetre apart
// that are each looked at (the sheet as the stone file's contract has it).
func TestStretchesOfACrackAgainstItsPoints(t *testing.T) {
	b := body(t, marked())
	rapid.Check(t, func(t *rapid.T) {
		cuts := randomCuts(t)
		for _, c := range cuts {
			sides := append(halves(cuts, c.Piece), c.side(1))
			for i := range b.sheets {
				s := &b.sheets[i]
				if pointsIn(b, s, sides) {
					require.True(t, s.any(sides), "%s is missed", s.id)
				}
				s.each(sides, func(part stretch) bool {
					for _, depth := range [3]float64{part.from, (part.from + part.to) / 2, part.to} {
						p := part.start.Add(s.into.Scale(depth))
						require.True(t, near(b, p), "%s has no point at %v", s.id, p)
						for _, h := range sides {
							require.GreaterOrEqual(t, h.normal.Dot(p), h.from-1e-9)
						}
					}
					return true
				})
			}
		}
	})
}

// near tells whether a point lies in the rough, or a hair outside.
func near(b *Body, p geometry.Vec3) bool {
	const hair = 1e-4
	return toPolygon(b.Rough.Outline, p.XY()) > -hair &&
		p.Z < b.Rough.Top(p.X, p.Y)+hair && p.Z > b.Rough.Base(p.X, p.Y)-hair
}

// pointsIn tells whether some point of a sheet lies well inside the sides and the rough.
func pointsIn(b *Body, s *sheet, sides []half) bool {
	for _, start := range s.starts {
		for depth := 0.0; depth <= s.depth; depth += sheetStep {
			p := start.Add(s.into.Scale(depth))
			within := b.holds(p) && toPolygon(b.Rough.Outline, p.XY()) > lineStep &&
				math.Min(b.Rough.Top(p.X, p.Y)-p.Z, p.Z-b.Rough.Base(p.X, p.Y)) > lineStep
			for _, h := range sides {
				within = within && h.normal.Dot(p) >= h.from
			}
			if within {
				return true
			}
		}
	}
	return false
}
