package cuts

import (
	"math"

	"cabwright/geometry"
	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/presets"
)

// kind is how a freeform is finished, but for its outline.
type kind struct {
	face  planner.Face
	back  presets.BackStyle
	style presets.DomeStyle
	wall  presets.Wall
}

// kindsOf returns the kinds of stone that a plan was asked for: of all faces and backs that
// it has fits of.
func kindsOf(plan search.Plan, set *presets.Set) []kind {
	type way struct {
		face planner.Face
		back string
	}
	asked := map[way]bool{}
	for _, f := range plan.Fits {
		asked[way{f.Face, f.BackStyle}] = true
	}
	wall, _ := set.Wall(set.Defaults.Wall)
	var out []kind
	for _, face := range []planner.Face{planner.Top, planner.Base} {
		for _, back := range set.BackStyles {
			for _, style := range set.DomeStyles {
				if asked[way{face, back.Key}] {
					out = append(out, kind{face, back, style, wall})
				}
			}
		}
	}
	return out
}

// body is the solid of a width without its outline: only that counts for its heights.
func (k *kind) body(width float64) solid.Cabochon {
	c := solid.Cabochon{
		Outline: outline.Outline{Width: width}, Wall: k.wall.Height, WallLeanDeg: k.wall.LeanDeg,
		Dome: k.style.HeightByWidth * width, Sides: k.back.Sides(),
	}
	if c.Sides == 2 {
		c.Back = k.back.Depth(c.Wall, c.Dome)
	}
	return c
}

// up is the direction of the dome.
func (k *kind) up() float64 {
	if k.face == planner.Base {
		return -1
	}
	return 1
}

// bud is a place where a freeform grows, level, and what it comes to there.
type bud struct {
	kind   *kind
	at     geometry.Vec3 // the outline's centre, on the girdle plane
	width  float64       // that the heights are taken for, mm
	found  float64       // and that of the outline there
	length float64       // mm, of the outline
	volume float64       // mm3; 0 where nothing grows
}

// grower grows freeforms in pieces of a rough on the lattice, which is some ten times as
// fast as on the exact shapes: for finding where to saw. What is found is grown again by
// search.Site.Freeform.
type grower struct {
	room *room
	keep float64 // skin
}

// How finely freeforms are grown on the lattice.
const (
	rays     = 24
	fewRays  = 12   // for a first look
	grazes   = 0.02 // mm: nearer to an allowance a ray ends
	leastRay = 0.04 // mm, of the steps along a ray
	pays     = 1.0005
)

// profile is where the solid's section along a ray is looked at, as gauge and height
// over the girdle.
type profile struct{ rho, w float64 }

// section fills in the points of a kind's section for a width.
func (k *kind) section(c solid.Cabochon, points []profile) []profile {
	r := c.RimRatio()
	points = append(points, profile{1, 0}, profile{r, c.Wall})
	for _, a := range [2]float64{0.5, 1} {
		s, co := math.Sincos(a)
		points = append(points, profile{r * co, c.Wall + c.Dome*s})
	}
	if back := c.BackDepth(); back > 0 {
		for _, a := range [2]float64{0.5, 1} {
			s, co := math.Sincos(a)
			points = append(points, profile{co, -back * s})
		}
		return points
	}
	return append(points, profile{0.6, 0})
}

// reach fills in how far the outline may go in each direction; false where the crown or
// the centre is in the way, or an outline could not be rounded.
func (g *grower) reach(b *bud, sides []half, radii []float64) bool {
	c, up := b.kind.body(b.width), b.kind.up()
	for _, w := range [2]float64{c.Wall + c.Dome, -c.BackDepth()} {
		if g.room.at(b.at.Add(geometry.Vec3{Z: up * w})) < 0 {
			return false
		}
	}
	var buf [8]profile
	points := b.kind.section(c, buf[:0])
	for i := range radii {
		s, co := math.Sincos(2 * math.Pi * float64(i) / float64(len(radii)))
		way := geometry.Vec3{X: co, Y: s}
		far := math.Inf(1)
		for _, h := range sides {
			for _, p := range points {
				over := h.normal.Dot(b.at) + h.normal.Z*up*p.w - h.from - g.keep
				if over < 0 {
					return false
				}
				if fall := -p.rho * h.normal.Dot(way); fall*far > over {
					far = over / fall
				}
			}
		}
		for _, p := range points {
			from := b.at.Add(geometry.Vec3{Z: up * p.w})
			far = g.ray(from, way, p.rho*far) / p.rho
			if far < search.FreeformRadius {
				return false
			}
		}
		radii[i] = far
	}
	return true
}

