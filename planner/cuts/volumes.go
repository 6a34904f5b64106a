package cuts

import (
	"math"
	"slices"

	"cabwright/geometry"
)

// node is a piece: cut in two, or left whole.
type node struct {
	name        string
	cut         *Cut
	plus, minus *node
	volume      float64 // of the piece, when it is not cut
	kerf        float64 // that its cut turns to dust
}

// tree hangs the cuts on the pieces they are made on.
func tree(cuts []Cut) *node {
	root := &node{}
	at := map[string]*node{"": root}
	for i := range cuts {
		n := at[cuts[i].Piece]
		if n == nil || n.cut != nil {
			continue // no such piece, or cut already: Describe has looked
		}
		n.cut = &cuts[i]
		n.plus, n.minus = &node{name: n.name + "+"}, &node{name: n.name + "-"}
		at[n.plus.name], at[n.minus.name] = n.plus, n.minus
	}
	return root
}

// walk visits every piece, the cut ones before what is made of them.
func (n *node) walk(visit func(*node)) {
	if n == nil {
		return
	}
	visit(n)
	n.plus.walk(visit)
	n.minus.walk(visit)
}

// add shares out the column of the given weight over (x, y) between the pieces
// and the kerfs: no part of it is lost or counted twice.
func (n *node) add(x, y, low, high, weight float64) {
	if high <= low {
		return
	}
	if n.cut == nil {
		n.volume += weight * (high - low)
		return
	}
	over := n.cut.Normal.X*x + n.cut.Normal.Y*y - n.cut.Normal.Dot(n.cut.Point)
	k, nz := n.cut.Kerf/2, n.cut.Normal.Z
	if math.Abs(nz) < upright {
		switch {
		case over >= k:
			n.plus.add(x, y, low, high, weight)
		case over <= -k:
			n.minus.add(x, y, low, high, weight)
		default:
			n.kerf += weight * (high - low)
		}
		return
	}
	below, above := n.minus, n.plus
	z0, z1 := (-k-over)/nz, (k-over)/nz
	if nz < 0 {
		below, above, z0, z1 = above, below, z1, z0
	}
	below.add(x, y, low, min(high, z0), weight)
	above.add(x, y, max(low, z1), high, weight)
	n.kerf += weight * max(0, min(high, z1)-max(low, z0))
}

// volumes fills in what each piece and each kerf holds. It integrates along
// rows by Gauss-Legendre quadrature, between breaks at which an integrand is
// not smooth: the outline's corners, where the faces of the kerfs meet the
// outline and one another, and along each row where they come up through top
// or base. In the end all are brought to the rough's own volume, from which
// the sum is off by the quadrature's error, about 1e-4 of it.
func (b *Body) volumes(root *node) {
	lo, hi := geometry.Bounds(b.Rough.Outline)
	var faces []half
	root.walk(func(n *node) {
		if n.cut != nil {
			faces = append(faces, n.cut.side(1), n.cut.side(-1))
		}
	})
	panel := math.Max(1, math.Max(hi.X-lo.X, hi.Y-lo.Y)/60)
	breaks := b.rowBreaks(faces, lo.Y, hi.Y, panel)
	var buf, along []float64
	for i := 0; i+1 < len(breaks); i++ {
		for _, g := range gauss3 {
			y := breaks[i] + (breaks[i+1]-breaks[i])*g.at
			weight := (breaks[i+1] - breaks[i]) * g.weight
			buf = geometry.Crossings(b.Rough.Outline, y, buf)
			for k := 0; k+1 < len(buf); k += 2 {
				along = b.rowParts(faces, y, buf[k], buf[k+1], panel, along[:0])
				for j := 0; j+1 < len(along); j++ {
					for _, h := range gauss3 {
						x := along[j] + (along[j+1]-along[j])*h.at
						c := b.at(x, y)
						root.add(x, y, c.low, c.high, weight*(along[j+1]-along[j])*h.weight)
					}
				}
			}
		}
	}
	sum := 0.0
	root.walk(func(n *node) { sum += n.volume + n.kerf })
	if sum > 0 {
		root.walk(func(n *node) {
			n.volume *= b.Rough.Volume() / sum
			n.kerf *= b.Rough.Volume() / sum
		})
	}
}

