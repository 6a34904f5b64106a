package sheet

import (
	"fmt"
	"math"
	"strconv"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/cuts"
)

// viewMargin is the room around the rough for corner numbers and ends of cuts.
const viewMargin = 9.0

// view draws the rough as it lies, seen from above, or turned over on its long
// side and seen from the base: x then runs the other way.
type view struct {
	c     *Content
	face  planner.Face
	zoom  float64 // 1: true scale
	brief bool    // marks are named without their depths, which an enlarged view tells

	out   []item
	names []item          // of cracks and pockets, over everything else
	taken []geometry.Vec2 // places of corner numbers and cut numbers
}

func (c *Content) view(face planner.Face) block {
	v := &view{c: c, face: face, zoom: 1, brief: c.enlargement() > 1}
	title := "Rough from the top"
	if face == planner.Base {
		title = "Rough from the base, turned over left to right"
	}
	return v.block(title)
}

// The enlarged view: how wide it may be with what stands around the rough, and by how
// much a rough is enlarged at least to make it worth the paper, and at most.
const (
	enlargedWidth  = 180.0
	enlargedHeight = 130.0
	leastEnlarged  = 1.5
	mostEnlarged   = 4.0
)

// enlargement is how much larger the rough is drawn to be read, in halves; 1 where it
// is large enough as it is.
func (c *Content) enlargement() float64 {
	low, high := geometry.Bounds(c.Body.Stone.Outline)
	size := high.Sub(low)
	zoom := math.Min((enlargedWidth-2*viewMargin)/size.X, (enlargedHeight-2*viewMargin)/size.Y)
	if zoom = math.Floor(2*math.Min(zoom, mostEnlarged)) / 2; zoom < leastEnlarged {
		return 1
	}
	return zoom
}

// enlarged is the rough from the top, drawn larger than it is, for reading the names and
// numbers that stand close at true scale.
func (c *Content) enlarged() block {
	v := &view{c: c, face: planner.Top, zoom: c.enlargement()}
	return v.block(fmt.Sprintf("Rough from the top, enlarged %g times: to be read, not measured", v.zoom))
}

func (v *view) block(title string) block {
	v.offcuts()
	v.zones()
	v.pockets()
	v.cracks()
	v.stones()
	v.rim()
	v.cuts()
	v.add(v.names...)
	low, high := v.bounds()
	return drawn(title, low.Sub(at(viewMargin, viewMargin)), high.Add(at(viewMargin, viewMargin)), v.out)
}

// on mirrors a place when the rough is seen from the base, and enlarges it.
func (v *view) on(p geometry.Vec2) geometry.Vec2 {
	p = p.Scale(v.zoom)
	if v.face == planner.Base {
		p.X = -p.X
	}
	return p
}

func (v *view) all(points []geometry.Vec2) []geometry.Vec2 {
	out := make([]geometry.Vec2, len(points))
	for i, p := range points {
		out[i] = v.on(p)
	}
	return out
}

func (v *view) add(items ...item) { v.out = append(v.out, items...) }

func (v *view) bounds() (low, high geometry.Vec2) {
	return geometry.Bounds(v.all(v.c.Body.Stone.Outline))
}

// seen is the pen for a mark on a face: paler when that is the other one.
func (v *view) seen(p pen, face planner.Face) pen {
	if face != v.face && (face == planner.Top || face == planner.Base) {
		return p.far()
	}
	return p
}

// rim draws the outline and numbers its corners.
func (v *view) rim() {
	outline := v.all(v.c.Body.Stone.Outline)
	v.add(polygon(outline, rimPen))
	n := len(outline)
	if n > 60 {
		return // numbers would hide one another
	}
	turn := 1.0
	if geometry.Area(outline) < 0 {
		turn = -1
	}
	for i, p := range outline {
		before, after := unit(p.Sub(outline[(i+n-1)%n])), unit(outline[(i+1)%n].Sub(p))
		out := unit(at(before.Y+after.Y, -before.X-after.X).Scale(turn))
		v.add(path{points: disc(p, 0.45, 16), closed: true, fill: 0})
		v.taken = append(v.taken, p.Add(out.Scale(3)))
		v.add(text{at: p.Add(out.Scale(3)).Add(at(0, -0.9)), size: 2.6, align: centre, string: strconv.Itoa(i + 1)})
	}
}

func unit(p geometry.Vec2) geometry.Vec2 {
	if p.Norm() == 0 {
		return p
	}
	return p.Scale(1 / p.Norm())
}

