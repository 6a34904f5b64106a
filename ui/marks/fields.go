package marks

import (
	"slices"

	"cabwright/planner"
	"cabwright/planner/odds"
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

// unsure is a length or a height that may be typed as a range.
func unsure(s *view.State, label string, what odds.What, now widget.Span) *widget.Field {
	f := &widget.Field{Label: label, Kind: widget.Unsure, Max: deepest, Odds: rangeWords(s, what)}
	if what == odds.Top || what == odds.Bottom {
		f.Min, f.Max = -edit.Reach, edit.Reach
	}
	return f.With(now.Text())
}

// spanOf returns a mark's likely value with what it may be besides.
func spanOf(likely float64, through bool, r *planner.Range) widget.Span {
	if r == nil {
		return widget.Span{Least: likely, Likely: likely, Most: likely}
	}
	return widget.Span{Least: r.Least, Likely: likely, Most: r.Most, Through: through, Open: r.Open}
}

// rangeOf returns what a typed length may be besides its likely value, nil when
// it is sure.
func rangeOf(t widget.Span) *planner.Range {
	if t.Sure() {
		return nil
	}
	return &planner.Range{Least: t.Least, Most: t.Most, Open: t.Open}
}

// rangeWords says a range in words: "2 to 5 mm, likely 3: 1 in 3 deeper than 3.6".
func rangeWords(s *view.State, what odds.What) func(widget.Span) string {
	return func(t widget.Span) string {
		thick := 0.0
		if s.Rough != nil {
			thick, _ = s.Rough.Thickness()
		}
		u := odds.Unsure{What: what, Chance: 1, Range: odds.Triangular{Least: t.Least, Likely: t.Likely, Most: t.Most}}
		if t.Through {
			u.Range.Likely = thick
		}
		if t.Open {
			u.Range.Most = thick
		}
		if u.Range.Likely < t.Least || u.Range.Most < u.Range.Likely {
			return "" // the rough is thinner than that, or there is none yet
		}
		return u.Words()
	}
}

var faceWords = []string{"top", "base"}

func faceField(label string, now planner.Face) *widget.Field {
	return choose(label, slices.Index(faceWords, string(now)), faceWords...)
}

func faceRead(f *widget.Form, i int) planner.Face { return planner.Face(faceWords[f.Choice(i)]) }
