package search

// Reading is the live answer for one pose of one solid: what a hand-moved fit
// shows while it is nudged.
type Reading struct {
	Clearance float64  // mm; negative when an allowance is broken
	LimitedBy []string // obstacles within the tolerance of the least
}
