package search

import (
	"bytes"
	"context"
	"encoding/json"
	"runtime"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cabwright/planner"
	"cabwright/planner/search/internal/searchtest"
	"cabwright/planner/stopwatch"
	"cabwright/presets"
)

// written is a plan as bytes, the time it took apart.
func written(t *testing.T, p Plan) []byte {
	p.Elapsed = 0
	b, err := json.Marshal(p)
	require.NoError(t, err)
	return b
}

// The same stone gives the same plan, byte for byte, on one core and on two,
// with someone watching and without.
func TestSamePlanEveryTime(t *testing.T) {
	t.Parallel()
	for name, opt := range map[string]Options{
		"nodule":    {Shapes: []string{"round"}, Sides: []int{1}, Level: true},
		"one-crack": {Shapes: []string{"marquise", Freeform}, Sides: []int{1}, TiltMaxDeg: 3},
	} {
		if searchtest.Raced {
			opt.Sides, opt.Shapes = []int{1}, []string{"marquise"}
		}
		s := searchtest.Demo(t, name)
		var first []byte
		for i, workers := range []int{1, 2} {
			opt.Workers = workers
			emit := func(Plan) {}
			if i == 1 {
				emit = nil
			}
			p, err := Run(context.Background(), s, opt, emit)
			require.NoError(t, err)
			require.NotEmpty(t, p.Fits, name)
			if first == nil {
				first = written(t, p)
			}
			require.True(t, bytes.Equal(first, written(t, p)), "%s with %d workers, run %d", name, workers, i)
		}
	}
}

// A cancelled search returns at once with what it has, and leaves nothing running.
func TestCancel(t *testing.T) {
	s := searchtest.Demo(t, "one-crack")
	before := runtime.NumGoroutine()
	late := 0
	for _, ms := range []int{0, 30, 120, 350, 800} {
		after := time.Duration(ms) * time.Millisecond
		ctx, cancel := context.WithCancel(context.Background())
		var ended time.Duration // in processor time: the machine may be busy with other work
		timer := time.AfterFunc(after, func() { ended = stopwatch.Used(); cancel() })
		p, err := Run(ctx, s, Options{}, func(Plan) {})
		waited := (stopwatch.Used() - ended) / time.Duration(runtime.GOMAXPROCS(0))
		require.NoError(t, err)
		require.False(t, timer.Stop(), "the search was done before it was cancelled")
		require.Equal(t, Cancelled, p.Stopped)
		for _, f := range p.Fits {
			require.GreaterOrEqual(t, f.Clearance, 0.0)
		}
		require.Less(
			t, waited, map[bool]time.Duration{false: 250 * time.Millisecond, true: 2 * time.Second}[searchtest.Raced],
		)
		if waited > 50*time.Millisecond && p.Elapsed > after {
			late++
			t.Logf("cancelled after %v, back %v later", after, waited)
		}
		cancel()
	}
	// Making the field ready is not cut short.
	assert.LessOrEqual(t, late, map[bool]int{false: 2, true: 5}[searchtest.Raced])
	for wait := 0; runtime.NumGoroutine() > before && wait < 1000; wait++ {
		time.Sleep(10 * time.Millisecond)
	}
	require.LessOrEqual(t, runtime.NumGoroutine(), before, "nothing is left running")
}

// What is shown on the way is never wrong: progress only grows, every fit keeps
// its allowances, and the order is that of the rank.
func TestSnapshots(t *testing.T) {
	s := searchtest.Demo(t, "one-crack")
	site, err := Open(s)
	require.NoError(t, err)
	var seen []Plan
	last, err := Run(
		context.Background(), s, Options{Shapes: []string{"round", Freeform}, Sides: []int{1}, TiltMaxDeg: 4},
		func(p Plan) { seen = append(seen, p) },
	)
	require.NoError(t, err)
	require.NotEmpty(t, seen)
	progress := 0.0
	for _, p := range append(seen, last) {
		require.GreaterOrEqual(t, p.Progress, progress-1e-9, "progress goes back")
		require.LessOrEqual(t, p.Progress, 1.0)
		progress = p.Progress
		for i, f := range p.Fits {
			require.GreaterOrEqual(t, f.Clearance, 0.0)
			require.True(t, i == 0 || p.Fits[i-1].Carat >= f.Carat)
		}
	}
	require.Equal(t, 1.0, last.Progress)
	// Every fit of the end, and some of the way, read again on their own.
	check := last.Fits
	for i := 0; i < len(seen); i += max(1, len(seen)/3) {
		if n := len(seen[i].Fits); n > 0 {
			check = append(check, seen[i].Fits[0], seen[i].Fits[n-1])
		}
	}
	for i, f := range check {
		r := site.Clearance(f.Solid, f.Pose)
		require.GreaterOrEqual(t, r.Clearance, 0.0, "%+v", f.Candidate)
		if i < len(last.Fits) {
			require.InDelta(t, f.Clearance, r.Clearance, 0.01, "%+v", f.Candidate)
			require.NotEmpty(t, f.LimitedBy)
		}
		require.Equal(t, f.Face == planner.Base, f.Pose.Axes.W.Z < 0)
	}
}

