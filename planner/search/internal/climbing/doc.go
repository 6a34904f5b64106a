// Package climbing looks for good poses: where to begin, by a population on the coarse
// grid, by deep places and by poses that fit something else, and the way up from there.
// It proves nothing.
package climbing
