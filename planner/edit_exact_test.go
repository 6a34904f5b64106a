package planner

import (
	"encoding/json"
	"math"
	"testing"

	"cabwright/geometry"

	"github.com/stretchr/testify/require"
)

// A quarter turn counter-clockwise brings what lies to the right to the back:
// (x, y) to (-y, x) about the middle (the matrix of a rotation; the stone file
// counts directions counter-clockwise from +x).
func TestTurningGoesCounterClockwise(t *testing.T) {
	s := Stone{
		Outline: []geometry.Vec2{v2(-3, -1), v2(3, -1), v2(3, 1), v2(-3, 1)},
		Top:     []geometry.Vec3{v3(2, 0.5, 7)},
		Base:    []geometry.Vec3{v3(0, 1, 0)},
		Cracks:  []Crack{{ID: "C1", Path: []geometry.Vec2{v2(1, 0), v2(3, 0)}, Face: Top, Depth: 1, Toward: 300}},
		Pockets: []Pocket{{ID: "P1", Outline: []geometry.Vec2{v2(1, 0), v2(2, 0), v2(2, 1)}, Face: Top, Depth: 1}},
		Colour:  []Zone{{ID: "Z1", Outline: []geometry.Vec2{v2(1, 0), v2(2, 0), v2(2, 1)}, Face: Top}},
	}
	o, err := TurnOutline(s, 90)
	require.NoError(t, err)
	near := func(want, got []geometry.Vec2) {
		t.Helper()
		require.Len(t, got, len(want))
		for i := range want {
			require.InDelta(t, 0, want[i].Sub(got[i]).Norm(), 1e-6, "%v", got)
		}
	}
	near([]geometry.Vec2{v2(1, -3), v2(1, 3), v2(-1, 3), v2(-1, -3)}, o.Outline)
	near([]geometry.Vec2{v2(0, 1), v2(0, 3)}, o.Cracks[0].Path)
	near([]geometry.Vec2{v2(0, 1), v2(0, 2), v2(-1, 2)}, o.Pockets[0].Outline)
	near([]geometry.Vec2{v2(0, 1), v2(0, 2), v2(-1, 2)}, o.Colour[0].Outline)
	near([]geometry.Vec2{v2(-0.5, 2)}, []geometry.Vec2{o.Top[0].XY()})
	near([]geometry.Vec2{v2(-1, 0)}, []geometry.Vec2{o.Base[0].XY()})
	require.Equal(t, 7.0, o.Top[0].Z)
	require.InDelta(t, 30, o.Cracks[0].Toward, 1e-9, "300 + 90 degrees")
	half, err := TurnOutline(s, 30)
	require.NoError(t, err)
	near([]geometry.Vec2{v2(-3*math.Cos(math.Pi/6)+0.5, -1.5-math.Cos(math.Pi/6))}, half.Outline[:1])
}

// Every edit, undo and redo has a number of its own that is larger than those
// before: what is written late is told from what is new by it.
func TestEveryStepRaisesTheNumberOfChanges(t *testing.T) {
	h := NewHistory(Stone{Name: "0"})
	last := h.Changes()
	rises := func(what string, err error) {
		t.Helper()
		require.NoError(t, err)
		require.Greater(t, h.Changes(), last, what)
		last = h.Changes()
	}
	rises("an edit", h.Do("Rename", named("1")))
	rises("a part of it", h.Continue("Rename", named("2")))
	_, err := h.Undo()
	rises("undo", err)
	_, err = h.Redo()
	rises("redo", err)
	_, err = h.Undo()
	rises("undo again", err)
	rises("another edit", h.Do("Rename", named("3")))
	_, err = h.Redo()
	require.ErrorIs(t, err, ErrNothingToRedo)
	h.Saved(h.Stone())
	require.Equal(t, last, h.Changes(), "what changes nothing has no number")
}

// The lean of a crack's sheet is from the vertical, 0 to 80 degrees, both ends
// included (the stone file's contract).
func TestLeanHasItsLimits(t *testing.T) {
	s := marked(t)
	for lean, good := range map[float64]bool{
		0: true, 1e-9: true, 45: true, 80: true,
		-1e-9: false, math.Nextafter(80,
			81): false, 80.5: false, 90: false, -20: false, math.NaN(): false, math.Inf(1): false,
	} {
		k := s.Cracks[0]
		k.Lean = lean
		for name, edit := range map[string]func() (Stone, error){
			"replaced": func() (Stone, error) { return ReplaceCrack(s, "C1", k) },
			"added":    func() (Stone, error) { k := k; k.ID = ""; return AddCrack(s, k) },
		} {
			out, err := edit()
			if good {
				require.NoError(t, err, "%s with %v", name, lean)
				continue
			}
			require.ErrorContains(t, err, "outside 0 to 80", "%s with %v", name, lean)
			require.True(t, out.Equal(s))
		}
	}
}

// What this program does not know of a mark stays with it, whatever else of the
// mark is changed.
func TestUnknownKeysStayWithTheirMark(t *testing.T) {
	key := func(name string) []UnknownKey { return []UnknownKey{{Name: name, Value: json.RawMessage("1")}} }
	s := marked(t)
	k, p, z := s.Cracks[0], s.Pockets[0], s.Colour[0]
	s.Cracks[0].Unknown, s.Pockets[0].Unknown, s.Colour[0].Unknown = key("k"), key("p"), key("z")
	k.Depth, p.Depth, z.Grade = 3, 3, 1
	k.Unknown, p.Unknown = nil, key("other")
	var err error
	s, err = ReplaceCrack(s, k.ID, k)
	require.NoError(t, err)
	s, err = ReplacePocket(s, p.ID, p)
	require.NoError(t, err)
	s, err = ReplaceZone(s, z.ID, z)
	require.NoError(t, err)
	for range 2 { // and after it is moved, and the stone turned
		require.Equal(t, key("k"), s.Cracks[0].Unknown)
		require.Equal(t, key("p"), s.Pockets[0].Unknown)
		require.Equal(t, key("z"), s.Colour[0].Unknown)
		for _, id := range []string{k.ID, p.ID, z.ID} {
			s, err = MoveMark(s, id, v2(0.5, 0))
			require.NoError(t, err)
		}
		s, err = TurnOutline(s, 20)
		require.NoError(t, err)
		s, err = TurnOver(s)
		require.NoError(t, err)
	}
	require.Equal(t, 3.0, s.Cracks[0].Depth)
}
