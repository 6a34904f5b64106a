package field

import (
	"math"
	"slices"

	"cabwright/geometry"
)

// walls are the sides of the body as an obstacle: all that lies beyond them.
type walls struct {
	*ring
	allowance float64
}

func (w *walls) rows(p geometry.Vec3, reach Reach, span *Span, limit float64, out []Row) []Row {
	return w.ring.rows(p, reach, span, w.allowance, limit, out)
}

func (w *walls) slopes(p geometry.Vec3, limit float64, out []Row) []Row {
	first := len(out)
	out = w.ring.rows(p, Reach{}, nil, w.allowance, limit, out)
	// A row with slack is of an edge that p is not in front of: beside a notch such ones
	// say little, and a climb that followed them would stand still.
	out = append(out[:first], slices.DeleteFunc(out[first:], func(r Row) bool { return r.Slack > slight })...)
	if d, g := w.ring.slope(p.XY()); d-w.allowance < limit {
		out = append(out, Row{Value: d - w.allowance, Gradient: geometry.Vec3{X: g.X, Y: g.Y}})
	}
	return out
}

func (w *walls) estimate(p geometry.Vec3) float64 { return w.ring.estimate(p.XY()) - w.allowance }

func (w *walls) lower(p geometry.Vec3, enough float64) float64 {
	return w.ring.lower(p.XY(), enough+w.allowance) - w.allowance
}

func (w *walls) tabled(p geometry.Vec3, _ float64) float64 {
	return w.ring.lower(p.XY(), math.Inf(-1)) - w.allowance
}

func (w *walls) apart(geometry.Vec3) float64 { return math.Inf(-1) }

func (w *walls) bend(_ geometry.Vec3, distance, radius float64) float64 {
	if w.convex {
		return 0
	}
	return inverse(distance - radius)
}

func (w *walls) keep() float64                 { return w.allowance }
func (w *walls) inside() (geometry.Vec3, bool) { return geometry.Vec3{}, false }

// ring is a simple polygon, counter-clockwise, as upright walls: for every edge
// the inward normal and how far its line may be followed past its ends before
// it runs into the polygon.
type ring struct {
	corners []geometry.Vec2
	edges   []edge
	convex  bool
	lo      geometry.Vec2 // of the table of nearest edges
	step    float64
	nx, ny  int
	nearest []int32 // for many corners only: index of the edge nearest to a node
	notches []notch
	notchOf []int32 // by edge: index of the notch it is part of, or -1; nil without any
}

type edge struct {
	a, d, n geometry.Vec2 // start, unit direction, inward normal
	length  float64
	lo, hi  float64 // the line from lo to hi along d lies outside the polygon or on it
	back    float64 // how far behind the line (outwards) there is only outside
}

// many is the number of corners from which a table of nearest edges pays.
const many = 24

// newRing prepares the walls of the polygon, tabulated over [lo, hi].
func newRing(poly []geometry.Vec2, lo, hi geometry.Vec2, step float64) *ring {
	r := &ring{corners: poly, lo: lo, step: step}
	n := len(poly)
	for i, a := range poly {
		b := poly[(i+1)%n]
		d := b.Sub(a)
		l := d.Norm()
		if l == 0 {
			continue
		}
		d = d.Scale(1 / l)
		r.edges = append(r.edges, edge{a: a, d: d, n: geometry.Vec2{X: -d.Y, Y: d.X}, length: l})
	}
	r.convex = true
	for i := range r.edges {
		r.extend(i)
		if r.edges[i].d.Cross(r.edges[(i+1)%len(r.edges)].d) < 0 {
			r.convex = false
		}
	}
	if n > many {
		r.tabulate(lo, hi)
	}
	return r
}

