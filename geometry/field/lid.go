package field

import (
	"math"

	"cabwright/geometry"
)

// lid is a plane that a pit's floor nowhere rises above (in the floor's own sense
// of up) over the polygon: z = at + slope . (x, y). With under for at it is one that
// the floor nowhere sinks below.
type lid struct {
	at    float64
	under float64
	slope geometry.Vec2
	steep float64 // length of slope
	sin   float64 // what a drop straight down is along the plane's normal
}

// newLid fits the planes: parallel to the floor at the middle of the polygon's
// box, as high and as low as any node near the polygon needs. Over the square of a
// node the floor strays from its tangent plane by what its second derivatives add.
func (p *prism) newLid() lid {
	f := p.floor
	lo, hi := geometry.Bounds(p.Polygon)
	i, j := f.at((lo.X+hi.X)/2, (lo.Y+hi.Y)/2)
	mid := f.nodes[j*f.nx+i]
	l := lid{slope: geometry.Vec2{X: mid.zx, Y: mid.zy}, at: math.Inf(-1), under: math.Inf(1)}
	l.steep = l.slope.Norm()
	l.sin = 1 / math.Sqrt(1+l.steep*l.steep)
	i0, j0 := f.at(lo.X, lo.Y)
	i1, j1 := f.at(hi.X, hi.Y)
	half := f.step / 2
	for j := j0; j <= j1; j++ {
		for i := i0; i <= i1; i++ {
			x, y := f.origin.X+float64(i)*f.step, f.origin.Y+float64(j)*f.step
			if p.ring.signed(geometry.Vec2{X: x, Y: y}) < -f.step*math.Sqrt2/2 {
				continue
			}
			n := f.nodes[j*f.nx+i]
			up := max(0, float64(f.rise.least[0][j*f.nx+i]))
			down := max(0, float64(f.dip.least[0][j*f.nx+i]))
			here := n.z - l.slope.X*x - l.slope.Y*y
			turn := (math.Abs(n.zx-l.slope.X) + math.Abs(n.zy-l.slope.Y)) * half
			l.at = max(l.at, here+turn+up*half*half)
			l.under = min(l.under, here-turn-down*half*half)
		}
	}
	l.at -= p.depth
	l.under -= p.depth
	return l
}

// below returns how far q lies, square to it, below the plane that the floor
// nowhere sinks below: no part of the pit is nearer.
func (l *lid) below(q geometry.Vec3) float64 {
	return (l.under + l.slope.X*q.X + l.slope.Y*q.Y - q.Z) * l.sin
}

// distance is a convex function that is at least the signed distance from q to a
// prism over a convex polygon (negative inside): that to the part of it above the
// lid, or between its ends. Moved onto the polygon, q meets the lid no higher than
// the lid's slope over the way; the signed distance to a corner of two half-planes
// is convex and grows in both.
func (p *prism) distance(q geometry.Vec3) float64 {
	x := p.ring.outside(q.XY())
	v := max(p.Low-q.Z, q.Z-p.High)
	if f := p.floor; f != nil {
		l := &p.lid
		v = l.at + l.slope.X*q.X + l.slope.Y*q.Y - f.sign*q.Z + l.steep*max(0, x)
		if v < 0 {
			v *= l.sin
		}
	}
	if v <= 0 {
		return max(x, v)
	}
	if x <= 0 {
		return v
	}
	return math.Sqrt(x*x + v*v)
}

// straight returns the row of one wall's plane where every place of the span is
// in front of that wall, and met by it between the prism's ends.
func (p *prism) straight(q geometry.Vec3, span *Span) (Row, bool) {
	up, rise := span.along(p.Low-q.Z, geometry.Vec3{Z: -1})
	down, _ := span.along(q.Z-p.High, geometry.Vec3{Z: 1})
	level := max(up, down) + rise
	if f := p.floor; f != nil {
		l := &p.lid
		n := geometry.Vec3{X: l.slope.X, Y: l.slope.Y, Z: -f.sign}
		up, rise = span.along(l.at+n.Dot(q), n)
		level = up + rise
	}
	row, ok := p.ring.straight(q, span, p.Allowance)
	if !ok {
		return row, false
	}
	// The wall is met as far off as the row can say; the lid climbs on the way.
	far := row.Value + p.Allowance
	for _, c := range row.Coef {
		far += math.Abs(c)
	}
	return row, level+p.lid.steep*far <= 0
}
