package outlineview

import (
	"errors"
	"fmt"
	"math"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/ui/edit"
	"cabwright/ui/view"
	"cabwright/ui/widget"
)

// thickest is the greatest thickness that can be typed, mm.
const thickest = 500

// rough returns the solid if it belongs to the stone as it is now, else nil.
func rough(s *view.State) *planner.Rough {
	if s.RoughOf != s.Revision() || s.RoughErr != nil {
		return nil
	}
	return s.Rough
}

// misread refuses a height typed on the wrong side of the other face, as far as that is
// known: while something else is wrong nothing is refused, so that it can be put right.
func misread(s *view.State, f planner.Face, p geometry.Vec3) error {
	r := rough(s)
	if r == nil {
		return nil
	}
	if err := r.Misread(f, p); err != nil {
		return widget.Wrong{Field: 0, Err: err}
	}
	return nil
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
	if r := rough(s); r != nil {
		now = math.Round(r.Height(f, at.X, at.Y)*100) / 100
	}
	title := fmt.Sprintf("Height of the %s at %.2f, %.2f", f, at.X, at.Y)
	field := &widget.Field{Label: "Height above the table", Kind: widget.Length, Min: -edit.Reach, Max: edit.Reach}
	field.WithNumber(now)
	v.ask(s, title, field, func(fm *widget.Form) error {
		if err := misread(s, f, geometry.Vec3{X: at.X, Y: at.Y, Z: fm.Number(0)}); err != nil {
			return err
		}
		err := s.Do(fmt.Sprintf("Read the %s", f), func(st planner.Stone) (planner.Stone, error) {
			return planner.AddReading(st, f, geometry.Vec3{X: at.X, Y: at.Y, Z: fm.Number(0)})
		})
		if err == nil {
			s.Face = f
		}
		return err
	})
}

// lies are the ways a stone known by its thickness can lie, as words.
var lies = []string{"flat on the table", "as round below as above"}

// askThickness asks for the greatest thickness and that of the rim all round.
func (v *View) askThickness(s *view.State) {
	most, rim := 9.0, 4.0
	if r := rough(s); r != nil {
		most, _ = r.Thickness()
		p := s.Stone().Outline[0]
		rim = max(0.5, r.Top(p.X, p.Y)-r.Base(p.X, p.Y))
	}
	field := func(label string, now float64) *widget.Field {
		f := &widget.Field{Label: label, Kind: widget.Length, Min: 0.1, Max: thickest}
		return f.WithNumber(math.Round(now*10) / 10)
	}
	var notes []string
	if n := len(s.Stone().Top) + len(s.Stone().Base); n > 0 {
		notes = []string{
			fmt.Sprintf("They take the place of the %s there are; u brings those back.", edit.Count(n, "reading")),
		}
	}
	s.Ask(&widget.Form{
		Title: "Thickness by the calipers",
		Notes: notes,
		Fields: []*widget.Field{
			field("The greatest, in the middle", most),
			field("At the rim, all round", rim),
			(&widget.Field{Label: "The stone lies", Kind: widget.Choose, Choices: lies}).With(lies[0]),
		},
		Done: func(f *widget.Form) error {
			if f.Number(1) > f.Number(0) {
				return widget.Wrong{Field: 1, Err: errors.New("the rim is no thicker than the greatest thickness")}
			}
			return s.Do(view.ThicknessAllRound, func(st planner.Stone) (planner.Stone, error) {
				return planner.SetThicknesses(st, f.Number(0), f.Number(1), planner.Rounding(f.Choice(2)))
			})
		},
	})
}

// askThicknessHere asks for a thickness at the cursor, and the first time for the
// face that it moves.
func (v *View) askThicknessHere(s *view.State) {
	at := s.Cursor
	thick := &widget.Field{Label: "Thick here", Kind: widget.Length, Min: 0.1, Max: thickest}
	if r := rough(s); r != nil {
		thick.WithNumber(math.Round(100*(r.Top(at.X, at.Y)-r.Base(at.X, at.Y))) / 100)
	}
	which := v.movesField()
	known := v.moves != ""
	which.Hidden = func(*widget.Form) bool { return known }
	s.Ask(&widget.Form{
		Title:  fmt.Sprintf("Thickness at %s", edit.At(at)),
		Fields: []*widget.Field{thick, which},
		Done: func(f *widget.Form) error {
			v.takeMoves(f, 1)
			return s.Do(fmt.Sprintf("Read a thickness at %s", edit.At(at)), func(st planner.Stone) (planner.Stone, error) {
				return planner.ReadThickness(st, at, f.Number(0), v.moves)
			})
		},
	})
}

// askRim asks for the rim's thickness all round; the readings elsewhere stay.
func (v *View) askRim(s *view.State) {
	which := v.movesField()
	known := v.moves != ""
	which.Hidden = func(*widget.Form) bool { return known }
	s.Ask(&widget.Form{
		Title: "The rim's thickness, all round; readings elsewhere stay",
		Fields: []*widget.Field{
			(&widget.Field{Label: "Thick at the rim", Kind: widget.Length, Min: 0.1, Max: thickest}).WithNumber(4),
			which,
		},
		Done: func(f *widget.Form) error {
			v.takeMoves(f, 1)
			return s.Do("Give the rim's thickness", func(st planner.Stone) (planner.Stone, error) {
				return planner.RimThickness(st, f.Number(0), v.moves)
			})
		},
	})
}

// askMoves asks which face a thickness moves.
func (v *View) askMoves(s *view.State) {
	s.Ask(&widget.Form{
		Title:  "Which face does a thickness move?",
		Fields: []*widget.Field{v.movesField()},
		Done: func(f *widget.Form) error {
			v.takeMoves(f, 0)
			return nil
		},
	})
}

var movesWords = []string{"the top, the base stays as it is", "the base, the top stays as it is"}

// movesField asks which face a thickness moves.
func (v *View) movesField() *widget.Field {
	now := movesWords[0]
	if v.moves == planner.Base {
		now = movesWords[1]
	}
	return (&widget.Field{Label: "It moves", Kind: widget.Choose, Choices: movesWords}).With(now)
}

func (v *View) takeMoves(f *widget.Form, i int) {
	v.moves = [...]planner.Face{planner.Top, planner.Base}[f.Choice(i)]
}