// ray goes along a level direction until it grazes an allowance, or as far as it may: a
// point may move by what room it has, so nothing on the way is passed over.
func (g *grower) ray(from, way geometry.Vec3, most float64) float64 {
	t := 0.0
	for t < most {
		v := g.room.at(from.Add(way.Scale(t)))
		if v < grazes {
			return t + min(v, 0)
		}
		t += max(v, leastRay)
	}
	return most
}

// measure fills in what a bud comes to, from so many rays; nothing when that is not more
// than floor, mm3.
func (g *grower) measure(b bud, sides []half, n int, floor float64) bud {
	var buf [rays]float64
	radii := buf[:n]
	b.volume, b.found, b.length = 0, b.width, 0
	if !g.reach(&b, sides, radii) {
		return b
	}
	star := 0.0
	for i, r := range radii {
		star += r * radii[(i+1)%n]
	}
	star *= math.Sin(2*math.Pi/float64(n)) / 2
	if star*fullness(b.kind.body(b.width)) <= floor {
		return b // the convex part is no larger, and no higher
	}
	var ring [rays]geometry.Vec2
	poly := ring[:n]
	for i, r := range geometry.ConvexPart(radii) {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		poly[i] = geometry.Vec2{X: r * c, Y: r * s}
	}
	way := geometry.NarrowWay(poly)
	least, most := geometry.Across(poly, way)
	b.found = most - least
	if b.found > b.width {
		// It is cut down to the width that the heights were taken for, which leaves sharp corners.
		poly = geometry.Strip(poly, way, b.width, search.FreeformRadius)
		if poly = geometry.Rounded(poly, search.FreeformRadius); poly == nil {
			return b
		}
	}
	least, most = geometry.Across(poly, geometry.Vec2{X: -way.Y, Y: way.X})
	b.length = most - least
	b.volume = math.Abs(geometry.Area(poly)) * fullness(b.kind.body(min(b.width, b.found)))
	return b
}

// fullness is a solid's volume per area of its outline: see solid.Cabochon.Volume.
func fullness(c solid.Cabochon) float64 {
	r := c.RimRatio()
	return c.Wall*(1+r+r*r)/3 + 2.0/3*(c.Dome*r*r+c.BackDepth())
}

// grow moves a bud uphill, by a pattern search (Hooke and Jeeves 1961) over its place and
// the width that its heights are taken for, from steps of first to ones of last, mm.
func (g *grower) grow(b bud, sides []half, first, last float64) bud {
	b = g.adapt(g.measure(b, sides, rays, 0), sides)
	if b.volume == 0 {
		return b
	}
	b = g.adapt(b, sides)
	for again, was := 0, 0.0; again < mostAdapted && b.volume > was*pays; again++ {
		was = b.volume
		b = g.adapt(g.climb(b, sides, first, last), sides)
	}
	return b
}

// mostAdapted is how often a bud is moved about after it was made wider.
const mostAdapted = 4

// climb moves a bud uphill where its heights are taken for one width.
func (g *grower) climb(b bud, sides []half, first, last float64) bud {
	for step := first; step >= last; step /= 2 {
		for moved := true; moved; {
			moved = false
			for _, by := range [6]geometry.Vec3{{X: step}, {X: -step}, {Y: step}, {Y: -step}, {Z: step}, {Z: -step}} {
				next := b
				next.at = b.at.Add(by)
				if next = g.measure(next, sides, rays, b.volume*pays); next.volume > b.volume*pays {
					b, moved = g.adapt(next, sides), true
				}
			}
		}
	}
	return b
}

// adapt takes the width between the present one and the one found that gives most: the
// wider a stone, the higher its dome and the less room is left, where it stands or with its
// crown where that is.
func (g *grower) adapt(b bud, sides []half) bud {
	if math.Abs(b.found-b.width) < 0.05 {
		return b
	}
	for _, share := range [6]float64{1, 0.5, 0.25, 0.12, 0.06, 0.03} {
		more := share * (b.found - b.width)
		for _, lower := range [2]float64{0, more * b.kind.style.HeightByWidth * b.kind.up()} {
			next := b
			next.width += more
			next.at.Z -= lower
			if next = g.measure(next, sides, rays, b.volume*pays); next.volume > b.volume*pays {
				return next
			}
		}
	}
	return b
}

// candidate is a bud as a plan's candidate, its outline still to be found, and its pose.
func (b bud) candidate() (search.Candidate, search.Pose) {
	c := search.Candidate{
		Solid: b.kind.body(b.width), Face: b.kind.face, DomeStyle: b.kind.style.Key, BackStyle: b.kind.back.Key,
	}
	return c, search.Pose{Origin: b.at, Axes: level(b.kind.face)}
}
