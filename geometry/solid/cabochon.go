package solid

import (
	"math"

	"cabwright/geometry/outline"
)

// Cabochon is a finished stone in its local axes u (length), v (width) and w
// (dome, outward). The girdle plane is w = 0. Lengths are millimetres.
type Cabochon struct {
	Outline     outline.Outline
	Wall        float64 // height of the bezel wall above the girdle plane
	WallLeanDeg float64 // how far the wall leans inwards, degrees from the vertical
	Dome        float64 // height of the dome above the wall
	Back        float64 // depth of the domed back below the girdle; 0 is a flat back
	Sides       int     // 1 single-sided, 2 double-sided
}

// RimRatio returns r, the gauge at which the wall ends and the dome begins.
func (c Cabochon) RimRatio() float64 {
	return 1 - 2*c.Wall*math.Tan(c.WallLeanDeg*math.Pi/180)/c.Outline.Width
}

// Height returns the whole height of the stone, in millimetres.
func (c Cabochon) Height() float64 { return c.Wall + c.Dome + c.BackDepth() }

// BackDepth returns how far the stone reaches below its girdle plane.
func (c Cabochon) BackDepth() float64 {
	if c.Sides == 2 {
		return c.Back
	}
	return 0
}

// Upper returns the height w of the upper side at gauge rho (0 at the centre,
// 1 on the outline).
func (c Cabochon) Upper(rho float64) float64 {
	r := c.RimRatio()
	if rho <= r {
		return c.Wall + c.Dome*math.Sqrt(math.Max(0, 1-(rho/r)*(rho/r)))
	}
	return c.Wall * (1 - rho) / (1 - r)
}

// Lower returns the height w of the back at gauge rho: zero or below.
func (c Cabochon) Lower(rho float64) float64 {
	if c.BackDepth() == 0 {
		return 0
	}
	return -c.Back * math.Sqrt(math.Max(0, 1-rho*rho))
}
