// Package sawview is the view of the saw cuts: the cuts on the drawing, the
// order beside it, and the chosen cut's marks and section. Cuts are moved,
// turned and leaned here, kept in the stone's file, and done. What they cost is
// worked out away from the event loop.
package sawview
