package marks

import (
	"errors"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/odds"
	"cabwright/ui/edit"
	"cabwright/ui/view"
	"cabwright/ui/widget"
)

// askCrack asks for what a drawn line lacks to be a crack.
func askCrack(s *view.State, title string, k planner.Crack, keep func(planner.Crack) error) {
	const depth, lean, toward, runOn, sealed, face = 0, 1, 2, 3, 4, 5
	deep := unsure(s, "Depth straight in", odds.Depth, spanOf(k.Depth, k.Through, k.DepthRange))
	deep.Optional = "right through"
	if k.Through && k.DepthRange == nil {
		deep.With("")
	}
	aim := angle("Leans toward (0 right, 90 away from you)", 360, k.Toward)
	aim.Hidden = func(f *widget.Form) bool { return f.Number(lean) == 0 }
	closed := 0
	if k.Sealed {
		closed = 1
	}
	s.Ask(&widget.Form{
		Title: title,
		Fields: []*widget.Field{
			depth:  deep,
			lean:   angle("Lean from the upright", 80, k.Lean),
			toward: aim,
			runOn:  unsure(s, "May run on at both ends by", odds.RunOn, spanOf(k.RunOn, false, k.RunOnRange)),
			sealed: choose("Sealed with thin cyanoacrylate", closed, "no", "yes"),
			face:   faceField("On the", k.Face),
		},
		Done: func(f *widget.Form) error {
			d, run := f.Span(depth), f.Span(runOn)
			k.Through, k.Depth, k.DepthRange = f.Blank(depth) || d.Through, d.Likely, rangeOf(d)
			k.RunOn, k.RunOnRange = run.Likely, rangeOf(run)
			k.Lean, k.Toward = f.Number(lean), f.Number(toward)
			k.Sealed, k.Face = f.Choice(sealed) == 1, faceRead(f, face)
			if !k.Through && k.Depth == 0 {
				return widget.Wrong{Field: depth, Err: errors.New("a crack has some depth: leave it empty for right through")}
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
	{planner.Top, "into the top"},
	{planner.Base, "into the base"},
	{planner.Through, "right through"},
	{planner.Inside, "inside, between two heights"},
}

// pocketFields are the fields that say how deep a pocket goes; the first of them
// is to be at index i of its form.
func pocketFields(s *view.State, i int, p planner.Pocket) []*widget.Field {
	at, words := 0, make([]string, len(wheres))
	for k, w := range wheres {
		words[k] = w.words
		if w.face == p.Face {
			at = k
		}
	}
	inside := func(f *widget.Form) bool { return wheres[f.Choice(i+1)].face == planner.Inside }
	deep := unsure(s, "Depth", odds.Depth, spanOf(p.Depth, false, p.DepthRange))
	deep.Hidden = func(f *widget.Form) bool { return inside(f) || wheres[f.Choice(i+1)].face == planner.Through }
	low := unsure(s, "Lowest height above the table", odds.Bottom, spanOf(p.Low, false, p.BottomRange))
	high := unsure(s, "Highest height above the table", odds.Top, spanOf(p.High, false, p.TopRange))
	low.Hidden = func(f *widget.Form) bool { return !inside(f) }
	high.Hidden = low.Hidden
	return []*widget.Field{deep, choose("Goes", at, words...), low, high}
}

// readPocket takes the fields of pocketFields, the first of them at index i.
func readPocket(f *widget.Form, i int, p planner.Pocket) (planner.Pocket, error) {
	p.Face = wheres[f.Choice(i+1)].face
	p.Depth, p.Low, p.High = 0, 0, 0
	p.DepthRange, p.BottomRange, p.TopRange = nil, nil, nil
	switch p.Face {
	case planner.Top, planner.Base:
		d := f.Span(i)
		p.Depth, p.DepthRange = d.Likely, rangeOf(d)
		if d.Through {
			return p, widget.Wrong{
				Field: i,
				Err:   errors.New("give the likely depth too, like 2-4-through, or choose right through below"),
			}
		}
		if p.Depth <= 0 {
			return p, widget.Wrong{Field: i, Err: errors.New("how deep does it go in?")}
		}
	case planner.Inside:
		low, high := f.Span(i+2), f.Span(i+3)
		if low.Open || high.Open {
			return p, widget.Wrong{Field: i + 2, Err: errors.New("both heights need an end")}
		}
		p.Low, p.BottomRange, p.High, p.TopRange = low.Likely, rangeOf(low), high.Likely, rangeOf(high)
		if p.Low >= p.High {
			return p, widget.Wrong{Field: i + 3, Err: errors.New("the highest must lie above the lowest")}
		}
	}
	return p, nil
}

// askPocket asks for what a drawn outline lacks to be a pocket.
func askPocket(s *view.State, title string, p planner.Pocket, keep func(planner.Pocket) error) {
	s.Ask(&widget.Form{Title: title, Fields: pocketFields(s, 0, p), Done: func(f *widget.Form) error {
		read, err := readPocket(f, 0, p)
		if err != nil {
			return err
		}
		return keep(read)
	}})
}

// ovalFields ask for a round or oval outline about a point.
func ovalFields(middle geometry.Vec2, length float64) []*widget.Field {
	return []*widget.Field{
		edit.PlaceField("Middle at x, y", middle.X, middle.Y),
		(&widget.Field{Label: "Across, or length x width", Kind: widget.Size, Min: 0.1, Max: deepest}).WithNumber(length),
	}
}

// turnField asks how a shape that is not round lies; the size is asked at index i.
func turnField(i int) *widget.Field {
	f := angle("Turned to the left by", 360, 0)
	f.Hidden = func(f *widget.Form) bool {
		size := f.Point(i)
		return len(size) < 2 || size[0] == size[1]
	}
	return f
}

// readOval takes the middle at index 0, the size at 1 and the turn at index turn.
func readOval(f *widget.Form, turn int) []geometry.Vec2 {
	middle, size := f.Point(0), f.Point(1)
	return planner.OvalOutline(geometry.Vec2{X: middle[0], Y: middle[1]}, size[0], size[1], f.Number(turn))
}

// askOval asks for a round or oval pocket.
func (v *View) askOval(s *view.State) {
	const deep, turn = 2, 6
	fields := append(ovalFields(s.Cursor, 3), pocketFields(s, deep, planner.Pocket{Face: s.Face, Depth: 2, High: 1})...)
	fields = append(fields, turnField(1))
	s.Ask(&widget.Form{Title: "A round or oval pocket", Fields: fields, Done: func(f *widget.Form) error {
		p, err := readPocket(f, deep, planner.Pocket{})
		if err != nil {
			return err
		}
		p.Outline = readOval(f, turn)
		return v.add(
			s,
			"Add an oval pocket",
			view.Pocket,
			func(st planner.Stone) (planner.Stone, error) { return planner.AddPocket(st, p) },
		)
	}})
}

// zoneFields are the fields of a colour zone; the first of them is to be at
// index i of its form.
func zoneFields(z planner.Zone) []*widget.Field {
	return []*widget.Field{
		(&widget.Field{Label: "Grade, 0 potch to 5 brilliant", Kind: widget.Plain, Max: 5, Step: 1}).WithNumber(z.Grade),
		blank("How deep the colour goes", "not known", z.Depth),
		(&widget.Field{Label: "Pattern", Kind: widget.Words, MaxLen: 60}).With(z.Pattern),
		faceField("Seen on the", z.Face),
	}
}

// readZone takes the fields of zoneFields, the first of them at index i.
func readZone(f *widget.Form, i int, z planner.Zone) planner.Zone {
	z.Grade, z.Depth, z.Pattern, z.Face = f.Number(i), f.Number(i+1), f.Text(i+2), faceRead(f, i+3)
	return z
}

// askZone asks for what a drawn outline lacks to be a colour zone.
func askZone(s *view.State, title string, z planner.Zone, keep func(planner.Zone) error) {
	s.Ask(
		&widget.Form{
			Title:  title,
			Fields: zoneFields(z),
			Done:   func(f *widget.Form) error { return keep(readZone(f, 0, z)) },
		},
	)
}

// askOvalZone asks for a round or oval colour zone.
func (v *View) askOvalZone(s *view.State) {
	const first, turn = 2, 6
	fields := append(ovalFields(s.Cursor, 6), zoneFields(planner.Zone{Face: s.Face, Grade: 3})...)
	fields = append(fields, turnField(1))
	s.Ask(&widget.Form{Title: "A round or oval colour zone", Fields: fields, Done: func(f *widget.Form) error {
		z := readZone(f, first, planner.Zone{Outline: readOval(f, turn)})
		return v.add(
			s,
			"Add an oval colour zone",
			view.Zone,
			func(st planner.Stone) (planner.Stone, error) { return planner.AddZone(st, z) },
		)
	}})
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

// askPlace asks for the exact place of the selected point, of the points of what
// is being drawn, or of the cursor.
func (v *View) askPlace(s *view.State) {
	if v.drawing != view.Nothing {
		title := "A " + kindName(v.drawing) + " on the " + string(s.Face) + ", point after point"
		v.draft.Ask(s, v.sketch(), title, func() error {
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
