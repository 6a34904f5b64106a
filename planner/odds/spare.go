package odds

import (
	"cmp"
	"context"
	"math"
	"slices"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/search"
)

// How a place with more spare is looked for: from so many poses at random over the rough,
// of which the best so many are climbed from, exactly.
const (
	spareStarts = 400
	spareClimbs = 6
)

// MostSpare looks for the place of one solid that keeps most beyond its allowances: from
// where the fit lies and from all over the rough, with a fixed seed. tilt is the largest
// allowed, degrees. The fit comes back as it was where no place is better. The error is
// planner.NewRough's.
func MostSpare(ctx context.Context, s planner.Stone, f search.Fit, tilt float64) (search.Fit, error) {
	rough, err := planner.NewRough(s)
	if err != nil {
		return f, err
	}
	site, err := search.Open(s)
	if err != nil {
		return f, err
	}
	c := newStepper(f, tilt)
	screen := search.NewScreen(f.Candidate)
	type start struct {
		pose search.Pose
		room float64
	}
	starts := []start{{f.Pose, math.Inf(1)}}
	for range spareStarts {
		if ctx.Err() != nil {
			return f, nil
		}
		at := c.anywhere(rough, f.Pose)
		screen.Lay(at)
		starts = append(starts, start{at, screen.About(site, math.Inf(-1))})
	}
	slices.SortStableFunc(starts, func(a, b start) int { return cmp.Compare(b.room, a.room) })
	best, most := f.Pose, site.Clearance(f.Solid, f.Pose).Clearance
	for _, s := range starts[:spareClimbs] {
		if ctx.Err() != nil {
			return f, nil
		}
		if at, kept := site.Improve(f.Candidate, s.pose, tilt); kept > most {
			best, most = at, kept
		}
	}
	if best == f.Pose {
		return f, nil
	}
	kept := site.Clearance(f.Solid, best)
	f.Pose, f.Clearance, f.LimitedBy, f.Proved = best, kept.Clearance, kept.LimitedBy, false
	f.Colour = search.ColourShare(rough, s, f.Candidate, f.Pose)
	return f, nil
}

// anywhere returns a pose somewhere in the rough, with a tilt of the given one about.
func (c *stepper) anywhere(r *planner.Rough, like search.Pose) search.Pose {
	lo, hi := geometry.Bounds(r.Outline)
	x, y := lo.X+(hi.X-lo.X)*c.rng.Float64(), lo.Y+(hi.Y-lo.Y)*c.rng.Float64()
	low, high := r.Base(x, y), r.Top(x, y)
	like.Axes = geometry.RotZ(2 * math.Pi * c.rng.Float64()).Mul(like.Axes)
	lo, hi = c.solid.Outline.Extent()
	middle := like.Axes.Apply(geometry.Vec3{X: (lo.X + hi.X) / 2, Y: (lo.Y + hi.Y) / 2, Z: c.solid.CentreOfHeight()})
	free := math.Max(0, high-low-c.solid.Height())
	z := (low+high)/2 + free*(c.rng.Float64()-0.5)
	like.Origin = geometry.Vec3{X: x, Y: y, Z: z}.Sub(middle)
	return like
}