// zones draws the colour of the face that is looked at.
func (v *view) zones() {
	for _, z := range v.c.Body.Stone.Colour {
		if z.Face == v.face {
			outline := v.all(z.Outline)
			v.add(polygon(outline, colourPen))
			v.add(label(lowest(outline), 2.2, v.markName(z.ID, fmt.Sprintf(" %g/5", z.Grade)), false)...)
		}
	}
}

func lowest(points []geometry.Vec2) geometry.Vec2 {
	out := points[0]
	for _, p := range points {
		if p.Y < out.Y {
			out = p
		}
	}
	return out
}

func (v *view) pockets() {
	for _, p := range v.c.Body.Stone.Pockets {
		outline := v.all(p.Outline)
		ground := polygon(outline, pen{})
		ground.fill = 1
		v.add(ground)
		v.add(hatch(outline, 1, v.seen(hatchPen, p.Face))...)
		v.add(polygon(outline, v.seen(pocketPen, p.Face)))
		depth := ""
		switch p.Face {
		case planner.Top, planner.Base:
			depth = fmt.Sprintf(" %.1f", p.Depth)
		case planner.Inside:
			depth = fmt.Sprintf(" %.1f-%.1f", p.Low, p.High)
		}
		v.names = append(v.names, label(middle(outline), 2.4, v.markName(p.ID, depth), true)...)
	}
}

// markName is a mark's name with its depth, where there is room for that.
func (v *view) markName(id, depth string) string {
	if v.brief {
		depth = ""
	}
	return planner.Visible(id) + depth
}

func middle(points []geometry.Vec2) geometry.Vec2 {
	low, high := geometry.Bounds(points)
	return low.Add(high).Scale(0.5)
}

// cracks draws each crack's line, where it is likely to run on, and how far it
// comes under the face where it leans.
func (v *view) cracks() {
	for _, k := range v.c.Body.Stone.Cracks {
		if len(k.Path) < 2 {
			continue
		}
		p := crackPen
		if k.Sealed {
			p = sealedPen
		}
		whole := v.all(planner.RunOn(k.Path, k.RunOn))
		if k.RunOn > 0 && len(whole) > len(k.Path) {
			v.add(lines(whole[:2], v.seen(runOnPen, k.Face)), lines(whole[len(whole)-2:], v.seen(runOnPen, k.Face)))
		}
		v.add(lines(v.all(k.Path), v.seen(p, k.Face)))
		if k.Lean > 0.5 && !k.Through {
			s, c := math.Sincos(k.Toward * math.Pi / 180)
			by := at(c, s).Scale(k.Depth * math.Tan(k.Lean*math.Pi/180))
			deep := make([]geometry.Vec2, len(k.Path))
			for i, q := range k.Path {
				deep[i] = v.on(q.Add(by))
			}
			v.add(lines(deep, v.seen(depthPen, k.Face)))
		}
		depth := " through"
		if !k.Through {
			depth = fmt.Sprintf(" %.1f", k.Depth)
		}
		name := v.outward(k.Path)
		v.taken = append(v.taken, name)
		v.names = append(v.names, label(name, 2.2, v.markName(k.ID, depth), true)...)
	}
}

// stones draws the finished stones with their centre lines.
func (v *view) stones() {
	for i, f := range v.c.Layout.Fits {
		place := func(p geometry.Vec2) geometry.Vec2 {
			return v.on(f.Pose.Place(geometry.Vec3{X: p.X, Y: p.Y}).XY())
		}
		var rim []geometry.Vec2
		for _, p := range f.Solid.Outline.Points(180) {
			rim = append(rim, place(p))
		}
		v.add(polygon(rim, stonePen))
		low, high := f.Solid.Outline.Extent()
		over := 2 / v.zoom
		v.add(line(place(at(low.X-over, 0)), place(at(high.X+over, 0)), centrePen))
		v.add(line(place(at(0, low.Y-over)), place(at(0, high.Y+over)), centrePen))
		name := place(at((low.X+high.X)/2, (low.Y+high.Y)/2)).Add(at(0, -v.zoom*f.Solid.Outline.Width/5))
		if full := v.c.stoneName(i); widthOf(full, 2.8, true) < 0.7*v.zoom*f.Solid.Outline.Width {
			v.add(label(name, 2.8, full, true)...)
		} else if len(v.c.Layout.Fits) > 1 {
			v.add(label(name, 2.8, letter(i), true)...)
		}
	}
}