// extend finds how far edge i's line can be followed with only outside on it and
// behind it, and how deep the outside is behind the edge itself. Whatever part of
// the polygon lies on the outer side past an end stops the walk there, touching
// the line or not.
func (r *ring) extend(i int) {
	const tiny = 1e-9 // mm: below the rounding of coordinates in a file
	e := &r.edges[i]
	e.lo, e.hi, e.back = math.Inf(-1), math.Inf(1), math.Inf(1)
	for j := range r.edges {
		if j == i {
			continue
		}
		f := &r.edges[j]
		p, q := f.a.Sub(e.a), f.a.Add(f.d.Scale(f.length)).Sub(e.a)
		sp, sq, up, uq := e.n.Dot(p), e.n.Dot(q), e.d.Dot(p), e.d.Dot(q)
		if sp >= -tiny && sq >= -tiny {
			continue // on the inner side: no hindrance
		}
		// The part of f on the outer side, in the edge's own axes.
		if sp > 0 {
			up, sp = up+(uq-up)*sp/(sp-sq), 0
		} else if sq > 0 {
			uq, sq = uq+(up-uq)*sq/(sq-sp), 0
		}
		u0, u1 := min(up, uq), max(up, uq)
		switch {
		case u1 <= tiny:
			e.lo = max(e.lo, u1)
		case u0 >= e.length-tiny:
			e.hi = min(e.hi, u0)
		default: // behind the edge itself
			e.back = min(e.back, -max(sp, sq))
			if u0 < 0 {
				e.lo = 0
			}
			if u1 > e.length {
				e.hi = e.length
			}
		}
	}
	e.lo, e.hi = min(e.lo, 0), max(e.hi, e.length)
	e.back = max(0, e.back)
}

// tabulate notes the nearest edge at every node.
func (r *ring) tabulate(lo, hi geometry.Vec2) {
	r.nx, r.ny = int((hi.X-lo.X)/r.step)+2, int((hi.Y-lo.Y)/r.step)+2
	r.nearest = make([]int32, r.nx*r.ny)
	last := 0
	for j := 0; j < r.ny; j++ {
		for i := 0; i < r.nx; i++ {
			p := geometry.Vec2{X: lo.X + float64(i)*r.step, Y: lo.Y + float64(j)*r.step}
			best, at := r.edges[last].to(p), last
			for k := range r.edges {
				e := &r.edges[k]
				// An edge whose start is further than the best by its length cannot win.
				if dx := math.Abs(p.X - e.a.X); dx > best+e.length {
					continue
				}
				if d := e.to(p); d < best {
					best, at = d, k
				}
			}
			r.nearest[j*r.nx+i], last = int32(at), at
		}
	}
}

func (e *edge) to(p geometry.Vec2) float64 {
	v := p.Sub(e.a)
	u := max(0, min(e.length, e.d.Dot(v)))
	return v.Sub(e.d.Scale(u)).Norm()
}

// candidates calls f with the indices of the edges worth looking at near p.
func (r *ring) candidates(p geometry.Vec2, f func(i int)) {
	if r.nearest == nil {
		for i := range r.edges {
			f(i)
		}
		return
	}
	i := max(0, min(r.nx-1, int((p.X-r.lo.X)/r.step+0.5)))
	j := max(0, min(r.ny-1, int((p.Y-r.lo.Y)/r.step+0.5)))
	k := int(r.nearest[j*r.nx+i])
	n := len(r.edges)
	f(k)
	f((k + 1) % n)
	f((k + n - 1) % n)
}

// rows appends upper bounds on the distance from p, inside the polygon, to its
// outside: every edge whose line can matter below the cap.
func (r *ring) rows(p geometry.Vec3, by Reach, span *Span, allowance, limit float64, out []Row) []Row {
	reach := by.Plan
	notched := span != nil && r.notchOf != nil && by.Full() < bentReach
	begin := len(out)
	xy := p.XY()
	if !r.convex {
		// Behind an edge of a dented polygon there may be more of it; but the signed
		// distance changes by no more than the point moves.
		if d := r.signed(xy); d < 0 {
			if row := (Row{Value: d - allowance, Slack: reach}); row.Value+row.Slack < limit {
				out = append(out, row)
			}
			if d <= -reach {
				return out
			}
		}
	}
	r.candidates(xy, func(i int) {
		row, ok := r.edges[i].row(p, reach, allowance, limit)
		switch {
		case !ok:
		case notched && row.Slack > slight && r.notchOf[i] >= 0:
			out = r.notchRow(int(r.notchOf[i]), p, span, allowance, limit+reach, begin, out)
		case row.Value-reach < limit:
			out = append(out, row)
		}
	})
	return out
}

