package geometry

import "math"

// Integral returns the integral of f over a simple polygon with its corners
// counter-clockwise. The polygon's own shape is taken exactly, however many
// corners it has; f is looked at on a grid of cells of at most size, and as a
// polynomial of the second degree along x and along y within each. A smooth f
// is so integrated to the fifth degree in whole cells and the second in those
// that the outline cuts.
//
// f also returns on which of its branches a point lies, as any number: a cell
// whose points are not all on one, where f is bent or broken, is cut further,
// down to an eighth of size. inside says whether the point surely lies inside
// the polygon.
func Integral(poly []Vec2, size float64, f func(p Vec2, inside bool) (value float64, branch int)) float64 {
	if len(poly) < 3 {
		return 0
	}
	lo, hi := Bounds(poly)
	in := integral{f: f, size: size}
	return in.cell(poly, lo, hi)
}

type integral struct {
	f    func(p Vec2, inside bool) (float64, int)
	size float64
}

// branchCell is the size of a cell on several branches that is not cut further,
// as a share of the others. What a bend of slope d can hide in a cell is under
// d/8 of its side, so that this leaves d/64 of size along the bend alone.
const branchCell = 1.0 / 8

// cell integrates over the part poly of the polygon that lies in the cell from
// lo to hi.
func (in *integral) cell(poly []Vec2, lo, hi Vec2) float64 {
	area := Area(poly)
	if len(poly) < 3 || area <= 0 {
		return 0
	}
	wide := math.Max(hi.X-lo.X, hi.Y-lo.Y)
	if wide > in.size {
		return in.halves(poly, lo, hi)
	}
	centre, half := lo.Add(hi).Scale(0.5), hi.Sub(lo).Scale(0.5)
	// A sliver's area is lost in rounding: its nodes are not called inside.
	whole := area > (1-1e-9)*4*half.X*half.Y
	values, bent := in.look(poly, centre, half, whole)
	if bent && wide > branchCell*in.size {
		return in.halves(poly, lo, hi)
	}
	m := moments(poly, centre, half)
	sum := 0.0
	for i := range 3 {
		for j := range 3 {
			k := 0.0
			for a, x := range lagrange[i] {
				for b, y := range lagrange[j] {
					k += x * y * m[a][b]
				}
			}
			sum += k * values[i][j]
		}
	}
	return sum
}

// halves cuts the cell in two across its longer side.
func (in *integral) halves(poly []Vec2, lo, hi Vec2) float64 {
	mid := lo.Add(hi).Scale(0.5)
	end, begin := hi, lo
	along := Vec2{X: 1}
	if hi.X-lo.X >= hi.Y-lo.Y {
		end.X, begin.X = mid.X, mid.X
	} else {
		end.Y, begin.Y = mid.Y, mid.Y
		along = Vec2{Y: 1}
	}
	at := along.Dot(mid)
	return in.cell(cutAlong(poly, along, at), lo, end) + in.cell(cutAlong(poly, along.Scale(-1), -at), begin, hi)
}

// cutAlong returns the part of a polygon where along.p <= at, along being a unit
// vector along or against x or y (Sutherland and Hodgman 1974). Where the polygon
// falls apart, its parts hang together by edges there and back on the line, which
// enclose nothing.
func cutAlong(poly []Vec2, along Vec2, at float64) []Vec2 {
	out := make([]Vec2, 0, len(poly)+4)
	a := poly[len(poly)-1]
	da := along.Dot(a) - at
	for _, b := range poly {
		db := along.Dot(b) - at
		if (da < 0) != (db < 0) && da != 0 && db != 0 {
			p := a.Add(b.Sub(a).Scale(da / (da - db)))
			// Exactly on the line: the cells' edges must meet without a gap.
			if along.X != 0 {
				p.X = at * along.X
			} else {
				p.Y = at * along.Y
			}
			out = append(out, p)
		}
		if db <= 0 {
			out = append(out, b)
		}
		a, da = b, db
	}
	return out
}

// node is where the three-point Gauss-Legendre rule on [-1, 1] looks beside the
// middle (DLMF 3.5.21).
var node = math.Sqrt(0.6)

// lagrange are the polynomials, lowest power first, that are 1 at one of -node,
// 0, node and 0 at the others.
var lagrange = [3][3]float64{
	{0, -0.5 / node, 0.5 / 0.6}, {1, 0, -1 / 0.6}, {0, 0.5 / node, 0.5 / 0.6},
}

// look returns f at the cell's nine nodes, and whether it is on several branches
// there or half way to two of the cell's corners.
func (in *integral) look(poly []Vec2, centre, half Vec2, whole bool) (values [3][3]float64, bent bool) {
	first := 0
	see := func(s, t float64, begin bool) float64 {
		p := Vec2{centre.X + s*half.X, centre.Y + t*half.Y}
		v, branch := in.f(p, whole || InPolygon(poly, p))
		if begin {
			first = branch
		}
		bent = bent || branch != first
		return v
	}
	at := [3]float64{-node, 0, node}
	for i, s := range at {
		for j, t := range at {
			values[i][j] = see(s, t, i == 0 && j == 0)
		}
	}
	see(0.5, -0.5, false)
	see(-0.5, 0.5, false)
	return values, bent
}

// moments returns the integrals of s^a t^b over a polygon, a and b up to 2, where
// s and t run from -1 to 1 across the cell. By Green's theorem each is the
// integral of s^(a+1) t^b/(a+1) dt along the edges, of the fifth degree along one
// at most, where Gauss's rule of three points is exact.
func moments(poly []Vec2, centre, half Vec2) (m [3][3]float64) {
	local := func(p Vec2) Vec2 { return Vec2{(p.X - centre.X) / half.X, (p.Y - centre.Y) / half.Y} }
	scale := half.X * half.Y
	p := local(poly[len(poly)-1])
	for _, corner := range poly {
		q := local(corner)
		if dt := q.Y - p.Y; dt != 0 {
			for k, w := range [3]float64{5.0 / 18, 8.0 / 18, 5.0 / 18} {
				at := p.Add(q.Sub(p).Scale(0.5 + 0.5*node*float64(k-1)))
				s := scale * w * dt * at.X
				for a := range 3 {
					v := s / float64(a+1)
					for b := range 3 {
						m[a][b] += v
						v *= at.Y
					}
					s *= at.X
				}
			}
		}
		p = q
	}
	return m
}
