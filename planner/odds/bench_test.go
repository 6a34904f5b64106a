package odds

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/planner/search"
	"cabwright/planner/stonefile"
	"cabwright/planner/stopwatch"
	"cabwright/presets"
)

// benchStone is a stone with unsure marks, with the heaviest ten fits of a level plan.
func benchStone(b *testing.B) (*Judge, []search.Fit) {
	doc, err := stonefile.Read("../../testdata/stones/unsure/two-faces.stone", presets.Builtin())
	require.NoError(b, err)
	opt := search.Options{Level: true, Shapes: []string{"oval", "cushion", "octagon", "round", "pear"}}
	plan, err := settled(context.Background(), search.Run, doc.Stone, opt)
	require.NoError(b, err)
	j, err := NewJudge(doc.Stone)
	require.NoError(b, err)
	require.Greater(b, len(plan.Fits), 10)
	return j, plan.Fits[:10]
}

// worked reports the processor time of an operation, which is the same on a busy machine.
func worked(b *testing.B, do func()) {
	start := stopwatch.Used()
	for b.Loop() {
		do()
	}
	b.ReportMetric((stopwatch.Used()-start).Seconds()*1000/float64(b.N), "cpu-ms/op")
}

// BenchmarkOddsOfTenFits has the odds of ten fits where they lie.
func BenchmarkOddsOfTenFits(b *testing.B) {
	j, fits := benchStone(b)
	worked(b, func() { j.Places(fits) })
}

// BenchmarkBestPlacesOfTenFits looks for the places of ten fits with the best odds.
func BenchmarkBestPlacesOfTenFits(b *testing.B) {
	j, fits := benchStone(b)
	worked(b, func() {
		abreast(len(fits), func(i int) {
			j.Best(context.Background(), fits[i], []search.Pose{fits[i].Pose}, 0)
		})
	})
}

// BenchmarkLookFirst weighs what knowing each mark is worth, of ten places that are known.
func BenchmarkLookFirst(b *testing.B) {
	j, fits := benchStone(b)
	places := expected(j.Places(fits)...)
	worked(b, func() { looks(places, j.questions) })
}

// BenchmarkLookFirstAfterAnEdit does so of ten places that are known from before the edit
// of a range.
func BenchmarkLookFirstAfterAnEdit(b *testing.B) {
	j, fits := benchStone(b)
	places := expected(j.Places(fits)...)
	worked(b, func() {
		next, ok := j.Again(narrowed(j.stone))
		require.True(b, ok)
		next.AnswerOf(next.Rejudge(places))
	})
}
