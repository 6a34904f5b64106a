package field

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
)

// twin measures the same obstacles the slow way: dense grids over the surfaces,
// narrowed down around the best spots by a pattern search on the plates
// themselves, and closed forms along upright lines. It shares the plates and the
// polygon test with the field, nothing else, and never comes out below the truth.
type twin struct {
	body   Body
	top    patchwork
	base   patchwork
	sheets []Sheet
	prisms []twinPrism
}

type twinPrism struct {
	Prism
	pit     bool
	fromTop bool
	depth   float64
	floor   patchwork
}

// patchwork is a surface looked at over a polygon.
type patchwork struct {
	height func(x, y float64) float64
	poly   []geometry.Vec2
	points []geometry.Vec3
	step   float64
}

func newPatchwork(poly []geometry.Vec2, height func(x, y float64) float64) patchwork {
	lo, hi := geometry.Bounds(poly)
	s := patchwork{height: height, poly: poly, step: max(hi.X-lo.X, hi.Y-lo.Y) / 50}
	for x := lo.X; x <= hi.X; x += s.step {
		for y := lo.Y; y <= hi.Y; y += s.step {
			if geometry.InPolygon(poly, geometry.Vec2{X: x, Y: y}) {
				s.points = append(s.points, geometry.Vec3{X: x, Y: y, Z: height(x, y)})
			}
		}
	}
	return s
}

// distance returns the distance from p to the part of the surface over the
// polygon, but for a strip of no width along the polygon's own edges.
func (s *patchwork) distance(p geometry.Vec3) float64 {
	// The best few spots that are not neighbours of each other.
	best := math.Inf(1)
	for range 4 {
		least, at := math.Inf(1), geometry.Vec3{}
		for _, q := range s.points {
			v := q.Sub(p)
			if d := v.Dot(v); d < least {
				least, at = d, q
			}
		}
		if math.IsInf(least, 1) {
			return best
		}
		found := s.narrow(p, at)
		if found >= best-1e-9 {
			return best
		}
		best = found
	}
	return best
}

func (s *patchwork) narrow(p, at geometry.Vec3) float64 {
	best := at.Sub(p).Norm()
	for h := s.step; h > 1e-7; {
		moved := false
		for k := range 8 {
			sn, c := math.Sincos(float64(k) * math.Pi / 4)
			x, y := at.X+h*c, at.Y+h*sn
			if !geometry.InPolygon(s.poly, geometry.Vec2{X: x, Y: y}) {
				continue
			}
			q := geometry.Vec3{X: x, Y: y, Z: s.height(x, y)}
			if d := q.Sub(p).Norm(); d < best {
				best, at, moved = d, q, true
			}
		}
		if !moved {
			h /= 2
		}
	}
	return best
}

// along minimises f over the segment ab: samples, then the golden section
// around the best three.
func along(a, b geometry.Vec2, f func(geometry.Vec2) float64) float64 {
	n := int(b.Sub(a).Norm()/0.1) + 8
	at := func(u float64) float64 { return f(a.Add(b.Sub(a).Scale(u / float64(n)))) }
	best, low := math.Inf(1), 0.0
	for k := 0; k <= n; k++ {
		if v := at(float64(k)); v < best {
			best, low = v, float64(k)
		}
	}
	lo, hi := math.Max(0, low-1), math.Min(float64(n), low+1)
	const g = 0.6180339887498949
	x1, x2 := hi-g*(hi-lo), lo+g*(hi-lo)
	f1, f2 := at(x1), at(x2)
	for hi-lo > 1e-9 {
		if f1 < f2 {
			hi, x2, f2 = x2, x1, f1
			x1 = hi - g*(hi-lo)
			f1 = at(x1)
		} else {
			lo, x1, f1 = x1, x2, f2
			x2 = lo + g*(hi-lo)
			f2 = at(x2)
		}
		best = math.Min(best, math.Min(f1, f2))
	}
	return best
}

// face returns the height of the top or of the base, as the body has it.
func (w *twin) face(top bool) func(x, y float64) float64 {
	if top {
		return func(x, y float64) float64 { return w.body.Top.heightOf(1, x, y) }
	}
	return func(x, y float64) float64 { return w.body.Base.heightOf(-1, x, y) }
}

// skin returns the clearance from the outside, and whether p is outside.
func (w *twin) skin(p geometry.Vec3) (float64, bool) {
	over, under := p.Z > w.body.Top.heightOf(1, p.X, p.Y), p.Z < w.body.Base.heightOf(-1, p.X, p.Y)
	if over || under || !geometry.InPolygon(w.body.Polygon, p.XY()) {
		return -w.body.Skin, true
	}
	d := math.Inf(1)
	for i, a := range w.body.Polygon {
		d = math.Min(d, geometry.ToSegment(p.XY(), a, w.body.Polygon[(i+1)%len(w.body.Polygon)]))
	}
	return math.Min(d, math.Min(w.top.distance(p), w.base.distance(p))) - w.body.Skin, false
}

