package edit

import (
	"errors"
	"fmt"
	"slices"

	"cabwright/geometry"
	"cabwright/ui/style"
	"cabwright/ui/view"
	"cabwright/ui/widget"
)

// Draft is a path or an outline while its points are set one after the other.
type Draft []geometry.Vec2

// Drawing says what a draft is to become.
type Drawing struct {
	Point  string // what its points are called: "corner"
	Least  int    // how many it needs
	Closed bool   // an outline: setting a point on the first one ends it
	Simple bool   // its edges may not cross
}

// Closes reports whether a point set at p by the cursor or the mouse lies on the
// first one of an outline and so ends it.
func (d Draft) Closes(s *view.State, w Window, k Drawing, p geometry.Vec2) bool {
	return k.Closed && len(d) >= k.Least && w.Apart(s, p, d[0]) <= within
}

// Put puts a point at p. The error, which the status line shows too, says why
// there can be none.
func (d *Draft) Put(s *view.State, k Drawing, p geometry.Vec2) error {
	path := *d
	n := len(path)
	if n > 0 && path[n-1] == p {
		s.Say(style.Warn, "There is a %s already: move on with the arrow keys before setting the next.", k.Point)
		return fmt.Errorf("there is a %s already", k.Point)
	}
	if edge, crosses := crossesPath(path, p); crosses && k.Simple {
		said := fmt.Sprintf("the edge from %s %d would cross edge %d-%d", k.Point, n, edge+1, edge+2)
		s.RefuseEdges([][2]geometry.Vec2{{path[edge], path[edge+1]}, {path[n-1], p}},
			"%s: set the %s elsewhere, backspace takes the last one back.", Capital(said), k.Point)
		return errors.New(said)
	}
	*d = append(slices.Clip(path), p)
	s.Say(style.Text, "%s %d at %s mm.", Capital(k.Point), n+1, At(p))
	return nil
}

// TakeBack takes the last point away.
func (d *Draft) TakeBack() {
	if n := len(*d); n > 0 {
		*d = (*d)[:n-1]
	}
}

// Lacks says why a draft can't become what it is to become yet, "" when it can.
func (d Draft) Lacks(k Drawing) string {
	if len(d) >= k.Least {
		return ""
	}
	return fmt.Sprintf("it has %s and needs at least %d", Count(len(d), k.Point), k.Least)
}

// Ask opens a form that takes the points of a draft one a line, typed or pasted.
// end makes of them what they are to become.
func (d *Draft) Ask(s *view.State, k Drawing, title string, end func() error) {
	label := func() string { return fmt.Sprintf("%s %d at x, y", Capital(k.Point), len(*d)+1) }
	field := PlaceField(label(), 0, 0).With("")
	field.Optional = "ends it; backspace takes the last " + k.Point + " back"
	s.Ask(&widget.Form{
		Title:  title,
		Fields: []*widget.Field{field},
		Repeat: true,
		Done: func(f *widget.Form) error {
			if f.Blank(0) {
				if why := d.Lacks(k); why != "" {
					return errors.New(why)
				}
				return end()
			}
			p := geometry.Vec2{X: f.Point(0)[0], Y: f.Point(0)[1]}
			if err := d.Put(s, k, p); err != nil {
				return widget.Wrong{Field: 0, Err: err}
			}
			delete(s.Doubtful, p)
			s.Cursor = p
			field.Label = label()
			return nil
		},
		TakeBack: func(*widget.Form) {
			d.TakeBack()
			field.Label = label()
		},
	})
}

// crossesPath reports which edge of an open path a new edge to p would cross.
func crossesPath(path []geometry.Vec2, p geometry.Vec2) (edge int, crosses bool) {
	n := len(path)
	if n < 3 {
		return 0, false
	}
	a := path[n-1]
	for i := 0; i+2 < n; i++ {
		b, c := path[i], path[i+1]
		side := func(o, d, e geometry.Vec2) float64 { return d.Sub(o).Cross(e.Sub(o)) }
		if side(a, p, b)*side(a, p, c) < 0 && side(b, c, a)*side(b, c, p) < 0 {
			return i, true
		}
	}
	return 0, false
}

// Capital returns a text that begins with a capital letter.
func Capital(text string) string {
	if text == "" || text[0] < 'a' || text[0] > 'z' {
		return text
	}
	return string(text[0]-'a'+'A') + text[1:]
}

// Count writes a number of things.
func Count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
