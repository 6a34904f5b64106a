package geomtest

import (
	"math"

	"cabwright/geometry"
	"cabwright/geometry/solid"
)

// skin is a part of a stone's surface: where a direction and a share of the way,
// from 0 to 1, lie on it.
type skin func(angle, share float64) geometry.Vec3

// skins returns the dome, the wall and the back of a stone.
func skins(c solid.Cabochon) []skin {
	r := c.RimRatio()
	at := func(angle, rho, z float64) geometry.Vec3 {
		s, k := math.Sincos(angle)
		reach := rho * c.Outline.Radius(angle)
		return geometry.Vec3{X: reach * k, Y: reach * s, Z: z}
	}
	return []skin{
		func(angle, share float64) geometry.Vec3 {
			s, k := math.Sincos(share * math.Pi / 2)
			return at(angle, r*s, c.Wall+c.Dome*k)
		},
		func(angle, share float64) geometry.Vec3 { return at(angle, 1-share*(1-r), c.Wall*share) },
		func(angle, share float64) geometry.Vec3 {
			s, k := math.Sincos(share * math.Pi / 2)
			return at(angle, s, -c.BackDepth()*k)
		},
	}
}

// Distance returns how far a point lies from a stone, in mm, 0 within it: the
// nearest of a net of n x n/4 points on each part of its skin, from where it
// walks to the nearest spot by ever smaller steps. It is never too low.
func Distance(c solid.Cabochon, p geometry.Vec3, n int) float64 {
	if rho := c.Outline.Gauge(p.X, p.Y); rho <= 1 && p.Z <= c.Upper(rho) && p.Z >= c.Lower(rho) {
		return 0
	}
	angles := append([]float64{}, c.Outline.Corners()...)
	for i := range n {
		angles = append(angles, 2*math.Pi*float64(i)/float64(n))
	}
	best := math.Inf(1)
	for _, on := range skins(c) {
		for _, angle := range angles {
			share, d := 0.0, math.Inf(1)
			for k := 0; k <= n/4; k++ {
				at := float64(k) / float64(n/4)
				if e := on(angle, at).Sub(p).Norm(); e < d {
					share, d = at, e
				}
			}
			// From each direction that may lead to a nearer spot than the best.
			if d < 1.5*best {
				best = math.Min(best, nearest(on, p, angle, share, 2*math.Pi/float64(n)))
			}
		}
	}
	return best
}

// nearest walks from a place on a skin to the spot nearest to p.
func nearest(on skin, p geometry.Vec3, angle, share, step float64) float64 {
	d := on(angle, share).Sub(p).Norm()
	for step > 1e-7 {
		better := false
		for _, way := range [][2]float64{{1, 0}, {-1, 0}, {0, 1}, {0, -1}, {1, 1}, {1, -1}, {-1, 1}, {-1, -1}} {
			a, s := angle+way[0]*step, math.Max(0, math.Min(1, share+way[1]*step))
			if e := on(a, s).Sub(p).Norm(); e < d {
				angle, share, d, better = a, s, e, true
			}
		}
		if !better {
			step /= 2
		}
	}
	return d
}
