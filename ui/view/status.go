package view

import (
	"fmt"

	"cabwright/geometry"
	"cabwright/ui/style"
	"cabwright/ui/widget"
)

// Status is the message on the line above the keys.
type Status struct {
	Role style.Role
	Text string
	// Edges are shown on the drawing as what an edit was refused for.
	Edges [][2]geometry.Vec2

	number int // counts the messages
}

// Status returns the present message.
func (s *State) Status() Status { return s.status }

func (s *State) show(status Status) {
	status.number = s.status.number + 1
	s.status = status
}

// Outlived takes away a message that was there before the cutter went on, so that
// none stands when it no longer holds; what has been said since stays.
func (s *State) Outlived(before Status) {
	if s.status.number == before.number {
		s.show(Status{})
	}
}

// Say shows a message: what, where, and what to do next.
func (s *State) Say(role style.Role, format string, args ...any) {
	s.show(Status{Role: role, Text: fmt.Sprintf(format, args...)})
}

// Refuse shows why something was not done.
func (s *State) Refuse(err error) {
	s.show(Status{Role: style.Bad, Text: err.Error()})
}

// RefuseEdges is Refuse for an outline whose edges would cross: they are shown.
func (s *State) RefuseEdges(edges [][2]geometry.Vec2, format string, args ...any) {
	s.show(Status{Role: style.Bad, Text: fmt.Sprintf(format, args...), Edges: edges})
}

// Ask opens a form; the workbench shows it and gives it the keys until it is
// done or stepped back from.
func (s *State) Ask(f *widget.Form) {
	if f != nil {
		f.Resume(s.left)
		s.left = nil
	}
	s.ask = f
}

// Leave steps back from the open form; what was typed is there again when the
// same is asked next.
func (s *State) Leave() { s.ask, s.left = nil, s.ask }

// Asking returns the open form, nil when there is none.
func (s *State) Asking() *widget.Form { return s.ask }
