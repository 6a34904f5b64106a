package odds

import (
	"context"
	"math"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/search"
)

// colourSteps is how many random steps are tried from each start for colour: one costs
// about a tenth of one on the odds.
const colourSteps = 400

// MostColour looks for the place of one solid that has most colour under its dome while
// it keeps spare mm more than every allowance. It starts where the fit lies and over
// each zone of colour of its face, and goes on in random local steps with a fixed seed.
// tilt is the largest allowed, degrees. It reports false when no start keeps the spare.
// The error is planner.NewRough's.
func MostColour(ctx context.Context, s planner.Stone, f search.Fit, spare, tilt float64) (search.Fit, bool, error) {
	rough, err := planner.NewRough(s)
	if err != nil {
		return f, false, err
	}
	wide := s
	wide.Allowances.Skin += spare
	wide.Allowances.Crack += spare
	wide.Allowances.SealedCrack += spare
	wide.Allowances.Pocket += spare
	site, err := search.Open(wide)
	if err != nil {
		return f, false, err
	}
	c := newStepper(f, tilt)
	share := func(p search.Pose) float64 { return search.ColourShare(rough, s, f.Candidate, p) }
	best, most := f.Pose, -1.0
	for _, at := range overColour(s, f) {
		if !site.Keeps(f.Solid, at) {
			var kept float64
			if at, kept = site.Improve(f.Candidate, at, tilt); kept < 0 {
				continue
			}
		}
		colour := share(at)
		for n := range colourSteps {
			if ctx.Err() != nil {
				break
			}
			size := broadStep * math.Pow(fineStep/broadStep, float64(n)/colourSteps)
			next := c.moved(at, size)
			if v := share(next); v > colour && site.Keeps(f.Solid, next) {
				at, colour = next, v
			}
		}
		if colour > most {
			best, most = at, colour
		}
	}
	if most < 0 {
		return f, false, nil
	}
	own, err := search.Open(s)
	if err != nil {
		return f, false, err
	}
	kept := own.Clearance(f.Solid, best)
	f.Pose, f.LimitedBy, f.Proved, f.Colour = best, kept.LimitedBy, false, most
	f.Clearance = kept.Clearance
	return f, true, nil
}

// overColour are the pose of a fit and those with its middle over the middle of each
// zone of its face.
func overColour(s planner.Stone, f search.Fit) []search.Pose {
	out := []search.Pose{f.Pose}
	lo, hi := f.Solid.Outline.Extent()
	middle := f.Pose.Place(geometry.Vec3{X: (lo.X + hi.X) / 2, Y: (lo.Y + hi.Y) / 2}).XY()
	for _, z := range s.Colour {
		if z.Face != f.Face {
			continue
		}
		lo, hi := geometry.Bounds(z.Outline)
		by := lo.Add(hi).Scale(0.5).Sub(middle)
		p := f.Pose
		p.Origin = p.Origin.Add(geometry.Vec3{X: by.X, Y: by.Y})
		out = append(out, p)
	}
	return out
}
