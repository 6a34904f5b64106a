package field

import (
	"math"
	"math/rand/v2"

	"cabwright/geometry"
)

// specimen is a random body with its obstacles as they were asked for, so that
// a test can measure them in its own, slow way.
type specimen struct {
	body   Body
	field  *Field
	sheets []Sheet
	pits   []pit
	blocks []Prism
}

// pit is what AddPit was told.
type pit struct {
	poly            []geometry.Vec2
	fromTop         bool
	depth, distance float64
}

func uniform(r *rand.Rand, lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }

// starPolygon draws a simple polygon, convex or not, about a centre.
func starPolygon(r *rand.Rand, c geometry.Vec2, size, dent float64, n int) []geometry.Vec2 {
	out := make([]geometry.Vec2, n)
	for i := range out {
		s, co := math.Sincos(2 * math.Pi * (float64(i) + uniform(r, -0.3, 0.3)) / float64(n))
		q := size * uniform(r, 1-dent, 1)
		out[i] = c.Add(geometry.Vec2{X: q * co, Y: q * s})
	}
	return out
}

func readings(r *rand.Rand, n int, level, bulge float64) []geometry.Vec3 {
	if n < 3 {
		return []geometry.Vec3{{Z: level}}
	}
	var out []geometry.Vec3
	for len(out) < n {
		p := geometry.Vec3{X: uniform(r, -10, 10), Y: uniform(r, -8, 8)}
		near := false
		for _, q := range out {
			near = near || p.Sub(geometry.Vec3{X: q.X, Y: q.Y}).Norm() < 1.5
		}
		if !near {
			p.Z = level - bulge*(p.X*p.X+p.Y*p.Y) + uniform(r, -0.3, 0.3)
			out = append(out, p)
		}
	}
	return out
}

// newSpecimen draws a body about 20 x 16 x 8 mm with up to two obstacles of
// every kind.
func newSpecimen(r *rand.Rand) *specimen {
	for {
		top, err1 := geometry.FitThinPlate(readings(r, 1+r.IntN(10), 8, 0.012))
		base, err2 := geometry.FitThinPlate(readings(r, 1+r.IntN(8), 0.5, -0.005))
		if err1 != nil || err2 != nil {
			continue
		}
		s := &specimen{body: Body{
			Polygon: starPolygon(r, geometry.Vec2{}, 9, uniform(r, 0, 0.4), 4+r.IntN(30)), Top: Uncut(top),
			Base: Uncut(base), Low: -1, High: 9.5, Skin: uniform(r, 0, 0.8),
		}}
		if r.IntN(2) == 0 {
			s.body.Top.Level, s.body.Base.Level = uniform(r, 7, 9), uniform(r, -0.5, 1)
		}
		s.field = New(s.body)
		for range r.IntN(3) {
			lean, way := uniform(r, 0, 1.2)*float64(r.IntN(2)), uniform(r, 0, 2*math.Pi)
			a := geometry.Vec2{X: uniform(r, -7, 7), Y: uniform(r, -6, 6)}
			b := a.Add(geometry.Vec2{X: uniform(r, 1, 6), Y: uniform(r, -3, 3)})
			c := b.Add(geometry.Vec2{X: uniform(r, 1, 3), Y: uniform(r, -3, 3)})
			sh := Sheet{
				Path: []geometry.Vec2{a, b, c}, FromTop: r.IntN(2) == 0, Depth: uniform(r, 0.5, 12),
				Allowance: uniform(r, 0, 1),
			}
			sh.Into = geometry.Vec3{X: math.Tan(lean) * math.Cos(way), Y: math.Tan(lean) * math.Sin(way), Z: -1}
			if !sh.FromTop {
				sh.Into.Z = 1
			}
			s.field.AddSheet(sh)
			s.sheets = append(s.sheets, sh)
		}
		for range r.IntN(3) {
			at := geometry.Vec2{X: uniform(r, -6, 6), Y: uniform(r, -5, 5)}
			poly := starPolygon(r, at, uniform(r, 0.8, 3), uniform(r, 0, 0.5), 4+r.IntN(14))
			p := pit{poly, r.IntN(2) == 0, uniform(r, 0.5, 6), uniform(r, 0, 0.8)}
			s.field.AddPit(p.poly, p.fromTop, p.depth, p.distance)
			s.pits = append(s.pits, p)
		}
		for k := range r.IntN(3) {
			at := geometry.Vec2{X: uniform(r, -6, 6), Y: uniform(r, -5, 5)}
			p := Prism{
				Polygon: starPolygon(r, at, uniform(r, 0.8, 3), uniform(r, 0, 0.5), 4+r.IntN(14)), Low: uniform(r, 1, 4),
				High: uniform(r, 4.2, 7), Allowance: uniform(r, 0, 0.8),
			}
			if k == 1 {
				p.Low, p.High = math.Inf(-1), math.Inf(1)
			}
			s.field.AddPrism(p)
			s.blocks = append(s.blocks, p)
		}
		s.field.Prepare(1)
		return s
	}
}

