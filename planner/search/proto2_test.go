package search

import (
	"container/heap"
	"fmt"
	"math"
	"testing"

	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
	"cabwright/planner"
	"cabwright/planner/stonefile"
	"cabwright/presets"
)

func TestProto2(t *testing.T) {
	doc, _ := stonefile.Read("../../testdata/stones/one-crack.stone", presets.Builtin())
	rough, _ := planner.NewRough(doc.Stone)
	f, names := buildField(doc.Stone, rough)
	f.Prepare(2)
	o, _ := outline.New("oval", 18, 13)
	c := solid.Cabochon{Outline: o, Wall: 1.2, WallLeanDeg: 10, Dome: 0.3 * 13, Sides: 1}
	m := newModel(c, false)
	p := newProber(f, m, 15*math.Pi/180)
	tm := 15 * math.Pi / 180
	queue := cells{p.domain()}
	n := 0
	for len(queue) > 0 && n < 6000 {
		c := heap.Pop(&queue).(cell)
		n++
		bound, _ := p.shrink(&c, 0)
		c.bound = math.Min(c.bound, bound)
		if c.bound < 0 {
			continue
		}
		if n%250 == 0 {
			fmt.Printf("%d q %d bound %.3f half %.3f at %.2f\n", n, len(queue), c.bound, c.half, c.at)
			p.lp.weights(func(row int, w float64) {
				r := p.lp.rows[row]
				fmt.Printf("    w %.3f b %.3f a %.3f strain %.3f %s\n", w, r.b, r.a, r.strain, names[r.obstacle])
			})
		}
		a, b := p.halve(c)
		for _, k := range [2]cell{a, b} {
			if allowed(&k, tm) {
				heap.Push(&queue, k)
			}
		}
	}
}
