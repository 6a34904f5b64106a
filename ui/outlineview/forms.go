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
			p := f.Point(0)
			delete(s.Doubtful, geometry.Vec2{X: p[0], Y: p[1]})
			return s.Do("Change "+called(t), func(st planner.Stone) (planner.Stone, error) {
				return planner.SetReading(st, face(t.Kind), t.Index, geometry.Vec3{X: p[0], Y: p[1], Z: p[2]})
			})
		})
	}
}

func (v *View) ask(s *view.State, title string, field *widget.Field, done func(f *widget.Form) error) {
	s.Ask(&widget.Form{Title: title, Fields: []*widget.Field{field}, Done: done})
}

// askReading asks for a height of a face at the cursor.
func (v *View) askReading(s *view.State, kind view.Kind) {
	at, f := s.Cursor, face(kind)
	for i, r := range s.Stone().Readings(f) {
		if r.XY() == at {
			s.Face, s.Selected = f, view.Selection{Kind: kind, Index: i, Point: -1}
			v.askPlace(s)
			return
		}
	}
	now := 0.0
	if readings := s.Stone().Readings(f); len(readings) > 0 {
		now = readings[len(readings)-1].Z
	}
	if s.Rough != nil && s.RoughOf == s.Revision() {
		now = math.Round(s.Rough.Height(f, at.X, at.Y)*100) / 100
	}
	title := fmt.Sprintf("Height of the %s at %.2f, %.2f", f, at.X, at.Y)
	field := (&widget.Field{Label: "Height above the table", Kind: widget.Length, Min: -edit.Reach, Max: edit.Reach, Step: 0.1}).WithNumber(now)
	v.ask(s, title, field, func(fm *widget.Form) error {
		err := s.Do(fmt.Sprintf("Read the %s", f), func(st planner.Stone) (planner.Stone, error) {
			return planner.AddReading(st, f, geometry.Vec3{X: at.X, Y: at.Y, Z: fm.Number(0)})
		})
		if err == nil {
			s.Face = f
		}
		return err
	})
}

// askHeights asks for both faces at once.
func (v *View) askHeights(s *view.State) {
	height := func(label string, f planner.Face, middle bool, otherwise float64) *widget.Field {
		now := otherwise
		if s.Rough != nil && s.RoughOf == s.Revision() {
			spots := spread(s.Stone().Outline)
			p := spots[0]
			if !middle {
				p = spots[1]
			}
			now = math.Round(s.Rough.Height(f, p.X, p.Y)*10) / 10
		}
		return (&widget.Field{Label: label, Kind: widget.Length, Min: -edit.Reach, Max: edit.Reach}).WithNumber(now)
	}
	s.Ask(&widget.Form{
		Title: "Heights above the table: instead of the readings there are",
		Fields: []*widget.Field{
			height("Top in the middle", planner.Top, true, 9), height("Top near the rim", planner.Top, false, 6),
			height("Base in the middle", planner.Base, true, 0), height("Base near the rim", planner.Base, false, 1),
		},
		Done: func(f *widget.Form) error {
			if f.Number(0) <= f.Number(2) {
				return widget.Wrong{Field: 0, Err: fmt.Errorf("the top must lie above the base in the middle")}
			}
			return s.Do("Give all heights", func(st planner.Stone) (planner.Stone, error) {
				return withHeights(st, [2]float64{f.Number(0), f.Number(1)}, [2]float64{f.Number(2), f.Number(3)})
			})
		},
	})
}

// withHeights returns the stone with readings of both faces, each from its
// height in the middle and near the rim.
func withHeights(st planner.Stone, top, base [2]float64) (planner.Stone, error) {
	out := st
	out.Top, out.Base = nil, nil
	for i, p := range spread(st.Outline) {
		k := min(i, 1)
		for _, r := range []struct {
			f planner.Face
			z float64
		}{{planner.Top, top[k]}, {planner.Base, base[k]}} {
			next, err := planner.AddReading(out, r.f, geometry.Vec3{X: p.X, Y: p.Y, Z: r.z})
			if err != nil {
				return st, err
			}
			out = next
		}
	}
	return out, nil
}

// rimShare is how far towards the outline the readings near the rim are taken:
// far enough out to hold the surface there, near enough in for a depth gauge.
const rimShare = 0.8

// spread returns the spots where a cutter would read heights: the middle of the
// outline, then eight near its rim.
func spread(outline []geometry.Vec2) []geometry.Vec2 {
	middle := planner.Extent(outline).Centre
	out := []geometry.Vec2{edit.Tidy(middle)}
	for i := range 8 {
		sin, cos := math.Sincos(float64(i) * math.Pi / 4)
		way := geometry.Vec2{X: cos, Y: sin}
		far := 0.0
		for k, a := range outline {
			b := outline[(k+1)%len(outline)]
			e, w := b.Sub(a), a.Sub(middle)
			across := way.Cross(e)
			if across == 0 {
				continue
			}
			if t, u := w.Cross(e)/across, w.Cross(way)/across; u >= 0 && u <= 1 {
				far = max(far, t)
			}
		}
		if far > 0 {
			out = append(out, edit.Tidy(middle.Add(way.Scale(rimShare*far))))
		}
	}
	return out
}

// askCalipers asks for the size the calipers read.
func (v *View) askCalipers(s *view.State) {
	e := planner.Extent(s.Stone().Outline)
	size := func(label string, now float64) *widget.Field {
		return (&widget.Field{Label: label, Kind: widget.Length, Min: 0.5, Max: 500}).WithNumber(math.Round(now*100) / 100)
	}
	s.Ask(&widget.Form{
		Title:  "Scale the whole stone in plan, marks and readings with it",
		Fields: []*widget.Field{size("Length", e.Length), size("Width", e.Width)},
		Done: func(f *widget.Form) error {
			if f.Number(1) > f.Number(0) {
				return widget.Wrong{Field: 1, Err: fmt.Errorf("the width is the shorter of the two")}
			}
			return s.Do("Scale to calipers", func(st planner.Stone) (planner.Stone, error) {
				return planner.ScaleOutlineTo(st, f.Number(0), f.Number(1))
			})
		},
	})
}

// askTurn asks for an angle to turn the stone by.
func (v *View) askTurn(s *view.State) {
	level := -planner.Extent(s.Stone().Outline).Angle * 180 / math.Pi
	field := (&widget.Field{Label: "Turn to the left by", Kind: widget.Angle, Min: -360, Max: 360, Step: 5}).WithNumber(math.Round(level*10) / 10)
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
				from, err := planner.NewStone(st.Name, st.Material, geometry.Vec3{X: f.Number(0), Y: f.Number(1), Z: f.Number(2)}, planner.Forms()[f.Choice(3)], s.Presets)
				if err != nil {
					return st, err
				}
				st.Outline, st.Top, st.Base = from.Outline, from.Top, from.Base
				return st, nil
			})
		},
	})
}