func (w *twin) sheet(s Sheet, p geometry.Vec3) float64 {
	height := w.face(s.FromTop)
	d := math.Inf(1)
	for i := 0; i+1 < len(s.Path); i++ {
		d = math.Min(d, along(s.Path[i], s.Path[i+1], func(q geometry.Vec2) float64 {
			v := p.Sub(geometry.Vec3{X: q.X, Y: q.Y, Z: height(q.X, q.Y)})
			t := math.Max(0, math.Min(s.Depth, v.Dot(s.Into)/s.Into.Dot(s.Into)))
			return v.Sub(s.Into.Scale(t)).Norm()
		}))
	}
	return d - s.Allowance
}

func (q *twinPrism) span(w *twin, x, y float64) (lo, hi float64) {
	switch {
	case !q.pit:
		return q.Low, q.High
	case q.fromTop:
		return w.body.Top.heightOf(1, x, y) - q.depth, math.Inf(1)
	default:
		return math.Inf(-1), w.body.Base.heightOf(-1, x, y) + q.depth
	}
}

// prism returns the clearance from a prism, and whether p is inside it.
func (w *twin) prism(q *twinPrism, p geometry.Vec3) (float64, bool) {
	lo, hi := q.span(w, p.X, p.Y)
	in := geometry.InPolygon(q.Polygon, p.XY())
	if in && p.Z >= lo && p.Z <= hi {
		return -q.Allowance, true
	}
	d := math.Inf(1)
	for i, a := range q.Polygon {
		d = math.Min(d, along(a, q.Polygon[(i+1)%len(q.Polygon)], func(c geometry.Vec2) float64 {
			l, h := q.span(w, c.X, c.Y)
			return math.Hypot(c.Sub(p.XY()).Norm(), math.Max(0, math.Max(l-p.Z, p.Z-h)))
		}))
	}
	if q.pit {
		d = math.Min(d, q.floor.distance(p))
	} else if in {
		d = math.Min(d, math.Max(lo-p.Z, p.Z-hi))
	}
	return d - q.Allowance, false
}

// each returns the clearances by obstacle, in the field's order, and whether p
// lies in them (a sheet holds nothing).
func (w *twin) each(p geometry.Vec3) (d []float64, in []bool) {
	e, inside := w.skin(p)
	d, in = append(d, e), append(in, inside)
	for _, s := range w.sheets {
		d, in = append(d, w.sheet(s, p)), append(in, false)
	}
	for i := range w.prisms {
		e, inside := w.prism(&w.prisms[i], p)
		d, in = append(d, e), append(in, inside)
	}
	return d, in
}

// world is a random body with its twin.
type world struct {
	f     *Field
	w     *twin
	curly bool // surfaces that turn faster than those of stones do
}

// star draws a polygon that is star-shaped about c; rough of 0 makes it nearly convex.
func star(r *rand.Rand, c geometry.Vec2, size, rough float64) []geometry.Vec2 {
	n := 3 + r.IntN(9)
	var out []geometry.Vec2
	for i := range n {
		s, co := math.Sincos(2 * math.Pi * (float64(i) + 0.4*r.Float64()) / float64(n))
		d := size * (1 - rough*r.Float64())
		out = append(out, c.Add(geometry.Vec2{X: d * co, Y: d * s}))
	}
	return out
}

// surveyed draws one reading or three to twelve about the height z.
func surveyed(r *rand.Rand, size, z, relief float64) []geometry.Vec3 {
	n := 1 + r.IntN(11)
	if n > 1 {
		n++
	}
	tx, ty := relief*(r.Float64()-0.5)/size, relief*(r.Float64()-0.5)/size
	var out []geometry.Vec3
	for range n {
		x, y := size*(2*r.Float64()-1), size*(2*r.Float64()-1)
		near := false
		for _, p := range out {
			near = near || math.Hypot(p.X-x, p.Y-y) < 0.15*size
		}
		if !near {
			out = append(out, geometry.Vec3{X: x, Y: y, Z: z + tx*x + ty*y + relief*(r.Float64()-0.5)})
		}
	}
	if len(out) == 2 {
		out = out[:1]
	}
	return out
}

