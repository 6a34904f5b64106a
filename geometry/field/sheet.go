package field

import (
	"math"

	"cabwright/geometry"
)

// Sheet is a thin obstacle: a path drawn in plan on a surface, and from every
// point of it the straight line along Into (whose z is -1 or +1) down to Depth.
type Sheet struct {
	Path      []geometry.Vec2
	FromTop   bool          // the surface is the body's top; else its base
	Into      geometry.Vec3 // displacement for each millimetre of depth
	Depth     float64
	Allowance float64

	face Face
	sign float64 // +1: of a top
	open bool    // the sheet may be taken to go on above the surface: all there is outside
}

// sheet is a Sheet made ready: flat pieces for upper bounds, a finer mesh for
// exact distances.
type sheet struct {
	facets    []facet
	stray     []float64 // the sheet stays within this of each facet
	fine      []bool    // whether a facet is one of the fine ones
	runs      []run     // how the sheet goes on beside a facet
	drawn     []facet   // the fine ones to the sheet's full depth: for estimates
	mesh      mesh
	allowance float64
}

// The surface along a path is not straight. A facet's stray only costs tightness,
// as it is added to every upper bound: long facets serve wide boxes, where running
// over a short one's end costs more, and fine ones narrow boxes. The mesh strays by
// no more than half a micrometre, half of what odds leave a mark at its limit: along a
// crack that runs past a stone a clearance changes by no more than some micrometres.
var facetStrays = [2]float64{0.15, 0.005}

const meshStray = 0.0005

// wideReach is the reach, mm, above which the long facets are asked; below
// narrowReach the nearest point of the mesh is, which is exact but dearer and only
// serves where points hardly move.
const (
	wideReach   = 0.8
	narrowReach = 0.25
)

// A bent row is asked for where a plain one has more slack than slight, and the
// point moves by less than bentReach: both are mm, and only a matter of time spent. The
// rows of sheets and prisms for a span beyond that hardly ever bound anything.
const (
	slight    = 0.002
	bentReach = 3
)

func newSheet(s Sheet) *sheet {
	out := &sheet{allowance: s.Allowance}
	for i := 0; i+1 < len(s.Path); i++ {
		a, b := s.Path[i], s.Path[i+1]
		if a == b {
			continue
		}
		across := s.across(a, b)
		// A facet keeps its stray off the sheet's upper and lower edges, upright or
		// not: no more than half the depth may go that way, nor much of the edges.
		divided := func(limit, edge float64) []piece {
			return split(s.face, s.sign, a, b, limit, max(across, limit/min(edge, s.Depth/4)))
		}
		long, fine := divided(facetStrays[0], 0.3), divided(facetStrays[1], 0.05)
		for level, pieces := range [2][]piece{long, fine} {
			for _, piece := range pieces {
				out.fine = append(out.fine, level == 1)
				f, stray := s.facet(piece)
				out.facets = append(out.facets, f)
				out.stray = append(out.stray, stray)
				if level == 1 {
					f.lo2, f.hi2 = 0, s.Depth
					out.drawn = append(out.drawn, f)
				}
			}
		}
		for _, piece := range split(s.face, s.sign, a, b, meshStray, 1) {
			p, q := s.on(piece.a), s.on(piece.b)
			d := s.Into.Scale(s.Depth)
			out.mesh.quad(p, q, q.Add(d), p.Add(d))
			out.mesh.error = max(out.mesh.error, piece.stray)
		}
	}
	out.join()
	return out
}

func (s *Sheet) on(p geometry.Vec2) geometry.Vec3 {
	return geometry.Vec3{X: p.X, Y: p.Y, Z: s.face.heightOf(s.sign, p.X, p.Y)}
}

// across returns the share of a vertical shift of the path that moves the sheet
// out of its own plane: nothing when it is upright.
func (s *Sheet) across(a, b geometry.Vec2) float64 {
	p, q := s.on(a), s.on(b)
	n := q.Sub(p).Cross(s.Into)
	return math.Abs(n.Z) / max(n.Norm(), 1e-12)
}

// facet returns the flat piece of the sheet, and how far the sheet strays from it.
func (s *Sheet) facet(piece piece) (facet, float64) {
	p, q := s.on(piece.a), s.on(piece.b)
	along := q.Sub(p)
	l := along.Norm()
	f := newFacet(p, along.Scale(1/l), s.Into, geometry.Vec3{}, [2]float64{0, l}, [2]float64{0, s.Depth}, 0)
	// Where the surface strays up or down, the sheet's edges go this far along Into;
	// a sheet shallower than twice that is somewhere near its own middle.
	inset := piece.stray * math.Abs(f.d2.Z)
	short := max(0, inset-s.Depth/2)
	inset = min(inset, s.Depth/2)
	f.lo2, f.hi2 = inset, s.Depth-inset
	if s.open {
		f.lo2 = math.Inf(-1)
	}
	return f, piece.stray*s.across(piece.a, piece.b) + short*f.la2
}

