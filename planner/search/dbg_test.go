package search

import (
	"context"
	"fmt"
	"testing"

	"cabwright/planner/stonefile"
	"cabwright/presets"
	"os"
)

func TestDbg(t *testing.T) {
	if os.Getenv("DBG") == "" {
		t.Skip()
	}
	d, err := stonefile.Read("../../testdata/stones/hard/"+os.Getenv("DBG")+".stone", presets.Builtin())
	if err != nil {
		t.Fatal(err)
	}
	f := fieldOf(t, d.Stone)
	var shape string
	var l, w, dome, back float64
	var flip bool
	fmt.Sscan(os.Getenv("SOLID"), &shape, &l, &w, &dome, &back, &flip)
	m := newModel(cab(t, shape, l, w, dome, back), flip)
	p := newProber(f, m, 0)
	h := p.newProof()
	var n int
	fmt.Sscan(os.Getenv("N"), &n)
	res := p.prove(context.Background(), h, goal{budget: n})
	fmt.Println(res.bound, res.found, res.value, len(h.queue), h.boxes)
	for i := 0; i < min(6, len(h.queue)); i++ {
		c := h.queue[i]
		c.bound = min(c.bound, 1e9)
		bound, _ := p.shrink(&c, 0)
		fmt.Printf("   at %.2f half %.3f bound %.3f -> %.3f value %.3f\n", c.at, c.half, c.bound, bound, p.value(c.at, -1e9))
		p.lp.weights(func(row int, w float64) {
			r := p.lp.rows[row]
			if r.sample > 0 {
				fr := newFrame(c.at, p.level)
				pl := p.centred(&c, &fr, r.sample-1)
				fmt.Printf("      w %.3f b %.3f a %.2f strain %.2f obst %d sample %d at %.2f est %.3f\n", w, r.b, r.a, r.strain, r.obstacle, r.sample, pl, f.Estimate(pl, 1e9)-m.samples[r.sample-1].radius)
			}
		})
	}
}

func TestDbgConv(t *testing.T) {
	if os.Getenv("DBG") == "" {
		t.Skip()
	}
	d, _ := stonefile.Read("../../testdata/stones/hard/"+os.Getenv("DBG")+".stone", presets.Builtin())
	f := fieldOf(t, d.Stone)
	var shape string
	var l, w, dome, back float64
	var flip bool
	fmt.Sscan(os.Getenv("SOLID"), &shape, &l, &w, &dome, &back, &flip)
	m := newModel(cab(t, shape, l, w, dome, back), flip)
	p := newProber(f, m, 0)
	h := p.newProof()
	h.hit = 1
	start := cpu()
	for _, n := range []int{300, 1000, 3000, 10000, 30000} {
		res := p.prove(context.Background(), h, goal{budget: n})
		fmt.Println(n, h.boxes, "bound", res.bound, "open", len(h.queue), "done", res.done, cpu()-start)
		if res.done {
			break
		}
	}
}
