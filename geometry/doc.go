// Package geometry holds the plain mathematics that cabwright stands on:
// vectors, polygons and surfaces through readings. Lengths are millimetres,
// angles radians, y points up (away from the cutter) and z out of the bench.
// Nothing in here, or in the packages below it, knows of stones or cracks, and
// it imports only the standard library and gonum.
package geometry
