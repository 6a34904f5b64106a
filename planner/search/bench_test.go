package search

import (
	"context"
	"math"
	"math/rand/v2"
	"runtime"
	"sync/atomic"
	"testing"
	"time"

	"gonum.org/v1/gonum/optimize"

	"cabwright/geometry/geomtest"
	"cabwright/planner/search/internal/bounds"
	"cabwright/planner/search/internal/climbing"
	"cabwright/planner/search/internal/poses"
	"cabwright/planner/search/internal/proofs"
	"cabwright/planner/search/internal/searchtest"
	"cabwright/planner/stopwatch"
)

// cpu is the processor time that this process has used, which other work on the
// machine hardly lengthens.
func cpu() time.Duration { return stopwatch.Used() }

// lever is how far a unit of one of a pose's numbers moves the solid's far points.
func lever(p *bounds.Prober, j int) float64 {
	if j < poses.Turn {
		return 1
	}
	return p.Model.Solid.Outline.Length / 2
}

// strategy is the baseline: gonum's CMA-ES with restarts from random poses, on the
// field and the samples that the climb uses, until it first reaches the clearance
// wanted. It gives up after a number of evaluations.
func strategy(p *bounds.Prober, want float64, seed uint64, most int) (evaluations int, reached bool) {
	r := searchtest.Random(seed)
	n := p.Vars()
	d := p.Domain()
	stop := false
	f := func(x []float64) float64 {
		at := poses.Coord{}
		for j := range n {
			// Every variable in units of about a millimetre at the solid's edge.
			at[j] = x[j] / max(1, lever(p, j))
		}
		if at.Tilt() > p.TiltMax {
			return 10 + at.Tilt() // beyond the limit
		}
		evaluations++
		v := p.Value(at, math.Inf(-1))
		if v >= want {
			reached, stop = true, true
		}
		return -v
	}
	for run := uint64(0); !reached && evaluations < most; run++ {
		x := make([]float64, n)
		for j := range n {
			x[j] = (d.At[j] + searchtest.Between(r, -1, 1)*d.Half[j]) * max(1, lever(p, j))
		}
		problem := optimize.Problem{Func: f, Status: func() (optimize.Status, error) {
			if stop || evaluations >= most {
				return optimize.Success, nil
			}
			return optimize.NotTerminated, nil
		}}
		method := &optimize.CmaEsChol{InitStepSize: 1.5, Src: rand.NewPCG(seed, run)}
		ends := &optimize.FunctionConverge{Absolute: 1e-5, Iterations: 40}
		_, _ = optimize.Minimize(problem, x, &optimize.Settings{FuncEvaluations: 4000, Converger: ends}, method)
	}
	return evaluations, reached
}

// outcome is what a climb from some starts and a proof to its end find for one
// size: the best clearance by the samples, and the processor time when it was
// met and when it was proved that none is better by more than 0.05 mm.
type outcome struct {
	at          poses.Coord
	value       float64
	met, proved time.Duration
	boxes       int
	done        bool
}

func searched(p *bounds.Prober, budget int) outcome {
	start := cpu()
	res := outcome{value: math.Inf(-1)}
	for _, d := range p.Field.Deepest(3, 3) {
		for k := range 2 {
			from := poses.Coord{d.X, d.Y, d.Z, float64(k) * math.Pi / 2}
			if at, v := climbing.Climb(p, from, climbing.ManySteps, climbing.CloseTrust); v > res.value {
				res.at, res.value, res.met = at, v, cpu()-start
			}
		}
	}
	for h := proofs.New(p); ; {
		out := proofs.Prove(
			context.Background(), p, h,
			proofs.Goal{Want: res.value + 0.05, Close: res.value + 0.05, Soft: budget, Budget: budget},
		)
		res.boxes += out.Boxes
		if !out.Found {
			res.done, res.proved = out.Done, cpu()-start
			return res
		}
		if at, v := climbing.Climb(p, out.At, climbing.ManySteps, climbing.CloseTrust); v > res.value {
			res.at, res.value, res.met = at, v, cpu()-start
		}
	}
}

// benchmarkAgainstEvolution has one size outcome, and then lets the baseline look
// for as good a pose, by the same samples and field. x_faster is the ratio of the
// processor times to the pose, x_proved that to the pose and its proof.
func benchmarkAgainstEvolution(b *testing.B, tiltMax float64, length, width, dome float64) {
	f := searchtest.FieldOf(b, searchtest.Demo(b, "one-crack"))
	var found, proof, base time.Duration
	boxes, evaluations, gaveUp, open := 0, 0, 0, 0
	for b.Loop() {
		m := poses.NewModel(geomtest.Cab("oval", length, width, dome, 0), false)
		res := searched(bounds.NewProber(f, m, tiltMax), 400000)
		found, proof, boxes = found+res.met, proof+res.proved, boxes+res.boxes
		if !res.done {
			open++
		}
		for seed := range uint64(5) {
			start := cpu()
			// Half a hundredth less will do for the baseline.
			n, reached := strategy(bounds.NewProber(f, m, tiltMax), res.value-0.005, seed, 200000)
			base += (cpu() - start) / 5
			evaluations += n / 5
			if !reached {
				gaveUp++
			}
		}
	}
	n := float64(b.N)
	b.ReportMetric(found.Seconds()*1e3/n, "ms_to_pose")
	b.ReportMetric(proof.Seconds()*1e3/n, "ms_to_proof")
	b.ReportMetric(base.Seconds()*1e3/n, "ms_baseline")
	b.ReportMetric(base.Seconds()/found.Seconds(), "x_faster")
	b.ReportMetric(base.Seconds()/proof.Seconds(), "x_proved")
	b.ReportMetric(float64(boxes)/n, "boxes")
	b.ReportMetric(float64(evaluations)/n, "evaluations")
	b.ReportMetric(float64(open)/n, "unproved")
	b.ReportMetric(float64(gaveUp)/n, "gave_up_of_5")
}

