package planner

import (
	"cabwright/geometry"
	"cabwright/geometry/solid"
)

// The patches of an upper side that its colour is looked at under: 1,280, so that
// a line between colour and none is off by less than a hundredth of the share.
const (
	colourSpokes = 64
	colourRings  = 16
	wallRings    = 4
)

// UpperSide returns the pieces of a finished stone's dome and wall, in its own
// axes, that its colour is looked at under.
func UpperSide(c solid.Cabochon) []solid.Patch {
	return c.UpperPatches(colourSpokes, colourRings, wallRings)
}

// ColourShare returns the share, 0 to 1, of the area of a finished stone's upper
// side under which there is colour of the face that its dome points out of, each
// part times its grade/5, the best grade where zones overlap. place puts a point
// of the stone's own axes into the rough.
func ColourShare(r *Rough, zones []Zone, f Face, c solid.Cabochon, place func(geometry.Vec3) geometry.Vec3) float64 {
	if len(zones) == 0 {
		return 0
	}
	area, bright := 0.0, 0.0
	for _, p := range UpperSide(c) {
		area += p.Area
		if z, there := ZoneUnder(r, zones, f, place(p.At)); there {
			bright += p.Area * z.Grade / maxGrade
		}
	}
	if area == 0 {
		return 0
	}
	return bright / area
}

// ZoneUnder returns the zone of the best grade, above 0, that counts at a point
// in the rough: it is seen on the face, the point lies inside its outline in plan,
// and no deeper than it goes in, measured straight from the face. Without a rough
// zones count whatever their depth.
func ZoneUnder(r *Rough, zones []Zone, f Face, at geometry.Vec3) (best Zone, there bool) {
	deep := -1.0 // not measured yet
	for _, z := range zones {
		if z.Face != f || z.Grade <= best.Grade || !geometry.InPolygon(z.Outline, at.XY()) {
			continue
		}
		if r != nil && (z.OnSkin || z.Depth > 0) {
			if deep < 0 {
				deep = r.below(f, at)
			}
			if deep > z.Depth {
				continue
			}
		}
		best, there = z, true
	}
	return best, there
}

// below returns how far a point lies in from a face, straight down or up; 0 on
// the outside of it.
func (r *Rough) below(f Face, at geometry.Vec3) float64 {
	if f == Base {
		return max(0, at.Z-r.Base(at.X, at.Y))
	}
	return max(0, r.Top(at.X, at.Y)-at.Z)
}
