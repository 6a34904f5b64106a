package outline

import (
	"fmt"
	"math"

	"cabwright/geometry"
)

// Outline is one girdle outline in its local axes u (length) and v (width), in
// millimetres. The zero Outline is not usable; take one from New or Freeform.
type Outline struct {
	Shape         string          // a name from Shapes, or "freeform"
	Length, Width float64         // extents along u and along v
	Polygon       []geometry.Vec2 // freeform only: corners, counter-clockwise, star-shaped about the origin

	curve curve
}

// curve is what one kind of outline has to know about itself.
type curve interface {
	// gauge is homogeneous: gauge(k u, k v) = k gauge(u, v) for k >= 0.
	gauge(u, v float64) float64
	// area is the enclosed area.
	area() float64
	// corners are the directions of the curve's sharp corners, rising from
	// -pi (left out) to pi (kept).
	corners() []float64
	// extent is the smallest upright rectangle around the curve.
	extent() (min, max geometry.Vec2)
	// period is the angle by which a turn changes nothing; 0: any.
	period() float64
	// pieces are convex sets that each hold the origin and together are the
	// inside of the curve. A convex curve has one; nil says that no such
	// split is known.
	pieces() []support
	// cover are convex sets whose common convex hull is that of the curve.
	cover() []support
}

// support gives how far a convex set reaches in the direction of the unit
// vector (cu, cv): the largest p . (cu, cv) over its points p.
type support func(cu, cv float64) float64

// freeformShape is the Shape of an outline from Freeform.
const freeformShape = "freeform"

// shapes lists the named curves in the order in which they are shown.
var shapes = []struct {
	name string
	make func(length, width float64) (curve, error)
}{
	{"round", newRound},
	{"oval", newOval},
	{"cushion", newCushion},
	{"square", newSquare},
	{"rectangle", newRectangle},
	{"octagon", newOctagon},
	{"pear", newPear},
	{"marquise", newMarquise},
	{"triangle", newTriangle},
	{"heart", newHeart},
}

// Shapes returns the names that New takes, in a fixed order.
func Shapes() []string {
	names := make([]string, len(shapes))
	for i, s := range shapes {
		names[i] = s.name
	}
	return names
}

// maxSize is the longest outline taken, in millimetres: the stone file's own
// limit on coordinates.
const maxSize = 1000

// New returns the outline of a named shape with the extents length x width, in
// millimetres. An error says that the name is unknown, a dimension is not a
// number from 0 (left out) to 1000, or the shape cannot have these proportions
// (a round that is longer than wide, a pear that is wider than long).
func New(shape string, length, width float64) (Outline, error) {
	for _, x := range []float64{length, width} {
		if !(x > 0 && x <= maxSize) {
			return Outline{}, fmt.Errorf(
				"%s of %g x %g mm: a length and a width must be above 0 and at most %d mm", shape, length, width, maxSize,
			)
		}
	}
	for _, s := range shapes {
		if s.name != shape {
			continue
		}
		c, err := s.make(length, width)
		if err != nil {
			return Outline{}, fmt.Errorf("%s of %g x %g mm: %w", shape, length, width, err)
		}
		return Outline{Shape: shape, Length: length, Width: width, curve: c}, nil
	}
	return Outline{}, fmt.Errorf("unknown outline %q: known are %v", shape, Shapes())
}

// Gauge returns the gauge of the point (u, v): 0 at the origin, below 1 inside
// the outline, 1 on it.
func (o Outline) Gauge(u, v float64) float64 { return o.curve.gauge(u, v) }

// Radius returns the distance from the origin to the curve in the direction
// theta, radians counter-clockwise from +u.
func (o Outline) Radius(theta float64) float64 {
	s, c := math.Sincos(theta)
	return 1 / o.curve.gauge(c, s)
}

// Area returns the enclosed area in mm2, from a closed form.
func (o Outline) Area() float64 { return o.curve.area() }

// Corners returns the directions theta of the sharp corners, radians from +u,
// rising from -pi (left out) to pi (kept). The cleft of a heart counts as one.
func (o Outline) Corners() []float64 { return o.curve.corners() }

// Extent returns two opposite corners of the smallest rectangle around the
// outline whose sides are along u and v.
func (o Outline) Extent() (min, max geometry.Vec2) { return o.curve.extent() }

// TurnPeriod returns the angle in radians by which the outline can be turned
// about its origin without changing: 0 says any angle, 2 pi none.
func (o Outline) TurnPeriod() float64 { return o.curve.period() }

// Convex reports whether the outline is convex.
func (o Outline) Convex() bool { return len(o.curve.pieces()) == 1 }
