package search

import (
	"context"
	"fmt"
	"os"
	"testing"
	"time"

	"cabwright/planner/stonefile"
	"cabwright/presets"
)

func TestProf(t *testing.T) {
	name := os.Getenv("PROF")
	if name == "" {
		t.Skip()
	}
	d, err := stonefile.Read("../../testdata/stones/"+name+".stone", presets.Builtin())
	if err != nil {
		t.Fatal(err)
	}
	start := time.Now()
	best, stage := 0.0, ""
	p, err := Run(context.Background(), d.Stone, Options{Level: os.Getenv("TILT") == ""}, func(p Plan) {
		if p.Stage != stage {
			open := 0
			for _, o := range p.RuledOut {
				if o.Verdict == Undecided {
					open++
				}
			}
			fmt.Printf("cpu %.2fs -> %s, fits %d, open %d heaviest open %.2f best size %.2f\n", cpu().Seconds(), p.Stage, len(p.Fits), open, p.HeaviestOpen, bestSize(p))
			stage = p.Stage
		}
		if len(p.Fits) > 0 && p.Fits[0].Volume > best {
			best = p.Fits[0].Volume
			fmt.Printf("%.2fs %s best %.1f %s %.1fx%.1f\n", time.Since(start).Seconds(), p.Stage, best, p.Fits[0].Solid.Outline.Shape, p.Fits[0].Solid.Outline.Length, p.Fits[0].Solid.Outline.Width)
		}
	})
	fmt.Println(cpu(), time.Since(start), len(p.Fits), p.Stopped, err)
}

func bestSize(p Plan) float64 {
	for _, f := range p.Fits {
		if f.Solid.Outline.Shape != Freeform {
			return f.Carat
		}
	}
	return 0
}
