// Package outline draws the girdle outlines of cabochons: closed curves that
// are star-shaped about their origin, given by the distance from the origin to
// the curve in each direction.
package outline

import "cabwright/geometry"

// Outline is one girdle outline in its local axes u (length) and v (width), in
// millimetres. The zero Outline is not usable; take one from New or Freeform.
type Outline struct {
	Shape         string          // a name from Shapes, or "freeform"
	Length, Width float64         // along u and along v
	Polygon       []geometry.Vec2 // freeform only: corners, counter-clockwise, star-shaped about the origin
}
