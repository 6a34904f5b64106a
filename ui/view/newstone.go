package view

import "cabwright/planner"

// NewStoneMsg offers a stone to be kept in a file of its own: the root asks for its
// name.
type NewStoneMsg struct{ Stone planner.Stone }
