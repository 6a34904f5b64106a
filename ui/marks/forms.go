package marks

import (
	"errors"
	"slices"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/ui/edit"
	"cabwright/ui/view"
	"cabwright/ui/widget"
)

// deepest is the greatest depth that can be typed, mm: no rough for the saw and
// wheel is thicker.
const deepest = 500

func choose(label string, now int, words ...string) *widget.Field {
	return (&widget.Field{Label: label, Kind: widget.Choose, Choices: words}).With(words[max(0, now)])
}

func length(label string, now float64) *widget.Field {
	return (&widget.Field{Label: label, Kind: widget.Length, Max: deepest}).WithNumber(now)
}

func angle(label string, most, now float64) *widget.Field {
	return (&widget.Field{Label: label, Kind: widget.Angle, Max: most, Step: 5}).WithNumber(now)
}

// blank is a length that may be left empty; 0 is shown as empty.
func blank(label, meaning string, now float64) *widget.Field {
	f := &widget.Field{Label: label, Kind: widget.Length, Max: deepest, Optional: meaning}
	if now != 0 {
		f.WithNumber(now)
	}
	return f
}

var faceWords = []string{"top", "base"}

// askCrack asks for what a drawn line lacks to be a crack.
func askCrack(s *view.State, title string, k planner.Crack, keep func(planner.Crack) error) {
	depth := k.Depth
	if k.Through {
		depth = 0
	}
	sealed := 0
	if k.Sealed {
		sealed = 1
	}
	s.Ask(&widget.Form{
		Title: title,
		Fields: []*widget.Field{
			choose("On the", slices.Index(faceWords, string(k.Face)), faceWords...),
			blank("Depth straight in", "right through", depth),
			angle("Lean from the upright", 80, k.Lean),
			angle("Leans toward (0 right, 90 away from you)", 360, k.Toward),
			length("May run on at both ends by", k.RunOn),
			choose("Sealed with thin cyanoacrylate", sealed, "no", "yes"),
		},
		Done: func(f *widget.Form) error {
			k.Face = planner.Face(faceWords[f.Choice(0)])
			k.Through, k.Depth = f.Blank(1), f.Number(1)
			k.Lean, k.Toward, k.RunOn, k.Sealed = f.Number(2), f.Number(3), f.Number(4), f.Choice(5) == 1
			if !k.Through && k.Depth == 0 {
				return widget.Wrong{Field: 1, Err: errors.New("a crack has some depth: leave it empty for right through")}
			}
			return keep(k)
		},
	})
}

// wheres are the places a pocket can have, as words.
var wheres = []struct {
	face  planner.Face
	words string
}{
	{planner.Top, "into the top"}, {planner.Base, "into the base"},
	{planner.Through, "right through"}, {planner.Inside, "inside, between two heights"},
}

// pocketFields are the fields that say how deep a pocket goes.
func pocketFields(p planner.Pocket) []*widget.Field {
	at, words := 0, make([]string, len(wheres))
	for i, w := range wheres {
		words[i] = w.words
		if w.face == p.Face {
			at = i
		}
	}
	height := func(label string, now float64) *widget.Field {
		f := &widget.Field{Label: label, Kind: widget.Length, Min: -edit.Reach, Max: edit.Reach, Optional: "not used"}
		if p.Face == planner.Inside {
			f.WithNumber(now)
		}
		return f
	}
	return []*widget.Field{
		choose("Goes", at, words...),
		blank("Depth", "not used", p.Depth),
		height("Lowest height above the table", p.Low), height("Highest height above the table", p.High),
	}
}

// readPocket takes the fields of pocketFields, the first of them at index i.
func readPocket(f *widget.Form, i int, p planner.Pocket) (planner.Pocket, error) {
	p.Face = wheres[f.Choice(i)].face
	p.Depth, p.Low, p.High = 0, 0, 0
	switch p.Face {
	case planner.Top, planner.Base:
		if p.Depth = f.Number(i + 1); p.Depth <= 0 {
			return p, widget.Wrong{Field: i + 1, Err: errors.New("how deep does it go in?")}
		}
	case planner.Inside:
		if f.Blank(i+2) || f.Blank(i+3) {
			return p, widget.Wrong{Field: i + 2, Err: errors.New("give the heights it lies between")}
		}
		p.Low, p.High = f.Number(i+2), f.Number(i+3)
		if p.Low >= p.High {
			return p, widget.Wrong{Field: i + 3, Err: errors.New("the highest must lie above the lowest")}
		}
	}
	return p, nil
}