// offcuts puts a grey ground under the pieces that have no stone; a leaning cut
// is taken as it lies at half the height.
func (v *view) offcuts() {
	for _, p := range v.c.Layout.Pieces {
		if p.Stone || p.Name == "" {
			continue
		}
		area := v.c.Body.Stone.Outline
		for k := range p.Name {
			for _, s := range v.c.Layout.Steps {
				if s.Piece == p.Name[:k] {
					area = clipped(area, s, p.Name[k] == '+', v.height(s))
				}
			}
		}
		if len(area) > 2 {
			v.add(path{points: v.all(area), closed: true, fill: offcutGrey})
		}
	}
}

// height is that at which a cut is drawn: of the girdle of the stone nearest to
// it, as its marks are.
func (v *view) height(s cuts.Step) float64 {
	height, least := s.Point.Z, math.Inf(1)
	for _, f := range v.c.Layout.Fits {
		if d := math.Abs(s.Height(f.Pose.Origin)); d < least {
			height, least = f.Pose.Origin.Z, d
		}
	}
	return height
}

// clipped is the part of an area on one side of a cut.
func clipped(area []geometry.Vec2, s cuts.Step, plus bool, height float64) []geometry.Vec2 {
	over := func(p geometry.Vec2) float64 {
		h := s.Height(geometry.Vec3{X: p.X, Y: p.Y, Z: height})
		if !plus {
			h = -h
		}
		return h
	}
	var out []geometry.Vec2
	for i, p := range area {
		q := area[(i+1)%len(area)]
		from, to := over(p), over(q)
		if from >= 0 {
			out = append(out, p)
		}
		if (from >= 0) != (to >= 0) {
			out = append(out, p.Add(q.Sub(p).Scale(from/(from-to))))
		}
	}
	return out
}

// cuts draws each cut's kerf as wide as it is, and its number.
func (v *view) cuts() {
	for i, s := range v.c.Layout.Steps {
		trace := at(-s.Normal.Y, s.Normal.X)
		if trace.Norm() < 0.2 {
			continue // it runs level: the sections show it
		}
		flat := at(s.Normal.X, s.Normal.Y)
		scale := 1 / flat.Dot(flat)
		z := v.height(s)
		foot := s.Point.XY().Add(flat.Scale(-s.Normal.Z * (z - s.Point.Z) * scale))
		trace = unit(trace)
		from, to := v.ends(s, foot, trace)
		over := 3 / v.zoom
		half := flat.Scale(s.Kerf / 2 * scale)
		for _, side := range []geometry.Vec2{half, half.Scale(-1)} {
			v.add(line(v.on(foot.Add(trace.Scale(from-over)).Add(side)), v.on(foot.Add(trace.Scale(to+over)).Add(side)), cutPen))
		}
		number := v.on(foot.Add(trace.Scale(to + over + 2/v.zoom)))
		for _, beyond := range []float64{over + 2/v.zoom, over + 6/v.zoom} {
			for _, end := range []float64{to + beyond, from - beyond} {
				const apart = 4.5 // so that the rings do not touch
				if p := v.on(foot.Add(trace.Scale(end))); v.roomAt(number) < apart && v.roomAt(p) > v.roomAt(number) {
					number = p
				}
			}
		}
		v.taken = append(v.taken, number)
		v.add(circled(number, strconv.Itoa(i+1))...)
	}
}

// roomAt is how far a place lies from the numbers that stand already.
func (v *view) roomAt(p geometry.Vec2) float64 {
	least := math.Inf(1)
	for _, q := range v.taken {
		least = math.Min(least, q.Sub(p).Norm())
	}
	return least
}

// outward is the place for a crack's name: beyond the end of its line that lies
// further out, so that it hides nothing of the stone.
func (v *view) outward(path []geometry.Vec2) geometry.Vec2 {
	low, high := v.bounds()
	centre := low.Add(high).Scale(0.5)
	end := v.on(path[0])
	if other := v.on(path[len(path)-1]); other.Sub(centre).Norm() > end.Sub(centre).Norm() {
		end = other
	}
	return end.Add(unit(end.Sub(centre)).Scale(2.2))
}

// ends returns between which places along its trace a cut is drawn: between its
// marks, or right across the rough.
func (v *view) ends(s cuts.Step, foot, trace geometry.Vec2) (from, to float64) {
	from, to = math.Inf(1), math.Inf(-1)
	points := v.c.Body.Stone.Outline
	if len(s.Marks) == 2 {
		points = []geometry.Vec2{s.Marks[0].At, s.Marks[1].At}
	}
	for _, p := range points {
		along := p.Sub(foot).Dot(trace)
		from, to = math.Min(from, along), math.Max(to, along)
	}
	return from, to
}