// The tallest dome that fits is kept for every outline and back; no candidate is
// told twice, and none of a plan that ran to its end is left out.
func TestEveryCandidateOnce(t *testing.T) {
	s := searchtest.Demo(t, "slab")
	p, err := Run(context.Background(), s, Options{Shapes: []string{"oval", "heart"}, Sides: []int{2}, Level: true}, nil)
	require.NoError(t, err)
	type key struct {
		face  planner.Face
		shape string
		l, w  float64
		sides int
	}
	keyOf := func(c Candidate) key {
		return key{c.Face, c.Solid.Outline.Shape, c.Solid.Outline.Length, c.Solid.Outline.Width, c.Solid.Sides}
	}
	fits := map[key]float64{}
	for _, f := range p.Fits {
		_, twice := fits[keyOf(f.Candidate)]
		require.False(t, twice, "%+v", f.Candidate)
		fits[keyOf(f.Candidate)] = f.Volume
	}
	met := map[key]bool{}
	for k := range fits {
		met[k] = true
	}
	for _, o := range p.RuledOut {
		k := keyOf(o.Candidate)
		met[k] = true
		if volume, fit := fits[k]; fit {
			require.Greater(t, o.Solid.Volume(), volume, "only fuller solids are refused where one fits: %+v", o.Candidate)
		}
		if o.Verdict == CannotFit {
			require.Less(t, o.Bound, 0.0)
		} else {
			require.Equal(t, Undecided, o.Verdict)
		}
	}
	// Every outline on 2 faces; the smallest have too little left within a wall.
	sizes := 0
	for _, size := range presets.Builtin().Sizes {
		if size.Shape == "oval" || size.Shape == "heart" {
			sizes++
		}
	}
	require.Equal(t, sizes, p.Sizes)
	require.GreaterOrEqual(t, len(met), sizes*2-4)
}

// A stone without a solid is an error, not an empty plan.
func TestNoSolid(t *testing.T) {
	s := searchtest.Demo(t, "slab")
	s.Top, s.Base = s.Base, s.Top
	_, err := Run(context.Background(), s, Options{}, nil)
	require.ErrorIs(t, err, planner.ErrNoSolid)
	_, err = Open(s)
	require.ErrorIs(t, err, planner.ErrNoSolid)
}

// Settling a pose that was moved by hand finds more room near by, within the
// tilt, and says what Clearance says there.
func TestSettle(t *testing.T) {
	s := searchtest.Demo(t, "one-crack")
	site, err := Open(s)
	require.NoError(t, err)
	p, err := Run(
		context.Background(), s,
		Options{Shapes: []string{"round"}, Sides: []int{1}, Faces: []planner.Face{planner.Top}, Level: true}, nil,
	)
	require.NoError(t, err)
	require.NotEmpty(t, p.Fits)
	for _, f := range p.Fits[:min(4, len(p.Fits))] {
		pose := f.Pose
		pose.Origin.X += 0.25
		pose.Origin.Z -= 0.2
		moved := site.Clearance(f.Solid, pose)
		require.Less(t, moved.Clearance, f.Clearance+1e-3+0.5)
		back, r := site.Settle(f.Candidate, pose, 0)
		require.GreaterOrEqual(t, r.Clearance, moved.Clearance)
		require.GreaterOrEqual(t, r.Clearance, -0.05, "%+v", f.Candidate)
		require.InDelta(t, r.Clearance, site.Clearance(f.Solid, back).Clearance, 1e-9+0.01)
		require.InDelta(t, 1, back.Axes.W.Z, 1e-9, "kept level")
	}
}
