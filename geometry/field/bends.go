package field

import "math"

// bends answers "the largest value within a radius" on a table, for a few fixed
// radii: square windows, so the answer may come from a little further off.
type bends struct {
	nx    int
	radii []float64
	least [][]float32 // one table a radius
	whole float64     // the largest of all
}

// newBends makes the tables of maxima over windows of growing size.
func newBends(v []float32, nx, ny int, step float64) bends {
	b := bends{nx: nx}
	b.whole = math.Inf(-1)
	for _, x := range v {
		b.whole = max(b.whole, float64(x))
	}
	b.radii, b.least = []float64{0.5 * step}, [][]float32{v}
	cur, half := v, 0
	for _, want := range []int{1, 2, 4, 8, 16, 32} {
		cur = dilate(cur, nx, ny, want-half)
		half = want
		// A point within the node's own square is up to step/2 off the node.
		b.radii = append(b.radii, (float64(want)-0.5)*step)
		b.least = append(b.least, cur)
	}
	return b
}

// within returns the largest value within radius of node (i, j).
func (b *bends) within(i, j int, radius float64) float64 {
	for l, r := range b.radii {
		if radius <= r {
			return float64(b.least[l][j*b.nx+i])
		}
	}
	return b.whole
}

// around is within for a spot anywhere in the square of node (i, j).
func (b *bends) around(i, j int, radius float64) float64 {
	return b.within(i, j, max(radius, b.radii[0]*1.001))
}

// over returns how far a surface with these second derivatives can rise over
// its tangent plane at node (i, j) within radius: the second derivative along a
// ray is at most the largest value within the distance gone, and is integrated
// twice, shell by shell. As it only grows outwards, the height falls first and
// rises then, if it does both, and is largest at one of the two ends.
func (b *bends) over(i, j int, radius float64) float64 {
	height, slope, from := 0.0, 0.0, 0.0
	at := j*b.nx + i
	for l, r := range b.radii {
		m := float64(b.least[l][at])
		d := min(r, radius) - from
		height += slope*d + m*d*d/2
		if r >= radius {
			return max(0, height)
		}
		slope += m * d
		from = r
	}
	d := radius - from
	return max(0, height+slope*d+b.whole*d*d/2)
}

// dilate returns the maxima over windows of half nodes to each side.
func dilate(v []float32, nx, ny, half int) []float32 {
	rows := make([]float32, len(v))
	for j := 0; j < ny; j++ {
		line := v[j*nx : (j+1)*nx]
		for i := range line {
			m := line[i]
			for k := max(0, i-half); k <= min(nx-1, i+half); k++ {
				m = max(m, line[k])
			}
			rows[j*nx+i] = m
		}
	}
	out := make([]float32, len(v))
	for i := 0; i < nx; i++ {
		for j := 0; j < ny; j++ {
			m := rows[j*nx+i]
			for k := max(0, j-half); k <= min(ny-1, j+half); k++ {
				m = max(m, rows[k*nx+i])
			}
			out[j*nx+i] = m
		}
	}
	return out
}
