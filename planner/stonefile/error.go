package stonefile

import (
	"strings"

	"cabwright/planner"
)

// Error says what is wrong with a stone file, and where. Its text is one line
// that is fit to be shown.
type Error struct {
	File  string
	Place string // cracks[0].depth, outline[3]; empty for the file as a whole
	What  string
	Err   error // the cause, when it is another error
}

func (e *Error) Error() string {
	parts := []string{planner.Visible(e.File)}
	if e.Place != "" {
		parts = append(parts, e.Place)
	}
	return strings.Join(append(parts, e.What), ": ")
}

// Unwrap returns the cause.
func (e *Error) Unwrap() error { return e.Err }