// piece is a straight part of a path over which the surface strays from a
// straight line by at most stray.
type piece struct {
	a, b  geometry.Vec2
	stray float64
}

// split cuts ab into pieces over which the face strays from a straight line by at
// most limit/weight.
func split(face Face, sign float64, a, b geometry.Vec2, limit, weight float64) []piece {
	stray := face.stray(sign, a, b)
	// 0.02 mm is the floor below which a thin plate's own singularity at a reading
	// is no longer resolved; pieces are not cut finer than twice that, or a tenth of
	// that where a face is cut off and so has an edge.
	l := b.Sub(a).Norm()
	if stray*weight <= limit || l < 0.004 || l < 0.04 && !face.edged(sign, a, b) {
		return []piece{{a, b, stray}}
	}
	mid := a.Add(b).Scale(0.5)
	return append(split(face, sign, a, mid, limit, weight), split(face, sign, mid, b, limit, weight)...)
}

func (s *sheet) rows(p geometry.Vec3, reach Reach, span *Span, limit float64, out []Row) []Row {
	full := reach.Full()
	if s.mesh.toBox(p)-s.allowance-full >= limit || span != nil && full >= bentReach {
		return out
	}
	best := Row{Value: math.Inf(1)}
	wide, narrow := full > wideReach, full < narrowReach
	if span != nil && full < bentReach {
		bent, ok := s.bent(p, span, wide, full, limit)
		if !ok {
			return out
		}
		best = bent
	}
	if narrow && best.Slack > slight || math.IsInf(best.Value, 1) {
		for i := range s.facets {
			if s.fine[i] && wide || !s.fine[i] && narrow {
				continue
			}
			f := &s.facets[i]
			if math.Abs(f.n.Dot(p.Sub(f.k)))+s.stray[i]-s.allowance >= best.Value+best.Slack {
				continue // its plane alone is further off
			}
			r := f.bound(p, reach, s.allowance)
			r.Slack += s.stray[i]
			if r.Value+r.Slack < best.Value+best.Slack {
				best = r
			}
		}
	}
	best = s.mesh.sharpen(best, p, reach, s.allowance)
	if best.Value-full < limit {
		out = append(out, best)
	}
	return out
}

// bent returns the row of the facet nearest to the middle of the span, with the
// sheet beside it; none if it cannot come below limit, full being the reach.
func (s *sheet) bent(p geometry.Vec3, span *Span, wide bool, full, limit float64) (Row, bool) {
	mid := p.Add(span.Shift)
	best, at := math.Inf(1), -1
	for i := range s.runs {
		f := &s.facets[i]
		if s.fine[i] == wide || math.Abs(f.n.Dot(mid.Sub(f.k))) >= best {
			continue
		}
		if d := s.runs[i].distance(mid); d < best {
			best, at = d, i
		}
	}
	if at < 0 || best-full-s.allowance >= limit {
		return Row{}, false
	}
	r := &s.runs[at]
	if row, ok := r.straight(p, span, s.allowance); ok {
		return row, true
	}
	return cornerRow(p, span, s.allowance, r.distance), true
}

func (s *sheet) lower(p geometry.Vec3, enough float64) float64 {
	return s.mesh.distance(p, enough+s.allowance) - s.allowance
}

// estimate returns the distance from p to the fine facets, less the allowance.
func (s *sheet) estimate(p geometry.Vec3) float64 {
	return p.Sub(s.nearest(p)).Norm() - s.allowance
}

func (s *sheet) tabled(p geometry.Vec3, enough float64) float64 { return s.lower(p, enough) }

func (s *sheet) apart(p geometry.Vec3) float64 { return s.mesh.toBox(p) - s.mesh.error - s.allowance }

func (s *sheet) bend(_ geometry.Vec3, distance, radius float64) float64 {
	return inverse(distance - radius)
}

func (s *sheet) keep() float64                 { return s.allowance }
func (s *sheet) inside() (geometry.Vec3, bool) { return s.mesh.tri[0].mid, true }

func (s *sheet) slopes(p geometry.Vec3, limit float64, out []Row) []Row {
	v := p.Sub(s.nearest(p))
	d := v.Norm()
	if d > 0 && d-s.allowance < limit {
		out = append(out, Row{Value: d - s.allowance, Gradient: v.Scale(1 / d)})
	}
	return out
}
