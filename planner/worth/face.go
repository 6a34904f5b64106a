package worth

import (
	"cabwright/planner"
	"cabwright/planner/search"
)

// Colour is what lies under the face of a finished stone.
type Colour struct {
	Grade   float64 // mean over the part that has any, 0 to 5; 0 when none has
	Pattern string  // that most of it has
}

// ColourUnder looks at the colour under the upper side of a fit: at each place the
// best zone of its face that is no deeper there than it goes in. Without a rough
// zones count whatever their depth.
func ColourUnder(s planner.Stone, rough *planner.Rough, f search.Fit) Colour {
	area, bright := 0.0, 0.0
	patterns := map[string]float64{}
	most := Colour{}
	for _, p := range planner.UpperSide(f.Solid) {
		z, there := planner.ZoneUnder(rough, s.Colour, f.Face, f.Pose.Place(p.At))
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
