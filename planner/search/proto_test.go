package search

import (
	"context"
	"fmt"
	"math"
	"os"
	"testing"
	"time"

	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
	"cabwright/planner"
	"cabwright/planner/stonefile"
	"cabwright/presets"
)

func TestProto(t *testing.T) {
	name := os.Getenv("STONE")
	if name == "" {
		name = "one-crack"
	}
	doc, err := stonefile.Read("../../testdata/stones/"+name+".stone", presets.Builtin())
	if err != nil {
		t.Fatal(err)
	}
	s := doc.Stone
	t0 := time.Now()
	rough, err := planner.NewRough(s)
	if err != nil {
		t.Fatal(err)
	}
	t1 := time.Now()
	f, _ := buildField(s, rough)
	t2 := time.Now()
	f.Prepare(2)
	fmt.Println("rough", t1.Sub(t0), "field", t2.Sub(t1), "coarse", time.Since(t2), "vol", rough.Volume())
	for _, d := range f.Deepest(4, 3) {
		fmt.Println("deep", d, f.AtLeast(d), f.Lower(d, 9), f.Clearest(d, nil))
	}
	for _, sh := range []float64{0.02, 0.1, 0.3, 1} {
		share = sh
		flip := true
		fmt.Println("share", share)
		for _, size := range [][2]float64{{14, 10}, {16, 12}, {18, 13}} {
			for _, level := range []bool{true, false} {
				o, _ := outline.New("oval", size[0], size[1])
				c := solid.Cabochon{Outline: o, Wall: 1.2, WallLeanDeg: 10, Dome: 0.3 * size[1], Sides: 1}
				tm := time.Now()
				m := newModel(c, flip)
				tilt := 15 * math.Pi / 180
				if level {
					tilt = 0
				}
				p := newProber(f, m, tilt)
				ts := time.Since(tm)
				tm = time.Now()
				best := math.Inf(-1)
				var at coord
				for _, d := range f.Deepest(3, 3) {
					for k := 0.0; k < 4; k++ {
						a, v := p.climb(coord{d.X, d.Y, d.Z, k * math.Pi / 4}, math.Inf(1), 30)
						if v > best {
							best, at = v, a
						}
					}
				}
				tc := time.Since(tm)
				tm = time.Now()
				pr := p.prove(context.Background(), math.Max(0, best+0.05), 10000, nil)
				fmt.Printf("flip %v %v level %v: samples %d in %v; climb %.4f in %v at %.2f; proof done %v bound %.4f found %v %.4f boxes %d in %v (%.1f us/box)\n", flip, size, level, len(m.samples), ts, best, tc, at, pr.done, pr.bound, pr.found, pr.value, pr.boxes, time.Since(tm), float64(time.Since(tm).Microseconds())/float64(pr.boxes))
			}
		}
	}
}
