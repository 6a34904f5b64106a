package sheet

import (
	"fmt"
	"math"

	"cabwright/geometry"
	"cabwright/geometry/outline"
	"cabwright/planner/cuts"
	"cabwright/presets"
)

// sizeOf is "oval 14x10".
func sizeOf(o outline.Outline) string {
	if math.Abs(o.Length-o.Width) < 1e-9 {
		return fmt.Sprintf("%s %s", o.Shape, short(o.Length))
	}
	return fmt.Sprintf("%s %sx%s", o.Shape, short(o.Length), short(o.Width))
}

// short is a length to a tenth, without one that is nothing.
func short(v float64) string { return fmt.Sprintf("%g", math.Round(v*10)/10) }

// templates are the outlines to cut out: the finished stone's, and the
// preform's, to which the first wheel grinds.
func (c *Content) templates(f cuts.Placed, name string) []block {
	finished := f.Solid.Outline.Points(360)
	out := []block{template("Finished "+name, finished, f.Solid.Outline)}
	if w, ok := preformWheel(c.Set.Wheels); ok {
		title := fmt.Sprintf("Preform of %s, %s mm more all round: to the %s", name, short(w.Left), w.Name)
		out = append(out, template(title, grown(finished, w.Left), f.Solid.Outline))
	}
	return out
}

// preformWheel is the first wheel after the saw.
func preformWheel(wheels []presets.Wheel) (presets.Wheel, bool) {
	if len(wheels) < 2 {
		return presets.Wheel{}, false
	}
	return wheels[1], true
}

func template(title string, points []geometry.Vec2, o outline.Outline) block {
	low, high := geometry.Bounds(points)
	const over = 4
	items := []item{
		polygon(points, templatPen),
		line(at(low.X-over, 0), at(high.X+over, 0), centrePen),
	}
	if o.Shape == "pear" {
		middle := (low.X + high.X) / 2
		items = append(items, line(at(middle, low.Y-over), at(middle, high.Y+over), thinPen))
	}
	items = append(items, line(at(0, low.Y-over), at(0, high.Y+over), centrePen))
	size := fmt.Sprintf("%.1f x %.1f mm", high.X-low.X, high.Y-low.Y)
	width := math.Max(high.X-low.X+2*over, widthOf(size, 2.6, false))
	items = append(items, text{at: at((low.X+high.X)/2, low.Y-over-3.5), size: 2.6, align: centre, string: size})
	middle := (low.X + high.X) / 2
	return drawn(title, at(middle-width/2, low.Y-over-5), at(middle+width/2, high.Y+over), items)
}

// grown returns the outline a distance outside of a counter-clockwise one: each
// side moved out and round arcs at the corners, less what comes too near to
// another part of the outline, as in the cleft of a heart.
func grown(points []geometry.Vec2, by float64) []geometry.Vec2 {
	var out []geometry.Vec2
	n := len(points)
	for i, p := range points {
		before, after := unit(p.Sub(points[(i+n-1)%n])), unit(points[(i+1)%n].Sub(p))
		from, to := math.Atan2(-before.X, before.Y), math.Atan2(-after.X, after.Y)
		turn := math.Remainder(to-from, 2*math.Pi)
		parts := math.Max(1, math.Ceil(math.Abs(turn)/(math.Pi/36)))
		for k := 0.0; k <= parts; k++ {
			s, c := math.Sincos(from + turn*k/parts)
			q := p.Add(at(c, s).Scale(by))
			if clearOf(points, q) > by-1e-3*by-1e-6 {
				out = append(out, q)
			}
		}
	}
	return out
}

func clearOf(points []geometry.Vec2, q geometry.Vec2) float64 {
	least := math.Inf(1)
	for i, p := range points {
		least = math.Min(least, geometry.ToSegment(q, p, points[(i+1)%len(points)]))
	}
	return least
}