// The sizes are the largest oval of the medium style that fits level, and that
// which fits with a low dome: little room is left to find.
func BenchmarkEvolutionLevel14x12(b *testing.B) { benchmarkAgainstEvolution(b, 0, 14, 12, 3.6) }
func BenchmarkEvolutionLevel16x12(b *testing.B) { benchmarkAgainstEvolution(b, 0, 16, 12, 2.4) }
func BenchmarkEvolutionTilt14x12(b *testing.B) {
	benchmarkAgainstEvolution(b, 15*math.Pi/180, 14, 12, 3.6)
}
func BenchmarkEvolutionTilt16x12(b *testing.B) {
	benchmarkAgainstEvolution(b, 15*math.Pi/180, 16, 12, 2.4)
}

// benchmarkTable plans the whole preset table on the demo stone of the design's
// measure: 28 x 20 x 9 mm, a crack and two pockets.
func benchmarkTable(b *testing.B, opt Options) {
	s := searchtest.Demo(b, "one-crack")
	var used, first time.Duration
	peak, undecided, fits := uint64(0), 0, 0
	for b.Loop() {
		runtime.GC()
		var stop atomic.Bool
		done := make(chan struct{})
		go func() { // the heap, every few milliseconds
			defer close(done)
			var m runtime.MemStats
			for !stop.Load() {
				runtime.ReadMemStats(&m)
				peak = max(peak, m.HeapAlloc)
				time.Sleep(10 * time.Millisecond)
			}
		}()
		start, wall := cpu(), time.Now()
		seen := false
		p, err := Run(context.Background(), s, opt, func(p Plan) {
			if !seen && len(p.Fits) > 0 {
				seen = true
				first += time.Since(wall)
			}
		})
		used += cpu() - start
		stop.Store(true)
		<-done
		if err != nil || len(p.Fits) == 0 {
			b.Fatal("nothing fits:", err)
		}
		fits += len(p.Fits)
		for _, o := range p.RuledOut {
			if o.Verdict == Undecided && o.Solid.Volume() > 0.99*p.Fits[0].Volume {
				undecided++
			}
		}
	}
	n := float64(b.N)
	b.ReportMetric(first.Seconds()*1e3/n, "ms_wall_to_first_fit")
	b.ReportMetric(used.Seconds()*1e3/n, "ms_cpu")
	b.ReportMetric(float64(peak)/1e6, "peak_MB")
	b.ReportMetric(float64(fits)/n, "fits")
	b.ReportMetric(float64(undecided)/n, "undecided_heavy")
}

func BenchmarkTableLevel(b *testing.B) { benchmarkTable(b, Options{Level: true}) }
func BenchmarkTableTilt(b *testing.B)  { benchmarkTable(b, Options{}) }

// BenchmarkPlan times the plans of demo and nasty stones, level, in processor time: to
// the first fit, to 1% of the final best weight, to the answer (the list's first twenty
// final, the best proved), and to the end.
func BenchmarkPlan(b *testing.B) {
	for _, name := range append([]string{"one-crack", "nugget", "two-faces"}, hardStones(b)...) {
		b.Run(name, func(b *testing.B) {
			s := searchtest.Demo(b, name)
			for b.Loop() {
				type mark struct {
					at   time.Duration
					best float64
				}
				var marks []mark
				answer := time.Duration(0)
				start := cpu()
				p, err := Run(context.Background(), s, Options{Level: true}, func(p Plan) {
					now := cpu() - start
					if len(p.Fits) > 0 && (len(marks) == 0 || p.Fits[0].Volume > marks[len(marks)-1].best) {
						marks = append(marks, mark{now, p.Fits[0].Volume})
					}
					if p.Settled && answer == 0 {
						answer = now
					}
				})
				if err != nil {
					b.Fatal(err)
				}
				b.ReportMetric(float64(cpu()-start)/1e6, "ms_to_end")
				b.ReportMetric(float64(answer)/1e6, "ms_to_answer")
				b.ReportMetric(float64(p.Boxes), "boxes")
				for k, m := range marks {
					if k == 0 {
						b.ReportMetric(float64(m.at)/1e6, "ms_to_first_fit")
					}
					if m.best >= 0.99*p.Fits[0].Volume {
						b.ReportMetric(float64(m.at)/1e6, "ms_to_best")
						break
					}
				}
			}
		})
	}
}