// askPocket asks for what a drawn outline lacks to be a pocket.
func askPocket(s *view.State, title string, p planner.Pocket, keep func(planner.Pocket) error) {
	s.Ask(&widget.Form{Title: title, Fields: pocketFields(p), Done: func(f *widget.Form) error {
		read, err := readPocket(f, 0, p)
		if err != nil {
			return err
		}
		return keep(read)
	}})
}

// askOval asks for a round or oval pocket.
func (v *View) askOval(s *view.State) {
	fields := []*widget.Field{
		edit.PlaceField("Middle at x, y", s.Cursor.X, s.Cursor.Y),
		(&widget.Field{Label: "Length", Kind: widget.Length, Min: 0.1, Max: deepest}).WithNumber(3),
		{Label: "Width", Kind: widget.Length, Min: 0.1, Max: deepest, Optional: "round"},
		angle("Turned to the left by", 360, 0),
	}
	fields = append(fields, pocketFields(planner.Pocket{Face: s.Face, Depth: 2})...)
	s.Ask(&widget.Form{Title: "A round or oval pocket", Fields: fields, Done: func(f *widget.Form) error {
		p, err := readPocket(f, 4, planner.Pocket{})
		if err != nil {
			return err
		}
		middle, wide := f.Point(0), f.Number(2)
		if f.Blank(2) {
			wide = f.Number(1)
		}
		p.Outline = planner.OvalOutline(geometry.Vec2{X: middle[0], Y: middle[1]}, f.Number(1), wide, f.Number(3))
		return v.add(s, "Add an oval pocket", view.Pocket, func(st planner.Stone) (planner.Stone, error) { return planner.AddPocket(st, p) })
	}})
}

// askZone asks for what a drawn outline lacks to be a colour zone.
func askZone(s *view.State, title string, z planner.Zone, keep func(planner.Zone) error) {
	s.Ask(&widget.Form{
		Title: title,
		Fields: []*widget.Field{
			choose("Seen on the", slices.Index(faceWords, string(z.Face)), faceWords...),
			(&widget.Field{Label: "Grade, 0 potch to 5 brilliant", Kind: widget.Plain, Max: 5, Step: 1}).WithNumber(z.Grade),
			(&widget.Field{Label: "Pattern", Kind: widget.Words, MaxLen: 60}).With(z.Pattern),
			blank("How deep the colour goes", "not known", z.Depth),
		},
		Done: func(f *widget.Form) error {
			z.Face = planner.Face(faceWords[f.Choice(0)])
			z.Grade, z.Pattern, z.Depth = f.Number(1), f.Text(2), f.Number(3)
			return keep(z)
		},
	})
}

// askChange asks for all but the points of a mark.
func (v *View) askChange(s *view.State, t view.Selection) {
	title := "Change " + called(s.Stone(), edit.Whole(t))
	mark := id(s.Stone(), t)
	switch t.Kind {
	case view.Crack:
		askCrack(s, title, s.Stone().Cracks[t.Index], func(k planner.Crack) error {
			return s.Do(title, func(st planner.Stone) (planner.Stone, error) { return planner.ReplaceCrack(st, mark, k) })
		})
	case view.Pocket:
		askPocket(s, title, s.Stone().Pockets[t.Index], func(p planner.Pocket) error {
			return s.Do(title, func(st planner.Stone) (planner.Stone, error) { return planner.ReplacePocket(st, mark, p) })
		})
	case view.Zone:
		askZone(s, title, s.Stone().Colour[t.Index], func(z planner.Zone) error {
			return s.Do(title, func(st planner.Stone) (planner.Stone, error) { return planner.ReplaceZone(st, mark, z) })
		})
	}
}

// askPlace asks for the exact place of the selected point, of the next point of
// what is being drawn, or of the cursor.
func (v *View) askPlace(s *view.State) {
	if v.drawing != view.Nothing {
		v.draft.Ask(s, v.sketch(), "A "+kindName(v.drawing)+" on the "+string(s.Face)+", point after point", func() error {
			v.finish(s)
			return nil
		})
		return
	}
	t, is := selected(s)
	now, title := s.Cursor, "Cursor"
	if is {
		t.Point = max(0, t.Point)
		now, title = points(s.Stone(), t)[t.Point], called(s.Stone(), t)
	}
	fields := []*widget.Field{edit.PlaceField("x, y", now.X, now.Y)}
	s.Ask(&widget.Form{Title: title, Fields: fields, Done: func(f *widget.Form) error {
		p := geometry.Vec2{X: f.Point(0)[0], Y: f.Point(0)[1]}
		delete(s.Doubtful, p)
		if is {
			by := p.Sub(points(s.Stone(), t)[t.Point])
			if err := v.shift(s, t, by, s.Do); err != nil {
				return err
			}
			v.warnLeaves(s, t)
		}
		v.window().Bring(s, p)
		return nil
	}})
}
