// Package worthview is the view of what the stone cost and what may be made of it:
// its fits with their worth, where they break even, its lot, and what another like
// it may cost. What may come in: how that is shown and asked for; what it is worked
// out from is the planner's.
package worthview
