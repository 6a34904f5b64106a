package edit

import (
	"fmt"

	"cabwright/geometry"
	"cabwright/ui/keys"
	"cabwright/ui/view"
)

// Arrows are the actions of the arrow keys: each moves what by the step.
func Arrows(s *view.State, what string, move func(by geometry.Vec2)) []keys.Action {
	var out []keys.Action
	for _, d := range []struct{ key, way string }{
		{"left", "to the left"}, {"right", "to the right"}, {"up", "away from you"}, {"down", "towards you"},
	} {
		by, _ := s.Arrow(d.key)
		out = append(out, keys.Action{
			Name: "Move " + d.way,
			Keys: []string{d.key},
			Help: fmt.Sprintf("%s, by the step of %g mm", what, s.Step),
			Run:  keys.Do(func() { move(by) }),
		})
	}
	return out
}
