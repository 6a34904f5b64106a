package planner

import (
	"errors"
	"fmt"
	"runtime"
	"slices"
	"testing"

	"cabwright/geometry"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func named(name string) func(Stone) (Stone, error) {
	return func(s Stone) (Stone, error) { return SetName(s, name) }
}

func TestHistoryOfNothing(t *testing.T) {
	h := NewHistory(Stone{})
	_, err := h.Undo()
	require.ErrorIs(t, err, ErrNothingToUndo)
	_, err = h.Redo()
	require.ErrorIs(t, err, ErrNothingToRedo)
	require.False(t, h.Dirty())
	undo, redo := h.Names()
	require.Empty(t, undo)
	require.Empty(t, redo)
}

func TestUndoAndRedoByName(t *testing.T) {
	h := NewHistory(Stone{Name: "0"})
	for i := 1; i <= 3; i++ {
		require.NoError(t, h.Do(fmt.Sprintf("Edit %d", i), named(fmt.Sprint(i))))
	}
	require.True(t, h.Dirty())
	name, err := h.Undo()
	require.NoError(t, err)
	require.Equal(t, "Edit 3", name)
	require.Equal(t, "2", h.Stone().Name)
	undo, redo := h.Names()
	require.Equal(t, []string{"Edit 1", "Edit 2"}, undo)
	require.Equal(t, []string{"Edit 3"}, redo)
	name, err = h.Redo()
	require.NoError(t, err)
	require.Equal(t, "Edit 3", name)
	_, _ = h.Undo()
	require.NoError(t, h.Do("Other", named("x")))
	_, err = h.Redo()
	require.ErrorIs(t, err, ErrNothingToRedo)
	h.Saved(h.Stone())
	require.False(t, h.Dirty())
	_, _ = h.Undo()
	require.True(t, h.Dirty())
	_, _ = h.Redo()
	require.False(t, h.Dirty(), "back at what the file holds")
}

func TestARefusedOrEmptyEditIsNotKept(t *testing.T) {
	h := NewHistory(Stone{Name: "a"})
	no := errors.New("no")
	require.ErrorIs(t, h.Do("Refused", func(s Stone) (Stone, error) { s.Name = "b"; return s, no }), no)
	require.NoError(t, h.Do("Nothing", named("a")))
	require.Equal(t, "a", h.Stone().Name)
	require.Zero(t, h.Changes())
	_, err := h.Undo()
	require.ErrorIs(t, err, ErrNothingToUndo)
}

func TestADragIsOneEdit(t *testing.T) {
	h := NewHistory(Stone{Name: "start"})
	require.NoError(t, h.Do("Before", named("before")))
	for i := range 50 {
		require.NoError(t, h.Continue("Drag", named(fmt.Sprint(i))))
	}
	require.Equal(t, uint64(51), h.Changes())
	_, err := h.Undo()
	require.NoError(t, err)
	require.Equal(t, "before", h.Stone().Name)
}

// randomEdit makes one edit of any kind; edits that are refused leave the stone.
func randomEdit(t *rapid.T, s Stone) (name string, edit func(Stone) (Stone, error)) {
	n := func(list int) int { return rapid.IntRange(-1, list).Draw(t, "index") }
	v := rapid.Float64Range(-16, 16)
	p := v2(tidy(v.Draw(t, "x")), tidy(v.Draw(t, "y")))
	face := rapid.SampledFrom([]Face{Top, Base}).Draw(t, "face")
	path := []geometry.Vec2{p, p.Add(v2(2, 1)), p.Add(v2(3, 4))}
	switch k := rapid.IntRange(0, 15).Draw(t, "kind"); k {
	case 0:
		i := n(len(s.Outline))
		return "Move corner", func(s Stone) (Stone, error) { return MoveCorner(s, i, p) }
	case 1:
		i := n(len(s.Outline))
		return "Add corner", func(s Stone) (Stone, error) { return AddCorner(s, i, p) }
	case 2:
		i := n(len(s.Outline))
		return "Split edge", func(s Stone) (Stone, error) { return SplitEdge(s, i) }
	case 3:
		i := n(len(s.Outline))
		return "Delete corner", func(s Stone) (Stone, error) { return DeleteCorner(s, i) }
	case 4:
		return "Add reading", func(s Stone) (Stone, error) { return AddReading(s, face, v3(p.X, p.Y, 4)) }
	case 5:
		i := n(len(s.Readings(face)))
		return "Set reading", func(s Stone) (Stone, error) { return SetReading(s, face, i, v3(p.X, p.Y, 5)) }
	case 6:
		i := n(len(s.Readings(face)))
		return "Delete reading", func(s Stone) (Stone, error) { return DeleteReading(s, face, i) }
	case 7:
		return "Add crack", func(s Stone) (Stone, error) { return AddCrack(s, Crack{Path: path, Face: face, Through: true}) }
	case 8:
		return "Add pocket", func(s Stone) (Stone, error) { return AddPocket(s, Pocket{Outline: path, Face: face, Depth: 2}) }
	case 9:
		return "Add colour zone", func(s Stone) (Stone, error) {
			return AddZone(s,
				Zone{Outline: path, Face: face, Grade: 3})
		}
	case 10:
		id := rapid.SampledFrom([]string{"C1", "P1", "Z1", "C2"}).Draw(t, "id")
		return "Delete mark", func(s Stone) (Stone, error) { return DeleteMark(s, id) }
	case 11:
		id := rapid.SampledFrom([]string{"C1", "P1", "Z1", "C2"}).Draw(t, "id")
		return "Move mark", func(s Stone) (Stone, error) { return MoveMark(s, id, v2(1, -1)) }
	case 12:
		return "Turn over", TurnOver
	case 13:
		return "Turn", func(s Stone) (Stone, error) { return TurnOutline(s, p.X*10) }
	case 14:
		return "Scale", func(s Stone) (Stone, error) { return ScaleOutlineTo(s, 20+p.X, 15+p.Y/2) }
	default:
		return "Allowances", func(s Stone) (Stone, error) {
			return SetAllowances(s, Allowances{Skin: max(0, p.X), Crack: 1, SealedCrack: 0.5, Pocket: 0.5})
		}
	}
}

// After any edits, undos and redos: the outline is simple, the names tell what
// is done, undoing all gives the first stone and redoing all the last.
func TestHistoryKeepsItsInvariants(t *testing.T) {
	first := marked(t)
	rapid.Check(t, func(t *rapid.T) {
		h := NewHistory(first)
		for range rapid.IntRange(0, 40).Draw(t, "edits") {
			switch rapid.IntRange(0, 5).Draw(t, "what") {
			case 0:
				_, _ = h.Undo()
			case 1:
				_, _ = h.Redo()
			default:
				name, edit := randomEdit(t, h.Stone())
				_ = h.Do(name, edit)
			}
			if _, _, how := crossing(h.Stone().Outline); how != apart {
				t.Fatalf("the outline crosses itself: %v", h.Stone().Outline)
			}
		}
		for _, err := h.Redo(); err == nil; _, err = h.Redo() {
		}
		last := h.Stone()
		undo, _ := h.Names()
		var undone []string
		for name, err := h.Undo(); err == nil; name, err = h.Undo() {
			undone = append(undone, name)
		}
		slices.Reverse(undone)
		if !slices.Equal(undo, undone) {
			t.Fatalf("named %v, undone %v", undo, undone)
		}
		if !h.Stone().Equal(first) || h.Dirty() {
			t.Fatal("undoing all does not give the first stone")
		}
		for _, err := h.Redo(); err == nil; _, err = h.Redo() {
		}
		if !h.Stone().Equal(last) {
			t.Fatal("redoing all does not give the last stone")
		}
	})
}

// Over 100,000 edits the history's memory stays under its bound and does not
// grow in the second half; the bound is the one it counts by, not the heap's
// mood, and the heap is looked at too.
func TestMemoryStaysFlatOverManyEdits(t *testing.T) {
	big := marked(t)
	big.Outline = manyCorners()["circle"]
	for name, s := range map[string]Stone{"small": marked(t), "large": big} {
		edits := 100_000
		if name == "large" {
			edits = 10_000 // of 160 kB each: fifty times what is kept
		}
		h := NewHistory(s)
		var half, end uint64
		for i := range edits {
			next := h.Stone()
			next.Outline = with(next.Outline, i%len(next.Outline), next.Outline[i%len(next.Outline)].Scale(1.0001))
			require.NoError(t, h.Do("Move corner", func(Stone) (Stone, error) { return next, nil }))
			require.LessOrEqual(t, len(h.steps), maxSteps+1)
			require.LessOrEqual(t, h.bytes, maxHistoryBytes)
			switch i {
			case edits / 2:
				half = heapInUse()
			case edits - 1:
				end = heapInUse()
			}
		}
		undo, _ := h.Names()
		require.Greater(t, len(undo), 100, "%s: a good many can be undone", name)
		// The bound may be anywhere between 7/8 and 8/8 full at either moment.
		require.Less(t, float64(end), float64(half)+maxHistoryBytes/8+4<<20, name)
		require.Less(t, end, uint64(2*maxHistoryBytes), name)
		runtime.KeepAlive(h)
	}
}

func heapInUse() uint64 {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}
