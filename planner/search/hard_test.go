package search

import (
	"context"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/planner"
	"cabwright/planner/search/internal/certify"
	"cabwright/planner/search/internal/searchtest"
)

// hardStones lists the stones made to be nasty: lumpy, dented, jagged, thin, large,
// with readings close by one another, or with nothing to find.
func hardStones(t require.TestingT) []string {
	files, err := os.ReadDir("../../testdata/stones/hard")
	require.NoError(t, err)
	var out []string
	for _, f := range files {
		out = append(out, filepath.Join("hard", strings.TrimSuffix(f.Name(), ".stone")))
	}
	require.GreaterOrEqual(t, len(out), 11)
	return out
}

// Every good stone gets a plan, also one that a search tuned to kind stones would fail
// on: each fit keeps its allowances as it says, each refusal and each open size has a
// bound, and the open boxes stay within memory.
func TestHardStones(t *testing.T) {
	t.Parallel()
	shapes, faces := []string{"round"}, []planner.Face{planner.Top}
	if searchtest.Long {
		shapes, faces = nil, nil
	}
	for _, name := range hardStones(t) {
		s := searchtest.Demo(t, name)
		opt := Options{Shapes: shapes, Faces: faces, Sides: []int{1}, Level: true}
		for _, tilt := range []float64{0, 8} {
			if tilt > 0 && (searchtest.Raced || !searchtest.Long && name != filepath.Join("hard", "lumpy")) {
				continue
			}
			opt.Level, opt.TiltMaxDeg = tilt == 0, tilt
			p, err := Run(context.Background(), s, opt, nil)
			require.NoError(t, err, name)
			site, err := Open(s)
			require.NoError(t, err, name)
			for _, f := range p.Fits {
				r := site.Clearance(f.Solid, f.Pose)
				require.GreaterOrEqual(t, r.Clearance, f.Clearance-certify.Resolution, "%s: %+v", name, f.Solid.Outline)
				require.NotEmpty(t, f.LimitedBy, name)
			}
			for _, o := range p.RuledOut {
				require.Less(t, o.Bound, unknownBound, "%s: %+v", name, o.Solid.Outline)
				require.Equal(t, o.Verdict == CannotFit, o.Bound < 0, "%s: %+v", name, o.Solid.Outline)
			}
		}
	}
	if searchtest.Raced {
		return // the race detector keeps memory of its own
	}
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	require.Less(t, m.HeapSys, uint64(400<<20), "bytes of heap that were ever needed")
}

// Where there is no place for anything nothing is found, and all is refused.
func TestNothingFits(t *testing.T) {
	for _, name := range []string{"thin-slab", "splinter", "wide-skin", "nothing-fits"} {
		p, err := Run(
			context.Background(), searchtest.Demo(t, filepath.Join("hard", name)),
			Options{Shapes: []string{"round", "oval", "marquise", Freeform}}, nil,
		)
		require.NoError(t, err, name)
		require.Empty(t, p.Fits, name)
		require.Equal(t, Complete, p.Stopped, name)
		for _, o := range p.RuledOut {
			require.Equal(t, CannotFit, o.Verdict, "%s: %+v", name, o.Solid.Outline)
		}
	}
}
