package outlineview

import (
	"fmt"
	"math"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/ui/edit"
	"cabwright/ui/view"
	"cabwright/ui/widget"
)

// askPlace asks for the exact place of what is selected, or of the cursor; while
// an outline is drawn, of its next corner.
func (v *View) askPlace(s *view.State) {
	t, is := selected(s)
	switch {
	case v.sketching(s):
		v.draft.Ask(s, sketch, "The outline, corner after corner", func() error { return v.closeOutline(s) })
	case !is:
		v.ask(s, "Cursor", edit.PlaceField("x, y", s.Cursor.X, s.Cursor.Y), func(f *widget.Form) error {
			p := f.Point(0)
			s.Cursor = geometry.Vec2{X: p[0], Y: p[1]}
			s.KeepInSight(s.Cursor, v.cols, v.rows)
			return nil
		})
	case t.Kind == view.Corner:
		now := place(s, t)
		v.ask(s, edit.Capital(called(t)), edit.PlaceField("x, y", now.X, now.Y), func(f *widget.Form) error {
			p := geometry.Vec2{X: f.Point(0)[0], Y: f.Point(0)[1]}
			delete(s.Doubtful, p)
			return v.put(s, t, p, s.Do)
		})
	default:
		r := s.Stone().Readings(face(t.Kind))[t.Index]
		v.ask(s, edit.Capital(called(t)), edit.PlaceField("x, y, height", r.X, r.Y, r.Z), func(f *widget.Form) error {
			p := geometry.Vec3{X: f.Point(0)[0], Y: f.Point(0)[1], Z: f.Point(0)[2]}
			if err := misread(s, face(t.Kind), p); err != nil {
				return err
			}
			delete(s.Doubtful, p.XY())
			return s.Do("Change "+called(t), func(st planner.Stone) (planner.Stone, error) {
				return planner.SetReading(st, face(t.Kind), t.Index, p)
			})
		})
	}
}

func (v *View) ask(s *view.State, title string, field *widget.Field, done func(f *widget.Form) error) {
	s.Ask(&widget.Form{Title: title, Fields: []*widget.Field{field}, Done: done})
}

// askCalipers asks for the size the calipers read.
func (v *View) askCalipers(s *view.State) {
	e := planner.Extent(s.Stone().Outline)
	size := func(label string, now float64) *widget.Field {
		return (&widget.Field{Label: label, Kind: widget.Length, Min: 0.5, Max: 500}).WithNumber(math.Round(now*100) / 100)
	}
	thick := &widget.Field{Label: "Greatest thickness", Kind: widget.Length, Min: 0.5, Max: 500, Optional: "as it is"}
	thick.Hidden = func(*widget.Form) bool { return rough(s) == nil }
	now := 0.0
	if r := rough(s); r != nil {
		now, _ = r.Thickness()
		now = math.Round(now*100) / 100
		thick.WithNumber(now)
	}
	s.Ask(&widget.Form{
		Title:  "Scale the whole stone to the calipers, marks and readings with it",
		Fields: []*widget.Field{size("Length", e.Length), size("Width", e.Width), thick},
		Done: func(f *widget.Form) error {
			if f.Number(1) > f.Number(0) {
				return widget.Wrong{Field: 1, Err: fmt.Errorf("the width is the shorter of the two")}
			}
			return s.Do("Scale to calipers", func(st planner.Stone) (planner.Stone, error) {
				st, err := planner.ScaleOutlineTo(st, f.Number(0), f.Number(1))
				if err != nil || now == 0 || f.Blank(2) || f.Number(2) == now {
					return st, err
				}
				return planner.ScaleThickness(st, f.Number(2))
			})
		},
	})
}

// askTurn asks for an angle to turn the stone by.
func (v *View) askTurn(s *view.State) {
	level := -planner.Extent(s.Stone().Outline).Angle * 180 / math.Pi
	field := (&widget.Field{Label: "Turn to the left by", Kind: widget.Angle, Min: -360, Max: 360, Step: 5}).WithNumber(
		math.Round(level*10) / 10,
	)
	title := fmt.Sprintf("Turn the whole stone in plan: %.1f lays its length from left to right", level)
	v.ask(s, title, field, func(f *widget.Form) error {
		return s.Do("Turn in plan", func(st planner.Stone) (planner.Stone, error) {
			return planner.TurnOutline(st, f.Number(0))
		})
	})
}

// askStart asks for the size of a stone to begin with.
func (v *View) askStart(s *view.State) {
	size := func(label string, now float64) *widget.Field {
		return (&widget.Field{Label: label, Kind: widget.Length, Min: 1, Max: 500, Step: 0.5}).WithNumber(now)
	}
	var names []string
	for _, f := range planner.Forms() {
		names = append(names, string(f))
	}
	s.Ask(&widget.Form{
		Title: "A stone to start from: an oval, to be changed corner by corner",
		Fields: []*widget.Field{size("Length", 28), size("Width", 20), size("Height", 9),
			(&widget.Field{Label: "Top", Kind: widget.Choose, Choices: names}).With(names[0])},
		Done: func(f *widget.Form) error {
			return s.Do("Start from length, width and height", func(st planner.Stone) (planner.Stone, error) {
				from, err := planner.NewStone(
					st.Name,
					st.Material,
					geometry.Vec3{X: f.Number(0), Y: f.Number(1), Z: f.Number(2)},
					planner.Forms()[f.Choice(3)],
					s.Presets,
				)
				if err != nil {
					return st, err
				}
				st.Outline, st.Top, st.Base = from.Outline, from.Top, from.Base
				return st, nil
			})
		},
	})
}
