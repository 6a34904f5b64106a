package search

import (
	"time"

	"cabwright/geometry/solid"
	"cabwright/planner"
	"cabwright/planner/search/internal/obstacles"
	"cabwright/planner/search/internal/poses"
)

// Pose says where a cabochon lies in the rough, mm.
type Pose = poses.Pose

// HalfSpace is what a saw cut takes away.
type HalfSpace = obstacles.HalfSpace

// Verdict is how the question "does this solid fit?" ended for one candidate.
type Verdict int

// The verdicts. Undecided is only ever left within the tolerance, or because
// the search was stopped or ran out of its budget of boxes (see Plan.Stopped).
const (
	Undecided Verdict = iota
	Fits
	CannotFit
)

// Candidate is one cabochon solid asked about on one face.
type Candidate struct {
	Solid     solid.Cabochon
	Face      planner.Face // Top: the dome points out of the top
	DomeStyle string       // a dome style's key in presets
	BackStyle string       // a back style's key in presets
}

// Fit is a candidate with a pose that keeps every allowance.
type Fit struct {
	Candidate
	Pose      Pose
	Clearance float64  // mm, certified on the exact geometry: 0 or more
	LimitedBy []string // obstacles within the tolerance of the least: "skin" and mark ids
	Volume    float64  // mm3
	Carat     float64
	CaratLow  float64 // lowest SG it may have, every dimension 0.1 mm smaller
	CaratHigh float64 // highest SG it may have, every dimension 0.1 mm larger
	Colour    float64 // share of the upper side's area with colour of its face under it, times grade/5: 0 to 1
	Proved    bool    // no pose within the limits is better by more than the tolerance
}

// RuledOut is a candidate of which it is proved that no pose fits, or one left
// undecided.
type RuledOut struct {
	Candidate
	Bound     float64  // proved upper bound on any pose's clearance, mm; negative when Verdict is CannotFit
	LimitedBy []string // what rules it out
	Verdict   Verdict  // CannotFit or Undecided

	// The best pose known for it, with how far each mark is in the way there; Short
	// is nil while no pose is known, or what is in the way there.
	Pose      Pose
	Clearance float64     // mm, at Pose: negative
	Short     []Shortfall // the most in the way first
}

// Shortfall is how much one obstacle is in the way of a solid at a pose.
type Shortfall struct {
	ID string  // "skin" or a mark's id
	MM float64 // what the allowance there lacks, mm: above 0
}

// Rank is what the fits are ordered by.
type Rank string

// The orders.
const (
	ByCarat     Rank = "carat"
	ByClearance Rank = "clearance"
	ByColour    Rank = "colour"
)

// Options narrow and steer a search. The zero value means: everything, level
// to 15 degrees of tilt, by carats.
type Options struct {
	Faces      []planner.Face // nil: both
	Sides      []int          // nil: 1 and 2
	Shapes     []string       // nil: every preset outline and the freeform
	NoFreeform bool
	// CornerRadius is the least radius of curvature of a freeform's outline; 0: 1.5 mm
	CornerRadius float64
	Cuts         []HalfSpace // saw cuts that were made
	After        *Plan       // a plan of an earlier state of the stone: what still holds is taken over
	Level        bool        // no tilt at all (TiltMaxDeg is then ignored)
	TiltMaxDeg   float64     // 0: 15
	Tolerance    float64     // 0: 0.05 mm
	Rank         Rank        // "": ByCarat
	Spare        float64     // mm of clearance to have beyond the allowances: sought, and listed first
	Workers      int         // 0: one a processor; the plan does not depend on it
}

// StopReason says why a search ended.
type StopReason string

// The reasons.
const (
	Complete  StopReason = "complete"  // every candidate decided
	Budget    StopReason = "budget"    // some left undecided at the budget of boxes
	Cancelled StopReason = "cancelled" // the context ended
)

// Plan is what a search has found so far, or in the end.
type Plan struct {
	Stone      planner.Stone
	Sizes      int // calibrated outlines asked about
	TiltMaxDeg float64
	Tolerance  float64
	Fits       []Fit // ranked, best first
	RuledOut   []RuledOut
	Progress   float64 // 0 to 1
	Stopped    StopReason
	Elapsed    time.Duration

	// What is being decided, and how far the answer stands.
	Stage        string  // in plain words: "finding", "proving the best", "done"
	Settled      bool    // the best fits and what could be heavier have had their share of the work: see Decided
	HeaviestOpen float64 // carats of the heaviest solid not decided yet, 0 when none is
	FreeformMost float64 // carats that no level freeform weighs more than; 0 while that is not known

	Boxes int // of poses that were bounded: what proofs cost

	memory *memory // for the search after this one
}

// Decided reports whether the plan is settled and no calibrated solid heavier than the
// heaviest fit was left open, as one is where its proof ran out of boxes.
func (p Plan) Decided() bool {
	heaviest := 0.0
	for _, f := range p.Fits {
		heaviest = max(heaviest, f.Carat)
	}
	return p.Settled && p.HeaviestOpen <= heaviest
}
