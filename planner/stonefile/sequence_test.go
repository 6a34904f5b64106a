package stonefile

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"testing"
	"time"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/money"
	"cabwright/planner/stopwatch"
	"cabwright/presets"

	"github.com/stretchr/testify/require"
)

// anyEdit returns an edit of a random kind; some are refused.
func anyEdit(r *rand.Rand) func(planner.Stone) (planner.Stone, error) {
	at := geometry.Vec2{X: math.Round(r.NormFloat64()*800) / 100, Y: math.Round(r.NormFloat64()*600) / 100}
	i, n := r.IntN(9), r.Float64()
	face := []planner.Face{planner.Top, planner.Base}[r.IntN(2)]
	path := []geometry.Vec2{at, at.Add(geometry.Vec2{X: 2, Y: 1}), at.Add(geometry.Vec2{X: 3, Y: 4})}
	id := fmt.Sprintf("%c%d", "CPZ"[r.IntN(3)], 1+r.IntN(3))
	switch r.IntN(18) {
	case 0:
		return func(s planner.Stone) (planner.Stone, error) { return planner.AddCorner(s, i, at) }
	case 1:
		return func(s planner.Stone) (planner.Stone, error) { return planner.DeleteCorner(s, i) }
	case 2:
		return func(s planner.Stone) (planner.Stone, error) { return planner.SplitEdge(s, i) }
	case 3:
		return func(s planner.Stone) (planner.Stone, error) {
			return planner.AddReading(s, face, geometry.Vec3{X: at.X, Y: at.Y, Z: n})
		}
	case 4:
		return func(s planner.Stone) (planner.Stone, error) { return planner.DeleteReading(s, face, i) }
	case 5:
		return func(s planner.Stone) (planner.Stone, error) {
			return planner.AddCrack(s, planner.Crack{Path: path, Face: face, Depth: n, Lean: 80 * n, Toward: 360 * n})
		}
	case 6:
		return func(s planner.Stone) (planner.Stone, error) {
			return planner.AddPocket(s, planner.Pocket{Outline: path, Face: planner.Inside, Low: n, High: n + 1})
		}
	case 7:
		return func(s planner.Stone) (planner.Stone, error) {
			return planner.AddZone(s, planner.Zone{Outline: path, Face: face, Grade: 5 * n, Pattern: "broad flash"})
		}
	case 8:
		return func(s planner.Stone) (planner.Stone, error) { return planner.DeleteMark(s, id) }
	case 9:
		return func(s planner.Stone) (planner.Stone, error) { return planner.MoveMark(s, id, at) }
	case 10:
		return planner.TurnOver
	case 11:
		return func(s planner.Stone) (planner.Stone, error) { return planner.TurnOutline(s, 360*n) }
	case 12:
		return func(s planner.Stone) (planner.Stone, error) {
			return planner.SetName(s, []string{"plain", "海", "\x1b[2J", "\u202e", `"\`, ""}[r.IntN(6)])
		}
	case 13:
		return func(s planner.Stone) (planner.Stone, error) {
			return planner.AddCut(s, planner.Cut{Point: geometry.Vec3{X: at.X, Z: n}, Normal: geometry.Vec3{X: at.Y, Y: n},
				Kerf: n})
		}
	case 14:
		return func(s planner.Stone) (planner.Stone, error) {
			paid, err := money.ParseFigures(fmt.Sprintf("%d.%02d", i, i))
			if err != nil {
				return s, err
			}
			return planner.SetCost(s, &planner.Cost{Currency: "EUR", Paid: &paid, Lot: &planner.Lot{Carat: n}})
		}
	case 15:
		return func(s planner.Stone) (planner.Stone, error) {
			return planner.AddEntry(s, planner.Entry{Date: "2026-05-02", Stage: "ground", Carat: n,
				Found: []planner.Finding{{What: id + ".depth", Value: n}}})
		}
	case 16:
		return func(s planner.Stone) (planner.Stone, error) {
			return planner.AddCrack(s, planner.Crack{Path: path, Face: face, Depth: n, Chance: &n,
				DepthRange: &planner.Range{Least: n / 2, Open: true}, RunOnRange: &planner.Range{Most: n}})
		}
	default:
		return func(s planner.Stone) (planner.Stone, error) { return planner.MoveCorner(s, i, at) }
	}
}

// TestUndoingAllGivesTheFirstFileToTheByte edits at random, with every edit in
// the journal and now and then a save, undoes all and saves: the file is the
// first, byte for byte. Before that the edited stone is killed and found again.
func TestUndoingAllGivesTheFirstFileToTheByte(t *testing.T) {
	b := newBench(t)
	sequences, edits := longOr(100, 10_000), 0
	for seed := range sequences {
		r := rand.New(rand.NewPCG(uint64(seed), 9))
		s := b.open()
		require.Nil(t, s.Found())
		h := planner.NewHistory(s.Stone())
		for range 1 + r.IntN(25) {
			if h.Do("Edit", anyEdit(r)) != nil {
				continue
			}
			edits++
			require.NoError(t, s.Record(h.Changes(), "Edit", h.Stone()))
			if r.IntN(20) == 0 && len(planner.Validate(h.Stone(), b.options.Set)) == 0 {
				require.NoError(t, s.Save(h.Changes(), h.Stone()))
			}
		}
		edited := h.Stone()
		b.kill(s)
		next := b.open()
		found := next.Stone()
		if next.Found() != nil {
			found = next.Found().Stone
			require.NoError(t, next.Discard())
		}
		require.True(t, found.Equal(edited), "sequence %d", seed)
		for _, err := h.Undo(); err == nil; _, err = h.Undo() {
		}
		// The first session's document still holds the first bytes.
		require.Equal(t, sample, string(s.doc.Bytes(h.Stone())), "sequence %d", seed)
		require.NotEqual(t, sample, string(format(h.Stone())), "writing it anew would be noticed")
		require.NoError(t, next.Close())
		require.NoError(t, os.WriteFile(b.file, []byte(sample), 0o644))
	}
	t.Logf("%d sequences, %d edits", sequences, edits)
}

// largest is the largest stone the contract allows: 10,000 corners, 1,000 marks.
func largest(t testing.TB) planner.Stone {
	t.Helper()
	s := parseSample(t).Stone
	s.Outline = nil
	for i := range planner.MaxCorners {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / planner.MaxCorners)
		wave := 1 + 0.05*math.Sin(float64(i))
		s.Outline = append(s.Outline, geometry.Vec2{X: math.Round(14e4*wave*cos) / 1e4, Y: math.Round(10e4*wave*sin) / 1e4})
	}
	s.Cracks, s.Pockets, s.Colour = nil, nil, nil
	for i := range planner.MaxMarks {
		at := geometry.Vec2{X: float64(i%40)/2 - 10, Y: float64(i/40)/2 - 6}
		path := []geometry.Vec2{at, at.Add(geometry.Vec2{X: 0.3}), at.Add(geometry.Vec2{X: 0.2, Y: 0.3}),
			at.Add(geometry.Vec2{Y: 0.2})}
		switch i % 3 {
		case 0:
			s.Cracks = append(s.Cracks, planner.Crack{ID: fmt.Sprint("C", i), Path: path, Face: planner.Top, Depth: 1, RunOn: 1})
		case 1:
			s.Pockets = append(s.Pockets, planner.Pocket{ID: fmt.Sprint("P", i), Outline: path, Face: planner.Base, Depth: 1})
		default:
			s.Colour = append(s.Colour, planner.Zone{ID: fmt.Sprint("Z", i), Outline: path, Face: planner.Top, Grade: 3})
		}
	}
	require.Empty(t, planner.Validate(s, presets.Builtin()))
	return s
}

// TestTheLargestStoneDoesNotFreezeTheKeys bounds each step between a key and
// what it shows; each is far below its bound, which leaves room for slower
// machines.
func TestTheLargestStoneDoesNotFreezeTheKeys(t *testing.T) {
	stone := largest(t)
	timed := func(what string, limit time.Duration, do func()) {
		t.Helper()
		took := stopwatch.Took(do)
		t.Logf("%-28s %v", what, took)
		require.Less(t, took, limit*(patience/time.Second), what)
	}
	var text []byte
	timed("format", 200*time.Millisecond, func() { text = format(stone) })
	t.Logf("%d bytes", len(text))
	var doc *Document
	timed("parse", 500*time.Millisecond, func() {
		var err error
		doc, err = parse("x", text, presets.Builtin())
		require.NoError(t, err)
	})
	require.True(t, doc.Stone.Equal(stone))
	b := newBench(t)
	require.NoError(t, os.WriteFile(b.file, text, 0o644))
	var s *Session
	timed("open", 500*time.Millisecond, func() { s = b.open() })
	h := planner.NewHistory(s.Stone())
	edit := func(name string, change func(planner.Stone) (planner.Stone, error)) {
		t.Helper()
		timed(name, 100*time.Millisecond, func() { require.NoError(t, h.Do(name, change)) })
	}
	edit("move corner", func(s planner.Stone) (planner.Stone, error) {
		return planner.MoveCorner(s, 5000, s.Outline[5000].Scale(1.001))
	})
	edit("delete mark", func(s planner.Stone) (planner.Stone, error) { return planner.DeleteMark(s, "C999") })
	edit("add crack", func(s planner.Stone) (planner.Stone, error) {
		return planner.AddCrack(s, planner.Crack{Path: stone.Outline[:3], Face: planner.Base, Through: true})
	})
	edit("set reading", func(s planner.Stone) (planner.Stone, error) {
		return planner.SetReading(s, planner.Top, 0, geometry.Vec3{Z: 9})
	})
	edit("turn over", planner.TurnOver)
	edit("turn", func(s planner.Stone) (planner.Stone, error) { return planner.TurnOutline(s, 10) })
	timed("undo and redo", 10*time.Millisecond, func() { _, _ = h.Undo(); _, _ = h.Redo(); h.Dirty() })
	timed("length and width", 50*time.Millisecond, func() { planner.Extent(h.Stone().Outline) })
	timed("first record in the journal", 500*time.Millisecond,
		func() { require.NoError(t, s.Record(1, "Turn", h.Stone())) })
	moved, err := planner.MoveCorner(h.Stone(), 1, h.Stone().Outline[1].Scale(1.0001))
	require.NoError(t, err)
	timed("next record in the journal", 100*time.Millisecond, func() { require.NoError(t, s.Record(2, "Move", moved)) })
	timed("save", time.Second, func() { require.NoError(t, s.Save(2, moved)) })
}