// row bounds by one edge's line, or by the edge's nearest point; false where the line
// cannot matter below the limit.
func (e *edge) row(p geometry.Vec3, reach, allowance, limit float64) (Row, bool) {
	v := p.XY().Sub(e.a)
	s, u := e.n.Dot(v), e.d.Dot(v)
	if s-allowance-reach >= limit {
		return Row{}, false
	}
	value, slope, slack := wall(s, reach, beyond(u, reach, e.lo, e.hi), e.back)
	row := Row{Value: value - allowance, Gradient: geometry.Vec3{X: slope * e.n.X, Y: slope * e.n.Y}, Slack: slack}
	if slack == 0 {
		return row, true
	}
	c := e.a.Add(e.d.Scale(max(0, min(e.length, u))))
	b := ball(p, geometry.Vec3{X: c.X, Y: c.Y, Z: p.Z}, Reach{Plan: reach}, allowance)
	if b.Value+b.Slack < row.Value+row.Slack {
		return b, true
	}
	return row, true
}

// notchRow appends the row of a notch, below the cap, unless another edge of it has
// given it since begin.
func (r *ring) notchRow(k int, p geometry.Vec3, span *Span, allowance, limit float64, begin int, out []Row) []Row {
	for _, row := range out[begin:] {
		if row.Bent && row.Obstacle == -1-k {
			return out
		}
	}
	if row := r.notches[k].row(p, span, allowance); row.Value < limit {
		row.Obstacle = -1 - k
		out = append(out, row)
	}
	return out
}

// outside returns the signed distance in plan from q to a convex polygon,
// negative inside.
func (r *ring) outside(q geometry.Vec2) float64 {
	in, out := math.Inf(-1), math.Inf(1)
	for i := range r.edges {
		e := &r.edges[i]
		v := q.Sub(e.a)
		s := -e.n.Dot(v)
		if s <= 0 {
			in = max(in, s)
			continue
		}
		u := e.d.Dot(v)
		switch {
		case u < 0:
			out = min(out, v.Dot(v))
		case u > e.length:
			w := v.Sub(e.d.Scale(e.length))
			out = min(out, w.Dot(w))
		default:
			out = min(out, s*s)
		}
	}
	if math.IsInf(out, 1) {
		return in
	}
	return math.Sqrt(out)
}

// straight returns the row of one edge's line towards a convex polygon, where
// every place of the span is beyond that line and beside the edge itself.
func (r *ring) straight(p geometry.Vec3, span *Span, allowance float64) (Row, bool) {
	for i := range r.edges {
		e := &r.edges[i]
		n := geometry.Vec3{X: -e.n.X, Y: -e.n.Y}
		v := p.XY().Sub(e.a)
		h := -e.n.Dot(v)
		s, away := span.along(h, n)
		if s < away {
			continue
		}
		u, by := span.along(e.d.Dot(v), geometry.Vec3{X: e.d.X, Y: e.d.Y})
		if u-by >= 0 && u+by <= e.length {
			return span.straight(h, n, allowance), true
		}
	}
	return Row{}, false
}

// signed returns the exact signed distance in plan from p to the polygon,
// positive inside.
func (r *ring) signed(p geometry.Vec2) float64 {
	best := math.Inf(1)
	for i := range r.edges {
		best = min(best, r.edges[i].to(p))
	}
	if geometry.InPolygon(r.corners, p) {
		return best
	}
	return -best
}

// lower is signed, cut short where the table shows that it is at least enough.
func (r *ring) lower(p geometry.Vec2, enough float64) float64 {
	if r.nearest == nil {
		return r.signed(p)
	}
	i := max(0, min(r.nx-1, int((p.X-r.lo.X)/r.step+0.5)))
	j := max(0, min(r.ny-1, int((p.Y-r.lo.Y)/r.step+0.5)))
	at := geometry.Vec2{X: r.lo.X + float64(i)*r.step, Y: r.lo.Y + float64(j)*r.step}
	if d := r.edges[r.nearest[j*r.nx+i]].to(at) - at.Sub(p).Norm(); d > enough && geometry.InPolygon(r.corners, p) {
		return d
	}
	return r.signed(p)
}

// estimate is signed, from the edges worth looking at only.
func (r *ring) estimate(p geometry.Vec2) float64 {
	if r.convex {
		d := math.Inf(1)
		for i := range r.edges {
			e := &r.edges[i]
			d = min(d, e.n.X*(p.X-e.a.X)+e.n.Y*(p.Y-e.a.Y))
		}
		if d >= 0 {
			return d
		}
		// Off a corner the edges' lines are all nearer than the polygon.
		d = math.Inf(1)
		for i := range r.edges {
			d = min(d, r.edges[i].to(p))
		}
		return -d
	}
	return r.lower(p, math.Inf(1))
}
