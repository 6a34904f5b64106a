package odds

import (
	"math"

	"cabwright/geometry"
	"cabwright/planner"
)

// strip is a flat piece of a crack, from an edge of it that moves as the crack grows.
type strip struct {
	from  geometry.Vec3
	side  geometry.Vec3 // the whole of the edge that moves
	grow  geometry.Vec3 // for each mm of the number
	most  float64       // that the number grows by over this strip
	least float64       // the number where the strip begins
	slice int32         // of the run-on from which on it is there

	normal          geometry.Vec3 // unit
	ss, sg, gg, det float64       // of side and grow
}

func (s strip) ready() strip {
	n := s.side.Cross(s.grow)
	s.normal = n.Scale(1 / math.Max(1e-12, n.Norm()))
	s.ss, s.sg, s.gg = s.side.Dot(s.side), s.side.Dot(s.grow), s.grow.Dot(s.grow)
	s.det = s.ss*s.gg - s.sg*s.sg
	return s
}

// first returns by how much the strip has grown when it comes within a distance of a
// point. The points from + u side + v grow that do are an ellipse in u and v, of which
// the part over 0 <= u <= 1 counts: its lowest v, above 0.
func (s *strip) first(p geometry.Vec3, within float64) (float64, bool) {
	w := p.Sub(s.from)
	if n := s.normal.Dot(w); n >= within || n <= -within {
		return 0, false
	}
	ws, wg, ww := s.side.Dot(w), s.grow.Dot(w), w.Dot(w)-within*within
	half := (wg*s.ss - ws*s.sg) / s.det
	d := half*half - (ww*s.ss-ws*ws)/s.det
	if d < 0 {
		return 0, false
	}
	d = math.Sqrt(d)
	lo, hi := half-d, half+d
	// Where an end of the ellipse lies beside the strip the strip's own edge is asked.
	if u := (ws - lo*s.sg) / s.ss; u < 0 || u > 1 {
		var ok bool
		if lo, _, ok = s.along(math.Max(0, math.Min(1, u)), ws, wg, ww); !ok {
			return 0, false
		}
	}
	if u := (ws - hi*s.sg) / s.ss; u < 0 || u > 1 {
		_, hi, _ = s.along(math.Max(0, math.Min(1, u)), ws, wg, ww)
	}
	if hi < 0 || lo > s.most {
		return 0, false
	}
	return math.Max(0, lo), true
}

// along returns from which v to which the line of one u lies in the ellipse.
func (s *strip) along(u, ws, wg, ww float64) (lo, hi float64, ok bool) {
	half := (wg - u*s.sg) / s.gg
	d := half*half - (ww-2*u*ws+u*u*s.ss)/s.gg
	if d < 0 {
		return 0, 0, false
	}
	d = math.Sqrt(d)
	return half - d, half + d, true
}

// layStray is how far a face may stray from a straight piece of a crack on it, mm.
const layStray = 0.01

// pieces divides the way from a to b on a face into straight pieces.
func (l layer) pieces(a, b geometry.Vec2) []geometry.Vec3 {
	return append(l.between(l.on(a), l.on(b), 6), l.on(b))
}

// between returns the ends of the pieces from p up to q, that one left out.
func (l layer) between(p, q geometry.Vec3, halvings int) []geometry.Vec3 {
	mid := l.on(p.XY().Add(q.XY()).Scale(0.5))
	length := q.Sub(p).Norm()
	if halvings == 0 || length < 0.3 || length < 4 && math.Abs(mid.Z-(p.Z+q.Z)/2) < layStray {
		return []geometry.Vec3{p}
	}
	return append(l.between(p, mid, halvings-1), l.between(mid, q, halvings-1)...)
}

// layer lays a crack on its face.
type layer struct {
	rough *planner.Rough
	crack planner.Crack
	into  geometry.Vec3 // for each mm of depth
	out   *sheet
}

func newLayer(r *planner.Rough, k planner.Crack, within float64) layer {
	lean, toward := k.Lean*math.Pi/180, k.Toward*math.Pi/180
	into := geometry.Vec3{X: math.Tan(lean) * math.Cos(toward), Y: math.Tan(lean) * math.Sin(toward), Z: -1}
	if k.Face == planner.Base {
		into.Z = 1
	}
	return layer{r, k, into, &sheet{within: within, at: noBox()}}
}

func (l layer) on(p geometry.Vec2) geometry.Vec3 {
	return geometry.Vec3{X: p.X, Y: p.Y, Z: l.rough.Height(l.crack.Face, p.X, p.Y)}
}

// deepening lays the sheet over a way, to grow deeper from a value of the number.
func (l layer) deepening(a, b geometry.Vec2, depth, least float64, slice int) {
	way := l.pieces(a, b)
	for i, p := range way[:len(way)-1] {
		l.add(strip{from: p, side: way[i+1].Sub(p), grow: l.into, most: depth, least: least, slice: int32(slice)})
	}
}

// lengthening lays the sheet over a way that it grows along, a depth deep, from nothing.
func (l layer) lengthening(a, b geometry.Vec2, depth float64) {
	way, run := l.pieces(a, b), 0.0
	for i, p := range way[:len(way)-1] {
		v := way[i+1].Sub(p)
		step := v.XY().Norm()
		l.add(strip{from: p, side: l.into.Scale(depth), grow: v.Scale(1 / step), most: step, least: run})
		run += step
	}
}

func (l layer) add(s strip) {
	if s.side.Norm() < 1e-9 || s.grow.Norm() < 1e-9 || s.most < 0 {
		return
	}
	l.out.strips = append(l.out.strips, s.ready())
	end := s.grow.Scale(s.most)
	for _, p := range []geometry.Vec3{s.from, s.from.Add(s.side), s.from.Add(end), s.from.Add(s.side).Add(end)} {
		l.out.at.add(p, l.out.within)
	}
}
