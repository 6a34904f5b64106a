package drawing

import (
	"math"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/search"
)

// Touch is where a fit comes nearest to the outside of the rough.
type Touch struct {
	At    geometry.Vec3
	Gap   float64 // mm, to first order in the surfaces' slopes: for showing, not for deciding
	Where string  // "outline", "top" or "base"; "" when there is no fit
}

// Nearest looks for the place on a fit that is nearest to the rough's skin,
// among points of its girdle, wall, dome and back.
func Nearest(r *planner.Rough, stone planner.Stone, f *search.Fit) Touch {
	best := Touch{Gap: math.Inf(1)}
	if r == nil || !drawable(f) {
		return Touch{}
	}
	consider := func(p geometry.Vec3) {
		for i, a := range stone.Outline {
			b := stone.Outline[(i+1)%len(stone.Outline)]
			if d := geometry.ToSegment(p.XY(), a, b); d < best.Gap {
				best = Touch{p, d, "outline"}
			}
		}
		if d := underTop(r, p); d < best.Gap {
			best = Touch{p, d, "top"}
		}
		if d := overBase(r, p); d < best.Gap {
			best = Touch{p, d, "base"}
		}
	}
	rim := f.Solid.RimRatio()
	edge := f.Solid.Outline.Points(directions / 4) // every 12 degrees: a mark is a cell wide
	for _, rho := range []float64{1, rim, 0.8 * rim, 0.5 * rim, 0.2 * rim} {
		for _, w := range []float64{f.Solid.Upper(rho), f.Solid.Lower(rho)} {
			for _, p := range edge {
				consider(f.Pose.Place(geometry.Vec3{X: rho * p.X, Y: rho * p.Y, Z: w}))
			}
		}
	}
	consider(f.Pose.Place(geometry.Vec3{Z: f.Solid.Upper(0)}))
	consider(f.Pose.Place(geometry.Vec3{Z: f.Solid.Lower(0)}))
	return best
}

// LastNearest remembers what Nearest found last: a fit that lies still is looked at
// once, not in every frame and for every part of it.
type LastNearest struct {
	of    nearestOf
	touch Touch
}

// nearestOf is what an answer of Nearest hangs on. Slices of a stone are replaced,
// never changed, so that their first elements tell them apart.
type nearestOf struct {
	rough                           *planner.Rough
	outline                         *geometry.Vec2
	pose                            search.Pose
	shape                           string
	length, width, dome, back, wall float64
	volume                          float64
}

// Of is Nearest. It may be nil, and then remembers nothing.
func (n *LastNearest) Of(r *planner.Rough, stone planner.Stone, f *search.Fit) Touch {
	if n == nil || r == nil || f == nil || len(stone.Outline) == 0 {
		return Nearest(r, stone, f)
	}
	o := f.Solid.Outline
	now := nearestOf{
		rough: r, outline: &stone.Outline[0], pose: f.Pose, shape: o.Shape, length: o.Length, width: o.Width,
		dome: f.Solid.Dome, back: f.Solid.Back, wall: f.Solid.Wall, volume: f.Volume,
	}
	if n.of != now {
		n.of, n.touch = now, Nearest(r, stone, f)
	}
	return n.touch
}

// underTop returns about how far a point keeps from the top, negative outside.
func underTop(r *planner.Rough, p geometry.Vec3) float64 {
	return math.Min(steep(r.TopSheet, p, 1), r.TopLevel-p.Z)
}

// overBase returns about how far a point keeps from the base, negative outside.
func overBase(r *planner.Rough, p geometry.Vec3) float64 {
	return math.Min(steep(r.BaseSheet, p, -1), p.Z-r.BaseLevel)
}

// steep returns the distance from p to a surface, positive on the side that
// sign says, taking the surface as level in its own slope: |dz| / sqrt(1 + slope^2).
func steep(sheet *geometry.ThinPlate, p geometry.Vec3, sign float64) float64 {
	z, zx, zy := sheet.Slope(p.X, p.Y)
	return sign * (z - p.Z) / math.Sqrt(1+zx*zx+zy*zy)
}
