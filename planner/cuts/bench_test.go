package cuts_test

import (
	"context"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"cabwright/planner"
	"cabwright/planner/cuts"
	"cabwright/planner/search"
	"cabwright/planner/stonefile"
	"cabwright/planner/stopwatch"
	"cabwright/presets"
)

// Stones of the demo that are timed: long, cracked, with a pocket, lumpy, and one much
// larger than the others.
var timed = []string{"seam", "one-crack", "two-faces", "nugget", "nodule", "slab", "hard/boulder"}

func demo(b *testing.B, name string) planner.Stone {
	b.Helper()
	doc, err := stonefile.Read("../../testdata/stones/"+name+".stone", presets.Builtin())
	require.NoError(b, err)
	return doc.Stone
}

func levelPlan(b *testing.B, s planner.Stone) search.Plan {
	b.Helper()
	plan, err := search.Run(context.Background(), s, search.Options{Level: true}, nil)
	require.NoError(b, err)
	require.NotEmpty(b, plan.Fits)
	return plan
}

func ms(d time.Duration) float64 { return float64(d) / float64(time.Millisecond) }

// BenchmarkTrim is what frees and trims the best fit, described, in processor time.
func BenchmarkTrim(b *testing.B) {
	for _, name := range timed {
		b.Run(name, func(b *testing.B) {
			s := demo(b, name)
			plan := levelPlan(b, s)
			body, err := cuts.NewBody(s, presets.Builtin())
			require.NoError(b, err)
			bench := cuts.NewBench(presets.Builtin())
			before := stopwatch.Used()
			for b.Loop() {
				_, _, err := body.One(plan.Fits[0], bench)
				require.NoError(b, err)
			}
			b.ReportMetric(ms(stopwatch.Used()-before)/float64(b.N), "ms_used/op")
		})
	}
}

// BenchmarkSeveral lays two and three stones after a finished plan: processor time to the
// first answer of several stones and to the last, and what the heaviest weigh.
func BenchmarkSeveral(b *testing.B) {
	for _, stones := range []int{2, 3} {
		for _, name := range timed {
			b.Run(name+map[int]string{2: "-two", 3: "-three"}[stones], func(b *testing.B) {
				s := demo(b, name)
				plan := levelPlan(b, s)
				var first, settled time.Duration
				var heaviest, calibrated float64
				for b.Loop() {
					start, seen := stopwatch.Used(), false
					body, err := cuts.NewBody(s, presets.Builtin())
					require.NoError(b, err)
					layouts, err := cuts.Several(context.Background(), body, presets.Builtin(), plan, cuts.Options{
						Stones: stones, Least: cuts.DefaultLeast, Bench: cuts.NewBench(presets.Builtin()), Trims: true,
					}, func(some []cuts.Layout) {
						if !seen && len(some) > 1 {
							seen = true
							first += stopwatch.Used() - start
						}
					})
					require.NoError(b, err)
					settled += stopwatch.Used() - start
					heaviest, calibrated = weights(layouts)
				}
				b.ReportMetric(ms(first)/float64(b.N), "ms_to_first")
				b.ReportMetric(ms(settled)/float64(b.N), "ms_to_end")
				b.ReportMetric(heaviest, "ct")
				b.ReportMetric(calibrated, "ct_calibrated")
			})
		}
	}
}

// weights are what the heaviest layout of several stones weighs, and the heaviest of
// calibrated ones.
func weights(layouts []cuts.Layout) (all, calibrated float64) {
	for _, l := range layouts {
		plain := len(l.Fits) > 1
		for _, f := range l.Fits {
			plain = plain && f.Solid.Outline.Shape != search.Freeform
		}
		all = max(all, l.Carat())
		if plain {
			calibrated = max(calibrated, l.Carat())
		}
	}
	return all, calibrated
}
