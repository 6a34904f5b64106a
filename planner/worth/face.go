package worth

import (
	"math"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/search"
)

// Colour is what lies under the face of a finished stone.
type Colour struct {
	Grade   float64 // mean over the part that has any, 0 to 5; 0 when none has
	Pattern string  // that most of it has
}

// The patches that a face is looked at in, around and from the rim up: as many as
// the search takes a fit's colour share from.
const (
	patchesAround = 48
	patchesUp     = 12
)

// ColourUnder looks at the colour under the upper side of a fit: at each place the
// best zone of its face that is no deeper there than it goes in. Without a rough
// zones count whatever their depth.
func ColourUnder(s planner.Stone, rough *planner.Rough, f search.Fit) Colour {
	area, bright := 0.0, 0.0
	patterns := map[string]float64{}
	most := Colour{}
	for _, p := range f.Solid.DomePatches(patchesAround, patchesUp) {
		z, there := bestZone(s.Colour, rough, f.Face, f.Pose.Place(p.Centre))
		if !there {
			continue
		}
		area += p.Area
		bright += p.Area * z.Grade
		patterns[z.Pattern] += p.Area
		if patterns[z.Pattern] > patterns[most.Pattern] {
			most.Pattern = z.Pattern
		}
	}
	if area > 0 {
		most.Grade = bright / area
	}
	return most
}

// bestZone returns the zone of the highest grade at a point of the rough.
func bestZone(zones []planner.Zone, rough *planner.Rough, face planner.Face, at geometry.Vec3) (best planner.Zone, there bool) {
	for _, z := range zones {
		if z.Face != face || z.Grade <= best.Grade || !geometry.InPolygon(z.Outline, at.XY()) {
			continue
		}
		if z.Depth > 0 && rough != nil && math.Abs(rough.Height(face, at.X, at.Y)-at.Z) > z.Depth {
			continue
		}
		best, there = z, true
	}
	return best, there
}
