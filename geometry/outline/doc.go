// Package outline draws the girdle outlines of cabochons: closed curves that
// are star-shaped about their origin, given by their gauge. The gauge of a
// point is 0 at the origin and 1 on the outline; a point of gauge g lies on
// the outline scaled by g about the origin.
//
// One file holds one kind of curve. To add one, write a type with the methods
// of curve, give it a name in shapes, and a row of reference values in
// testdata.
package outline
