package solid

import (
	"math"

	"cabwright/geometry"
)

// Patch is a small piece of a stone's skin.
type Patch struct {
	At   geometry.Vec3 // a place on it in the stone's local axes, mm
	Area float64       // mm2
}

// UpperPatches cuts the upper side, dome and wall, into nDome and nWall rings of
// at least nTheta patches each, split at the outline's corners, and returns the
// area of each with a place on it. A patch is counted as the two flat triangles
// between its corners, which lie on the skin, so the sum of the areas comes as
// near to the upper side's as there are patches.
//
// The dome's rings are evenly spaced in the angle asin(rho/r), in which its
// height is as smooth at the rim, where it falls off vertically, as at the
// top; the wall's are evenly spaced in height. The places are spread evenly over
// all patches, not at the middle of each: what lies over a line that runs along
// a ring is then not counted a whole ring at a time.
func (c Cabochon) UpperPatches(nTheta, nDome, nWall int) []Patch {
	spokes := c.Outline.Points(nTheta)
	r := c.RimRatio()
	at := func(spoke int, ring float64) geometry.Vec3 {
		s, cos := math.Sincos(min(ring/float64(nDome), 1) * math.Pi / 2)
		rho, height := r*s, c.Wall+c.Dome*cos
		if down := (ring - float64(nDome)) / float64(nWall); down > 0 {
			rho, height = r+(1-r)*down, c.Wall*(1-down)
		}
		p := spokes[spoke%len(spokes)].Scale(rho)
		return geometry.Vec3{X: p.X, Y: p.Y, Z: height}
	}
	rings := nDome
	if c.Wall > 0 {
		rings += nWall
	}
	patches := make([]Patch, 0, rings*len(spokes))
	for ring := range rings {
		for k := range spokes {
			inner, outer := float64(ring), float64(ring+1)
			a, b, d, e := at(k, inner), at(k, outer), at(k+1, outer), at(k+1, inner)
			along, down := spread(len(patches))
			at := at(k, inner+down).Scale(1 - along).Add(at(k+1, inner+down).Scale(along))
			patches = append(patches, Patch{At: at, Area: triangleArea(a, b, d) + triangleArea(a, d, e)})
		}
	}
	return patches
}

// spread returns member n of a sequence that fills the unit square evenly: the
// multiples, less whole numbers, of 1/p and 1/p^2 with p^3 = p + 1 (Roberts 2018,
// "The unreasonable effectiveness of quasirandom sequences").
func spread(n int) (x, y float64) {
	const p = 1.32471795724474602596
	_, x = math.Modf(0.5 + float64(n)/p)
	_, y = math.Modf(0.5 + float64(n)/(p*p))
	return x, y
}

func triangleArea(a, b, c geometry.Vec3) float64 {
	return b.Sub(a).Cross(c.Sub(a)).Norm() / 2
}