// place draws a point in and a little around the body.
func (s *specimen) place(r *rand.Rand) geometry.Vec3 {
	return geometry.Vec3{X: uniform(r, -10, 10), Y: uniform(r, -10, 10), Z: uniform(r, -1.5, 10)}
}

// unsigned returns, per obstacle of the field, the distance from p by dense
// sampling of the obstacle's points (an over-estimate by up to about slip), cut
// to those within range of p; 0 inside. What it samples is the definition itself,
// and none of the field's tables.
func (s *specimen) unsigned(p geometry.Vec3, slip float64) []float64 {
	out := []float64{s.toOutside(p, slip)}
	for i := range s.sheets {
		out = append(out, s.toSheet(&s.sheets[i], p, slip))
	}
	for _, q := range s.pits {
		out = append(out, s.toColumn(q.poly, p, slip, func(x, y float64) (float64, float64) {
			if q.fromTop {
				return s.body.Top.heightOf(1, x, y) - q.depth, 14
			}
			return -6, s.body.Base.heightOf(-1, x, y) + q.depth
		}))
	}
	for i := range s.blocks {
		b := &s.blocks[i]
		out = append(out, s.toColumn(b.Polygon, p, slip, func(float64, float64) (float64, float64) {
			return max(b.Low, -6), min(b.High, 14)
		}))
	}
	return out
}

func (s *specimen) face(top bool) Face {
	if top {
		return s.body.Top
	}
	return s.body.Base
}

// toOutside samples the outside in a ring search about p: the least distance to a
// point that is not in the body.
func (s *specimen) toOutside(p geometry.Vec3, slip float64) float64 {
	in := func(q geometry.Vec3) bool {
		under, over := s.body.Top.heightOf(1, q.X, q.Y), s.body.Base.heightOf(-1, q.X, q.Y)
		return geometry.InPolygon(s.body.Polygon, q.XY()) && q.Z < under && q.Z > over
	}
	if !in(p) {
		return 0
	}
	best := math.Inf(1)
	for i, a := range s.body.Polygon {
		best = min(best, geometry.ToSegment(p.XY(), a, s.body.Polygon[(i+1)%len(s.body.Polygon)]))
	}
	for _, sign := range []float64{1, -1} {
		face := s.face(sign > 0)
		reach := min(best, math.Abs(face.heightOf(sign, p.X, p.Y)-p.Z))
		for x := -reach; x <= reach; x += slip {
			for y := -reach; y <= reach; y += slip {
				q := geometry.Vec3{X: p.X + x, Y: p.Y + y}
				q.Z = face.heightOf(sign, q.X, q.Y)
				best = min(best, p.Sub(q).Norm())
			}
		}
	}
	return best
}

func (s *specimen) toSheet(sh *Sheet, p geometry.Vec3, slip float64) float64 {
	face, sign := s.face(sh.FromTop), -1.0
	if sh.FromTop {
		sign = 1
	}
	best := math.Inf(1)
	for i := 0; i+1 < len(sh.Path); i++ {
		d := sh.Path[i+1].Sub(sh.Path[i])
		n := math.Ceil(d.Norm() / slip)
		for k := 0.0; k <= n; k++ {
			a := sh.Path[i].Add(d.Scale(k / n))
			q := geometry.Vec3{X: a.X, Y: a.Y, Z: face.heightOf(sign, a.X, a.Y)}
			t := p.Sub(q).Dot(sh.Into) / sh.Into.Dot(sh.Into)
			best = min(best, p.Sub(q.Add(sh.Into.Scale(max(0, min(sh.Depth, t))))).Norm())
		}
	}
	return best
}

func (s *specimen) toColumn(
	poly []geometry.Vec2, p geometry.Vec3, slip float64, span func(x, y float64) (float64, float64),
) float64 {
	best := math.Inf(1)
	try := func(x, y float64) {
		lo, hi := span(x, y)
		if lo <= hi {
			best = min(best, p.Sub(geometry.Vec3{X: x, Y: y, Z: max(lo, min(hi, p.Z))}).Norm())
		}
	}
	if geometry.InPolygon(poly, p.XY()) {
		try(p.X, p.Y)
	}
	lo, hi := geometry.Bounds(poly)
	for x := lo.X; x <= hi.X; x += slip {
		for y := lo.Y; y <= hi.Y; y += slip {
			if geometry.InPolygon(poly, geometry.Vec2{X: x, Y: y}) {
				try(x, y)
			}
		}
	}
	for i, a := range poly {
		d := poly[(i+1)%len(poly)].Sub(a)
		n := math.Ceil(d.Norm() / slip)
		for k := 0.0; k <= n; k++ {
			q := a.Add(d.Scale(k / n))
			try(q.X, q.Y)
		}
	}
	return best
}

func (s *specimen) allowances() []float64 {
	out := []float64{s.body.Skin}
	for _, x := range s.sheets {
		out = append(out, x.Allowance)
	}
	for _, x := range s.pits {
		out = append(out, x.distance)
	}
	for _, x := range s.blocks {
		out = append(out, x.Allowance)
	}
	return out
}