// draw makes a random world: the seed decides.
func draw(t *testing.T, seed uint64) world {
	r := rand.New(rand.NewPCG(seed, 11))
	size := 4 + 8*r.Float64()
	relief := []float64{0, 1, 2, 4}[r.IntN(4)]
	for {
		top, err := geometry.FitThinPlate(surveyed(r, size, 5+3*r.Float64(), relief))
		if err != nil {
			continue
		}
		base, err := geometry.FitThinPlate(surveyed(r, size, 0, relief))
		if err != nil {
			continue
		}
		b := Body{
			Polygon: star(r, geometry.Vec2{}, size, []float64{0, 0.2, 0.7}[r.IntN(3)]), Top: Uncut(top), Base: Uncut(base),
			Skin: 0.5 * r.Float64(),
		}
		if cut := rand.New(rand.NewPCG(seed, 12)); cut.IntN(2) == 0 {
			b.Top.Level, b.Base.Level = 4+4*cut.Float64(), 1-2*cut.Float64()
		}
		w := &twin{body: b}
		w.top, w.base = newPatchwork(b.Polygon, w.face(true)), newPatchwork(b.Polygon, w.face(false))
		w.body.Low, w.body.High = math.Inf(1), math.Inf(-1)
		for i := range w.top.points {
			if z, q := w.top.points[i].Z, w.base.points[i].Z; z > q {
				w.body.Low, w.body.High = math.Min(w.body.Low, q), math.Max(w.body.High, z)
			}
		}
		if w.body.High-w.body.Low < 2 {
			continue
		}
		f := New(w.body)
		for range r.IntN(3) {
			s := drawSheet(r, size)
			f.AddSheet(s)
			w.sheets = append(w.sheets, s)
		}
		for range r.IntN(3) {
			w.addPrism(r, f, size)
		}
		require.Equal(t, 1+len(w.sheets)+len(w.prisms), f.Obstacles())
		return world{f, w, relief > 1}
	}
}

func drawSheet(r *rand.Rand, size float64) Sheet {
	s := Sheet{FromTop: r.IntN(2) == 0, Depth: 0.1 + 5*r.Float64(), Allowance: 1.2 * r.Float64()}
	if r.IntN(4) == 0 {
		s.Depth = 15 // right through
	}
	lean, toward := 0.0, 2*math.Pi*r.Float64()
	if r.IntN(3) > 0 {
		lean = 80 * math.Pi / 180 * r.Float64()
	}
	s.Into = geometry.Vec3{X: math.Tan(lean) * math.Cos(toward), Y: math.Tan(lean) * math.Sin(toward), Z: 1}
	if s.FromTop {
		s.Into.Z = -1
	}
	at := geometry.Vec2{X: size * (r.Float64() - 0.5), Y: size * (r.Float64() - 0.5)}
	for range 2 + r.IntN(3) {
		s.Path = append(s.Path, at)
		at = at.Add(geometry.Vec2{X: size * (r.Float64() - 0.5), Y: size * (r.Float64() - 0.5)})
	}
	return s
}

func (w *twin) addPrism(r *rand.Rand, f *Field, size float64) {
	c := geometry.Vec2{X: 1.4 * size * (r.Float64() - 0.5), Y: 1.4 * size * (r.Float64() - 0.5)}
	poly := star(r, c, 0.5+0.5*size*r.Float64(), 0.8*float64(r.IntN(2)))
	q := twinPrism{Prism: Prism{Polygon: poly, Allowance: 0.8 * r.Float64(), Low: math.Inf(-1), High: math.Inf(1)}}
	switch kind := r.IntN(4); kind {
	case 0, 1:
		q.pit, q.fromTop, q.depth = true, kind == 0, 0.2+3*r.Float64()
		f.AddPit(poly, q.fromTop, q.depth, q.Allowance)
		q.floor = newPatchwork(poly, func(x, y float64) float64 {
			lo, hi := q.span(w, x, y)
			if q.fromTop {
				return lo
			}
			return hi
		})
	case 2:
		q.Low = w.body.Low + (w.body.High-w.body.Low)*r.Float64()
		q.High = q.Low + 0.1 + 3*r.Float64()
		f.AddPrism(q.Prism)
	default:
		f.AddPrism(q.Prism)
	}
	w.prisms = append(w.prisms, q)
}

// inside draws a point of the body, or one a little outside it.
func (w *world) inside(r *rand.Rand) geometry.Vec3 {
	lo, hi := w.f.Bounds()
	for range 1000 {
		p := geometry.Vec3{
			X: lo.X + (hi.X-lo.X)*r.Float64(), Y: lo.Y + (hi.Y-lo.Y)*r.Float64(), Z: lo.Z + (hi.Z-lo.Z)*r.Float64(),
		}
		if !geometry.InPolygon(w.w.body.Polygon, p.XY()) {
			continue
		}
		if p.Z < w.w.body.Top.heightOf(1, p.X, p.Y)+0.2 && p.Z > w.w.body.Base.heightOf(-1, p.X, p.Y)-0.2 {
			return p
		}
	}
	return lo.Add(hi).Scale(0.5)
}
