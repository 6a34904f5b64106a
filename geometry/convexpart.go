package geometry

import "math"

// ConvexPart cuts a region that is star-shaped about the origin, given by its
// radii in evenly spaced directions (direction i is 2 pi i/n), down to a large
// convex part about the origin, and returns that part's radii.
//
// With x = 1/radius, three neighbouring directions are convex where
// 2 cos(2 pi/n) x_i <= x_(i-1) + x_(i+1), and a straight cut is x = cos(theta - phi)/d.
// The deepest dent is cut off first, by the line through its tip that leaves the
// most area of those 4.5 degrees apart, and so on until none is left. Each cut is
// the best for itself; the whole need not be the largest convex part there is (that
// problem, the potato peeling of Goodman 1981 and of Chang and Yap 1986, is far
// dearer), but it comes near it when there is one dent.
func ConvexPart(radii []float64) []float64 {
	n := len(radii)
	step := 2 * math.Pi / float64(n)
	x := make([]float64, n)
	for i, r := range radii {
		x[i] = 1 / math.Max(r, 1e-6)
	}
	ways := make([]Vec2, n)
	for i := range ways {
		ways[i].Y, ways[i].X = math.Sincos(float64(i) * step)
	}
	c2 := 2 * math.Cos(step)
	for range 4 * n {
		worst, at := 1e-9, -1
		for i := range x {
			if d := (c2*x[i] - x[(i+n-1)%n] - x[(i+1)%n]) / x[i]; d > worst {
				worst, at = d, i
			}
		}
		if at < 0 {
			break
		}
		cutAt(x, at, bestCut(x, at, ways), ways)
	}
	out := make([]float64, n)
	for i := range x {
		out[i] = 1 / x[i]
	}
	return out
}

// bestCut returns the direction of the normal of the line through the tip at
// direction i that leaves the most area.
func bestCut(x []float64, i int, ways []Vec2) float64 {
	theta := float64(i) * 2 * math.Pi / float64(len(x))
	best, at := -1.0, theta
	for k := -18; k <= 18; k++ {
		phi := theta + float64(k)*math.Pi/40
		line := lineThrough(x, i, phi, ways)
		area := 0.0
		previous := max(x[len(x)-1], line.Dot(ways[len(x)-1]))
		for j, way := range ways {
			v := x[j]
			if cut := line.Dot(way); cut > v {
				v = cut
			}
			area += 1 / (previous * v)
			previous = v
		}
		if area > best {
			best, at = area, phi
		}
	}
	return at
}

// lineThrough returns the line through tip i whose normal has the direction phi: its dot
// product with a direction is 1/radius of the line there.
func lineThrough(x []float64, i int, phi float64, ways []Vec2) Vec2 {
	s, c := math.Sincos(phi)
	normal := Vec2{X: c, Y: s}
	return normal.Scale(x[i] / normal.Dot(ways[i]))
}

func cutAt(x []float64, i int, phi float64, ways []Vec2) {
	line := lineThrough(x, i, phi, ways)
	for j, way := range ways {
		x[j] = max(x[j], line.Dot(way))
	}
}

// Rounded returns the part of a convex polygon (counter-clockwise) that a disc
// of the given radius can reach from within: the polygon with its corners rounded
// so that no radius of curvature is smaller. The arcs are given by points on them,
// about five degrees apart, so the result lies inside. It returns nil when no such
// disc fits.
func Rounded(poly []Vec2, radius float64) []Vec2 {
	inner := append([]Vec2(nil), poly...)
	for i, a := range poly {
		d := poly[(i+1)%len(poly)].Sub(a)
		l := d.Norm()
		if l < 1e-9 {
			continue
		}
		n := Vec2{-d.Y / l, d.X / l}
		inner = Clip(inner, a.Add(n.Scale(radius)), n)
		if len(inner) < 3 {
			return nil
		}
	}
	// An edge that the disc just touches leaves its two corners in one spot.
	var corners []Vec2
	for i, p := range inner {
		if p.Sub(inner[(i+1)%len(inner)]).Norm() >= 1e-9 {
			corners = append(corners, p)
		}
	}
	var out []Vec2
	for i, p := range corners {
		before, after := p.Sub(corners[(i+len(corners)-1)%len(corners)]), corners[(i+1)%len(corners)].Sub(p)
		from := math.Atan2(-before.X, before.Y) // direction of the outer normal
		turn := math.Atan2(math.Max(0, before.Cross(after)), before.Dot(after))
		steps := math.Max(1, math.Ceil(turn/(5*math.Pi/180)))
		for k := 0.0; k <= steps; k++ {
			s, c := math.Sincos(from + turn*k/steps)
			out = append(out, p.Add(Vec2{radius * c, radius * s}))
		}
	}
	return out
}

// Clip keeps the part of a convex polygon on the side of the line through a that
// n points to.
func Clip(poly []Vec2, a, n Vec2) []Vec2 {
	var out []Vec2
	for i, p := range poly {
		q := poly[(i+1)%len(poly)]
		sp, sq := n.Dot(p.Sub(a)), n.Dot(q.Sub(a))
		if sp >= 0 {
			out = append(out, p)
		}
		if (sp > 0 && sq < 0) || (sp < 0 && sq > 0) {
			out = append(out, p.Add(q.Sub(p).Scale(sp/(sp-sq))))
		}
	}
	return out
}

// NarrowWay returns the direction, as a unit vector, along which a convex
// polygon is narrowest. It is square to one of its edges (rotating calipers,
// Toussaint 1983).
func NarrowWay(poly []Vec2) Vec2 {
	best, way := math.Inf(1), Vec2{0, 1}
	for i, a := range poly {
		d := poly[(i+1)%len(poly)].Sub(a)
		l := d.Norm()
		if l < 1e-9 {
			continue
		}
		n := Vec2{-d.Y / l, d.X / l}
		far := 0.0
		for _, p := range poly {
			far = math.Max(far, n.Dot(p.Sub(a)))
		}
		if far < best {
			best, way = far, n
		}
	}
	return way
}
