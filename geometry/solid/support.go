package solid

import (
	"math"

	"cabwright/geometry"
)

// Support returns how far the stone reaches in a direction of its local axes:
// the largest d . p over its points p, mm for a unit vector d. It is exact.
//
// At the gauge rho the outline reaches rho H, H being its own support in the
// direction's part along the girdle plane, so over the dome, where rho is
// r sin t and w is wall + dome cos t, the largest is that of
// r H sin t + dome d.w cos t: a sinusoid. The wall is straight, so only its
// ends count; the back is an ellipse like the dome.
func (c Cabochon) Support(d geometry.Vec3) float64 {
	girdle := c.Outline.Support(d.X, d.Y)
	if d.Z <= 0 {
		return math.Hypot(girdle, c.BackDepth()*d.Z)
	}
	return math.Max(girdle, c.Wall*d.Z+math.Hypot(c.RimRatio()*girdle, c.Dome*d.Z))
}