// rowBreaks returns the rising y between which rows change smoothly.
func (b *Body) rowBreaks(faces []half, low, high, panel float64) []float64 {
	at := []float64{low, high}
	outline := b.Rough.Outline
	if len(outline) <= 200 {
		for _, p := range outline {
			at = append(at, p.Y)
		}
	}
	for _, f := range faces {
		if math.Abs(f.normal.Z) >= upright {
			panel = math.Min(panel, 0.5) // its ends on the faces are not followed
			at = append(at, b.faceMeetsRim(f)...)
			continue
		}
		for _, p := range b.corners([]half{f}) {
			at = append(at, p.Y)
		}
		for _, g := range faces {
			if det := f.normal.XY().Cross(g.normal.XY()); math.Abs(g.normal.Z) < upright && math.Abs(det) > 1e-9 {
				at = append(at, (f.normal.X*g.from-g.normal.X*f.from)/det)
			}
		}
	}
	slices.Sort(at)
	var out []float64
	for i := 0; i+1 < len(at); i++ {
		if at[i] < low || at[i+1] > high {
			continue
		}
		n := math.Ceil((at[i+1] - at[i]) / panel)
		for k := 0.0; k < n; k++ {
			out = append(out, at[i]+(at[i+1]-at[i])*k/n)
		}
	}
	return append(out, high)
}

// faceMeetsRim returns the y at which a leaning face meets the upper and the
// lower edge of the outline's wall.
func (b *Body) faceMeetsRim(f half) []float64 {
	var out []float64
	for i, c := range b.rim {
		d := b.rim[(i+1)%len(b.rim)]
		for _, z := range [2][2]float64{{c.low, d.low}, {c.high, d.high}} {
			from := f.normal.Dot(geometry.Vec3{X: c.x, Y: c.y, Z: z[0]}) - f.from
			to := f.normal.Dot(geometry.Vec3{X: d.x, Y: d.y, Z: z[1]}) - f.from
			if (from > 0) != (to > 0) {
				out = append(out, c.y+(d.y-c.y)*from/(from-to))
			}
		}
	}
	return out
}

// rowParts returns the rising x between which the columns of one row change
// smoothly.
func (b *Body) rowParts(faces []half, y, x0, x1, panel float64, at []float64) []float64 {
	n := max(1, math.Ceil((x1-x0)/panel))
	for k := 0.0; k < n; k++ {
		at = append(at, x0+(x1-x0)*k/n)
	}
	at = append(at, x1) // to the last digit: what lies beyond is left out below
	coarse := slices.Clone(at)
	leaning := false
	for _, f := range faces {
		if math.Abs(f.normal.Z) >= upright {
			leaning = true
		} else if math.Abs(f.normal.X) > 1e-12 {
			at = append(at, (f.from-f.normal.Y*y)/f.normal.X)
		}
	}
	if leaning {
		at = append(at, b.leaningBreaks(faces, y, coarse)...)
	}
	slices.Sort(at)
	in := at[:0]
	for _, x := range at {
		if x >= x0 && x <= x1 {
			in = append(in, x)
		}
	}
	return in
}

// leaningBreaks finds where leaning faces come up through top and base along a
// row, between the given places.
func (b *Body) leaningBreaks(faces []half, y float64, at []float64) []float64 {
	var out []float64
	for _, surface := range []func(x, y float64) float64{b.Rough.Top, b.Rough.Base} {
		heights := make([]float64, len(at))
		for i, x := range at {
			heights[i] = surface(x, y)
		}
		for _, f := range faces {
			if math.Abs(f.normal.Z) < upright {
				continue
			}
			over := func(x, z float64) float64 { return f.normal.X*x + f.normal.Y*y + f.normal.Z*z - f.from }
			for i := 0; i+1 < len(at); i++ {
				x0, x1 := at[i], at[i+1]
				v0, v1 := over(x0, heights[i]), over(x1, heights[i+1])
				if (v0 > 0) == (v1 > 0) {
					continue
				}
				out = append(out, zero(x0, x1, v0, v1, func(x float64) float64 { return over(x, surface(x, y)) }))
			}
		}
	}
	return out
}

// zero is where a function is 0 between two places at which its signs differ, by false
// position in the Illinois form (Dowell and Jarratt 1971).
func zero(x0, x1, v0, v1 float64, f func(float64) float64) float64 {
	const near = 1e-9
	x := x0
	for range 30 {
		x = (x0*v1 - x1*v0) / (v1 - v0)
		v := f(x)
		if math.Abs(v) < near {
			break
		}
		if (v > 0) == (v1 > 0) {
			v0 /= 2 // the same end stays again: it is drawn nearer
		} else {
			x0, v0 = x1, v1
		}
		x1, v1 = x, v
	}
	return x
}

// gauss3 is the three-point Gauss-Legendre rule on [0, 1] (DLMF 3.5.21).
var gauss3 = [3]struct{ at, weight float64 }{
	{0.5 - 0.5*math.Sqrt(0.6), 5.0 / 18}, {0.5, 8.0 / 18}, {0.5 + 0.5*math.Sqrt(0.6), 5.0 / 18},
}
