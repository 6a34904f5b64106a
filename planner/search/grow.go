package search

import (
	"context"
	"math"
	"slices"

	"cabwright/planner"
	"cabwright/planner/search/internal/freeform"
	"cabwright/planner/search/internal/poses"
	"cabwright/presets"
)

// Freeform looks for the heaviest freeform near a place of the site, between its saw cuts
// as well: the pose's origin is where the outline's centre begins, c says the face, the
// back, the dome style and, by its outline's width, about how wide it will be. It returns
// what the exact shapes hold, weighed nowhere; false when nothing is found. As every
// freeform it is not proved to be the largest.
func (s *Site) Freeform(
	ctx context.Context, set *presets.Set, c Candidate, pose Pose, tiltMaxDeg float64,
) (Candidate, Pose, bool) {
	back := slices.IndexFunc(set.BackStyles, func(b presets.BackStyle) bool { return b.Key == c.BackStyle })
	style := slices.IndexFunc(set.DomeStyles, func(d presets.DomeStyle) bool { return d.Key == c.DomeStyle })
	if back < 0 || style < 0 {
		return c, pose, false
	}
	wall, _ := set.Wall(set.Defaults.Wall)
	s.ready()
	ff := &freeform.Shaper{
		Ctx: ctx, Field: s.field, Flip: c.Face == planner.Base, Radius: FreeformRadius,
		Back: set.BackStyles[back], Style: set.DomeStyles[style], Wall: wall, Detail: freeform.RoughDetail,
	}
	girdle := poses.Model{Flip: ff.Flip}
	from := freeform.Spot{At: girdle.CoordOf(pose), Width: c.Solid.Outline.Width}
	var best *freeform.Shaped
	for _, spot := range ff.Improve(from, tiltMaxDeg*math.Pi/180) {
		shaped := ff.Finish(spot)
		if shaped != nil && shaped.Fits && (best == nil || shaped.Solid.Volume() > best.Solid.Volume()) {
			best = shaped
		}
	}
	if best == nil {
		return c, pose, false
	}
	c.Solid = best.Solid
	return c, best.Model.Pose(best.At), true
}
