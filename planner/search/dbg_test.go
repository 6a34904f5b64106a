package search
import ("testing";"fmt";"math";"cabwright/geometry/field";"cabwright/geometry")
func TestDbg(t *testing.T) {
	r := random(14)
	n:=0
	onStones(t, r, 200, func(f *field.Field, p *prober) {
		best, at := math.Inf(-1), coord{}
		for range 8 {
			if c, v := p.climb(randomPose(r, p), math.Inf(1), 20); v > best { best, at = v, c }
		}
		tr := &trial{Candidate: Candidate{Solid: p.model.solid}, model: p.model, value: -1e9}
		if !p.accept(tr, at, 30) { return }
		full := p.certify(tr.at, math.Inf(1))
		skin := denseSkin(p.model.solid, 160)
		pose := p.model.pose(tr.at)
		least,bi := math.Inf(1),0
		for i, q := range skin { if v:=f.Lower(pose.Place(q), math.Inf(1)); v<least {least,bi=v,i} }
		n++
		if full.lower > least+1e-6 {
			q := skin[bi]
			_, k := f.Nearest(pose.Place(q), math.Inf(1))
			fmt.Println(n, p.model.solid.Outline.Shape, p.model.solid.BackDepth(), "lower", full.lower, "least", full.least, "dense", least, "at", q, "gauge", p.model.solid.Outline.Gauge(q.X,q.Y), "obst", k, "est", f.Estimate(pose.Place(q),math.Inf(1)), "theta", math.Atan2(q.Y,q.X), "outside", outside(p.model.solid,q), "convexring")
			_ = geometry.Vec3{}
			return
		}
	})
	fmt.Println(n)
	r = random(12)
	m := 0
	onStones(t, r, 200, func(f *field.Field, p *prober) {
		for range 10 {
			at, v := p.climb(randomPose(r, p), math.Inf(1), 12)
			pose, exact := p.model.pose(at), math.Inf(1)
			var w geometry.Vec3
			for _, s := range p.model.samples {
				if e := f.Lower(pose.Place(p.model.own(s)), math.Inf(1))-s.radius; e < exact { exact = e; w = pose.Place(p.model.own(s)) }
			}
			if exact > -0.2 && math.Abs(exact-v) > 0.01 && m < 40 {
				m++
				_, k := f.Nearest(w, math.Inf(1))
				fmt.Println("VALUE", exact, v, k, w, f.Lower(w,math.Inf(1)), f.Estimate(w,math.Inf(1)), f.Obstacles())
			}
		}
	})
}
