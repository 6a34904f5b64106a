package drawing

import (
	"math"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/ui/canvas"
)

// cracks draws where the cracks' sheets meet the cut: full where the ground is
// painted and dashed where it is not, their run-on dotted, and full, dashed and
// dotted to the least, likely and most depth of one that is not sure.
func (x *slicer) cracks() {
	for _, k := range x.scene.Stone.Cracks {
		sure := crackStroke(k)
		if x.scene.painted(x.c) {
			sure = canvas.Solid
		}
		class := x.scene.class(k.ID, crackClass(k))
		path := extended(k)
		_, _, ran := runOns(k)
		named := false
		for _, part := range stages(x.rough, k, sure) {
			for i := 1; i < len(path); i++ {
				pen := canvas.Pen{Class: class, Stroke: part.stroke}
				switch {
				case ran && (i == 1 || i == len(path)-1):
					pen = canvas.Pen{Class: x.scene.class(k.ID, canvas.RunOn), Stroke: canvas.Dotted}
				case doubtful(k.Chance):
					pen.Stroke = canvas.Dotted
				}
				for _, line := range x.meets(k, path[i-1], path[i], part.from, part.to) {
					x.c.Polyline(line, false, pen)
					named = x.nameCrack(k, line, named)
				}
			}
		}
	}
}

// nameCrack writes a crack's name at a line of it, unless it is named already.
func (x *slicer) nameCrack(k planner.Crack, line []geometry.Vec2, named bool) bool {
	if x.scene.Names && !named {
		near := []geometry.Vec2{line[0], line[len(line)-1], line[len(line)/2]}
		x.add(x.scene.name(k.ID, crackClass(k), markMatters, near, false))
		return true
	}
	return named
}

// meets returns where the sheet below one straight piece p to q of a crack's
// path meets the cut, inside the rough, from one depth to another.
//
// At the share a of the way from p to q and s mm in, the sheet lies
//
//	f(a, s) = f(0, 0) + a (f(1, 0) - f(0, 0)) + s (lean to the left)
//
// to the left of the cut, so that in the rectangle 0 <= a <= 1, from <= s <= to
// it meets the cut along one straight line, f = 0.
func (x *slicer) meets(k planner.Crack, p, q geometry.Vec2, from, to float64) [][]geometry.Vec2 {
	move, _ := lean(k)
	_, fp := x.cut.Of(p)
	_, fq := x.cut.Of(q)
	side := x.cut.direction().Cross(move)
	corners := [4][3]float64{ // a, s and f at the corners, in a round
		{0, from, fp + from*side}, {1, from, fq + from*side}, {1, to, fq + to*side}, {0, to, fp + to*side},
	}
	var ends [][2]float64
	flat := true
	for i, c := range corners {
		d := corners[(i+1)%4]
		// A sheet nowhere further from the cut than a hundredth of a
		// millimetre lies in it: the measure of a good caliper.
		flat = flat && math.Abs(c[2]) < 0.01
		if (c[2] > 0) != (d[2] > 0) {
			t := c[2] / (c[2] - d[2])
			ends = append(ends, [2]float64{c[0] + t*(d[0]-c[0]), c[1] + t*(d[1]-c[1])})
		}
	}
	if flat {
		var out [][]geometry.Vec2
		for i := range corners {
			a, b := corners[i], corners[(i+1)%4]
			out = append(out, x.trace(k, p, q, [2]float64{a[0], a[1]}, [2]float64{b[0], b[1]})...)
		}
		return out
	}
	if len(ends) != 2 {
		return nil
	}
	if ends[1][1] < ends[0][1] {
		ends[0], ends[1] = ends[1], ends[0]
	}
	return x.trace(k, p, q, ends[0], ends[1])
}

// trace follows the sheet below p to q from one place on it, given as share of
// the way and depth, to another, and returns the parts inside the rough.
func (x *slicer) trace(k planner.Crack, p, q geometry.Vec2, from, to [2]float64) [][]geometry.Vec2 {
	const parts = 40 // some 0.2 mm each on a sheet as deep as a stone
	var out [][]geometry.Vec2
	var line []geometry.Vec2
	for i := 0; i <= parts; i++ {
		g := float64(i) / parts
		a, s := from[0]+g*(to[0]-from[0]), from[1]+g*(to[1]-from[1])
		at := sheet(x.rough, k, p.Add(q.Sub(p).Scale(a)), s)
		t, _ := x.cut.Of(at.XY())
		if x.holds(t, at.Z) {
			line = append(line, geometry.Vec2{X: t, Y: at.Z})
			continue
		}
		if len(line) > 1 {
			out = append(out, line)
		}
		line = nil
	}
	if len(line) > 1 {
		out = append(out, line)
	}
	return out
}

// holds reports whether the rough is solid t mm from A at height z. The sheet
// starts on the face itself, so a rounding must not lose its first point.
func (x *slicer) holds(t, z float64) bool {
	const slack = 1e-6 // mm, far above any rounding and far below a dot
	for _, s := range x.spans {
		if t >= s.from && t <= s.to {
			low, high := x.heights(t)
			return z >= low-slack && z <= high+slack
		}
	}
	return false
}
