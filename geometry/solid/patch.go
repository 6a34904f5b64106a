package solid

import (
	"math"

	"cabwright/geometry"
)

// Patch is a small piece of a stone's skin.
type Patch struct {
	Centre geometry.Vec3 // its middle in the stone's local axes, mm
	Area   float64       // mm2
}

// DomePatches cuts the dome (the upper side within the rim, without the wall)
// into nRho rings of at least nTheta patches each, split at the outline's
// corners, and returns the middle and the area of each. A patch is counted as
// the two flat triangles between its corners, which lie on the dome, so the
// sum of the areas comes as near to the dome's area as there are patches.
//
// The rings are evenly spaced in the angle asin(rho/r), in which the dome's
// height is as smooth at the rim, where it falls off vertically, as at the
// top.
func (c Cabochon) DomePatches(nTheta, nRho int) []Patch {
	spokes := c.Outline.Points(nTheta)
	r := c.RimRatio()
	at := func(spoke int, ring float64) geometry.Vec3 {
		s, cos := math.Sincos(ring / float64(nRho) * math.Pi / 2)
		p := spokes[spoke%len(spokes)].Scale(r * s)
		return geometry.Vec3{X: p.X, Y: p.Y, Z: c.Wall + c.Dome*cos}
	}
	patches := make([]Patch, 0, nRho*len(spokes))
	for ring := 0; ring < nRho; ring++ {
		for k := range spokes {
			inner, outer := float64(ring), float64(ring+1)
			a, b, d, e := at(k, inner), at(k, outer), at(k+1, outer), at(k+1, inner)
			between := at(k, inner+0.5).Add(at(k+1, inner+0.5)).Scale(0.5)
			patches = append(patches, Patch{
				Centre: between,
				Area:   triangleArea(a, b, d) + triangleArea(a, d, e),
			})
		}
	}
	return patches
}

func triangleArea(a, b, c geometry.Vec3) float64 {
	return b.Sub(a).Cross(c.Sub(a)).Norm() / 2
}
