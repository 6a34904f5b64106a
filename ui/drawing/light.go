package drawing

import (
	"math"

	"cabwright/geometry"
)

// The light comes from the upper left of the screen and from before it: where
// drawings of relief have it by custom. sun is the unit vector towards it, x to
// the right of the screen, y up, z towards the eye.
var sun = unit(geometry.Vec3{X: -0.5, Y: 0.6, Z: 0.62})

// half is the unit vector half-way between the light and the eye: where a
// polished face shows its highlight (Blinn 1977, "Models of light reflection for
// computer synthesized pictures").
var half = unit(sun.Add(geometry.Vec3{Z: 1}))

func unit(v geometry.Vec3) geometry.Vec3 {
	if n := v.Norm(); n > 0 {
		return v.Scale(1 / n)
	}
	return geometry.Vec3{Z: 1}
}

// lambert returns how much light, 0 to 1, falls on a face that rises by gx to the
// right and gy upwards (Lambert's cosine law).
func lambert(gx, gy float64) float64 {
	return math.Max(0, (-gx*sun.X-gy*sun.Y+sun.Z)/math.Sqrt(1+gx*gx+gy*gy))
}

// nodes is about how many places a face's relief is looked at: a face bends
// little within a few cells, and each look takes as long as a cell to draw.
const nodes = 1200

// lit is a face's light on a coarse net over the ground.
type lit struct {
	step  int // half cells between the net's lines
	w     int // nodes a row
	light []float32
}

// relief looks at a face's heights over the rectangle of a mask and returns how
// it is lit. height gives the height towards the eye.
func (g *ground) relief(m *mask, height func(p geometry.Vec2) float64) *lit {
	area := (m.x1 - m.x0) * (m.y1 - m.y0)
	n := &lit{step: max(2, int(math.Ceil(math.Sqrt(float64(area)/nodes))))}
	n.w = (m.x1-m.x0)/n.step + 4
	rows := (m.y1-m.y0)/n.step + 4
	z := make([]float64, n.w*rows)
	for j := range rows {
		for i := range n.w {
			z[j*n.w+i] = height(g.middle(m.x0+(i-1)*n.step, m.y0+(j-1)*n.step))
		}
	}
	n.light = make([]float32, len(z))
	across := 2 * float64(n.step) * g.size()
	// Rough faces are shallow: their slopes are drawn steeper than they are.
	steeper := relieved / across
	for j := 1; j+1 < rows; j++ {
		for i := 1; i+1 < n.w; i++ {
			k := j*n.w + i
			n.light[k] = float32(lambert((z[k+1]-z[k-1])*steeper, (z[k-n.w]-z[k+n.w])*steeper))
		}
	}
	return n
}

// relieved is how many times as steep as it is a rough face is drawn.
const relieved = 2.0

// at returns the light in a half cell of the mask m the net was laid over.
func (n *lit) at(m *mask, x, y int) float32 {
	fx, fy := float32(x-m.x0)/float32(n.step), float32(y-m.y0)/float32(n.step)
	i, j := int(fx), int(fy)
	fx, fy = fx-float32(i), fy-float32(j)
	k := (j+1)*n.w + i + 1
	a, b := n.light[k], n.light[k+1]
	c, d := n.light[k+n.w], n.light[k+n.w+1]
	return (a+(b-a)*fx)*(1-fy) + (c+(d-c)*fx)*fy
}

// rim is an edge that is drawn rounded off: the steps, in half cells, from a
// place to the light at which it is looked at.
type rim [3][2]int

// rounded returns the rim over so many half cells.
func rounded(wide float64) rim {
	var r rim
	for i, part := range [len(r)]float64{0.35, 0.7, 1} {
		r[i] = [2]int{int(math.Round(-0.64 * part * wide)), int(math.Round(-0.77 * part * wide))}
	}
	return r
}

// at returns how much more light a half cell near the edge of a mask has: more
// where the edge turns to the light, less on the far side, 0 further in.
func (r rim) at(m *mask, x, y int) float32 {
	var sum float32
	for _, d := range r {
		sum += m.at(x-d[0], y-d[1]) - m.at(x+d[0], y+d[1])
	}
	return sum / float32(len(r))
}
