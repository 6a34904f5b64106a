package freeform

import (
	"math"

	"cabwright/geometry"
	"cabwright/geometry/outline"
	"cabwright/planner/search/internal/bounds"
	"cabwright/planner/search/internal/certify"
	"cabwright/planner/search/internal/poses"
)

// The rays ask only some points of the section, so that between them the exact shapes may
// find a little too near. There the outline is drawn in, over so much to either side, by so
// many times what is lacking and a little more, mm; so often that all of it can be drawn in
// by what a stone has to spare of it.
const (
	drawnBeside = 25 * math.Pi / 180
	drawnTimes  = 1.3
	drawnMore   = 0.005
	mostDrawn   = 40
)

// Finish turns a spot into a solid whose outline is drawn in, where need be, until the
// exact check accepts it; nil if none is.
func (ff *Shaper) Finish(at Spot) *Shaped {
	ff.Detail = finalDetail
	pose, width := ff.on(at.At), at.Width
	radii := ff.reachOf(pose, width, ff.Detail.rays)
	for n := range mostDrawn {
		poly, _ := ff.outlineOf(radii, width)
		if poly == nil || ff.Ctx.Err() != nil {
			return nil
		}
		// The length axis is square to the narrow way.
		way := geometry.NarrowWay(poly)
		turned := make([]geometry.Vec2, len(poly))
		for i, p := range poly {
			turned[i] = geometry.Vec2{X: p.X*way.Y - p.Y*way.X, Y: way.Dot(p)}
		}
		placed := pose
		placed.Axes.U = pose.Axes.U.Scale(way.Y).Sub(pose.Axes.V.Scale(way.X))
		placed.Axes.V = pose.Axes.U.Scale(way.X).Add(pose.Axes.V.Scale(way.Y))
		s := ff.Over(turned, placed)
		if s == nil || s.Fits {
			return s
		}
		worst := geometry.Vec2{X: s.worst.X*way.Y + s.worst.Y*way.X, Y: s.worst.Y*way.Y - s.worst.X*way.X}
		rho := s.Solid.Outline.Gauge(s.worst.X, s.worst.Y)
		by := (drawnTimes*s.lacks + drawnMore) * (1 + float64(n)/8)
		if rho < leastRho {
			// What is over or under the middle is lower or higher on a narrower stone.
			width = math.Min(width, s.Solid.Outline.Width) - by/ff.Style.HeightByWidth
			continue
		}
		drawIn(radii, worst, by/rho)
	}
	return nil
}

// leastRho is the gauge below which a point is nearer the middle than the outline.
const leastRho = 0.3

// drawIn takes a length, mm, from the radii in a direction, and less and less beside it.
func drawIn(radii []float64, towards geometry.Vec2, by float64) {
	middle := math.Atan2(towards.Y, towards.X)
	for i := range radii {
		off := math.Abs(math.Remainder(2*math.Pi*float64(i)/float64(len(radii))-middle, 2*math.Pi))
		if off < drawnBeside {
			radii[i] -= by * (1 + math.Cos(math.Pi*off/drawnBeside)) / 2
		}
	}
}

// Over makes the solid over an outline and certifies it at the pose; nil without an
// outline.
func (ff *Shaper) Over(poly []geometry.Vec2, pose poses.Pose) *Shaped {
	// The hull takes away what rounding of numbers bends inwards.
	o, err := outline.Freeform(geometry.ConvexHull(poly))
	if err != nil {
		return nil
	}
	c := ff.Body(o.Width)
	c.Outline = o
	s := &Shaped{Solid: c, Model: poses.NewModel(c, ff.Flip)}
	s.At = s.Model.CoordOf(pose)
	p := bounds.NewProber(ff.Field, s.Model, 0)
	s.Value = p.Value(s.At, 0)
	exact := p.Certify(s.At, math.Inf(1), certify.Resolution)
	if exact.Lower >= certify.LeastClearance {
		s.Fits, s.Lower = true, exact.Lower
	}
	s.worst, s.lacks = exact.Worst, math.Max(0, -exact.Least)
	return s
}
