package edit

import (
	"errors"
	"fmt"

	"cabwright/planner"
	"cabwright/planner/odds"
	"cabwright/ui/style"
	"cabwright/ui/view"
	"cabwright/ui/widget"
)

// Lookable lists the marks of which it is not known how deep they go from a face: what
// a window dug beside them tells more of.
func Lookable(st planner.Stone) []string {
	var out []string
	for _, k := range st.Cracks {
		if k.DepthRange != nil {
			out = append(out, k.ID)
		}
	}
	for _, p := range st.Pockets {
		if p.DepthRange != nil && (p.Face == planner.Top || p.Face == planner.Base) {
			out = append(out, p.ID)
		}
	}
	return out
}

// AskLooked asks how deep a mark was looked at that was still there: that is then the
// least it can be. The mark and the depth offered first are the given ones; a depth of
// 0 offers none.
func AskLooked(s *view.State, mark string, depth float64) {
	marks := Lookable(s.Stone())
	shown, first := make([]string, len(marks)), ""
	for i, id := range marks {
		shown[i] = planner.Visible(id)
		if first == "" || id == mark {
			first = shown[i]
		}
	}
	to := &widget.Field{Label: "Looked as deep as", Kind: widget.Length, Min: 0.01, Max: 1000}
	if depth > 0 {
		to.WithNumber(depth)
	}
	s.Ask(&widget.Form{
		Title: "Looked, and it is still there",
		Fields: []*widget.Field{
			(&widget.Field{Label: "Mark", Kind: widget.Choose, Choices: shown}).With(first), to,
		},
		Done: func(f *widget.Form) error {
			id, mm := marks[f.Choice(0)], f.Number(1)
			name := fmt.Sprintf("Look at %s to %g mm", planner.Visible(id), mm)
			err := s.Do(name, func(st planner.Stone) (planner.Stone, error) { return planner.LookedTo(st, id, mm) })
			if err != nil {
				return widget.Wrong{Field: 1, Err: errors.New(planner.Visible(err.Error()))}
			}
			s.Say(style.Text, "%s is %g mm deep at the least. u takes it back.", planner.Visible(id), mm)
			return nil
		},
	})
}

// LookNext is the mark that is worth looking at first and how deep, as far as is known.
func LookNext(looks []odds.Look) (mark string, depth float64) {
	for _, l := range looks {
		if l.What == odds.Depth && l.To > 0 {
			return l.ID, l.To
		}
	}
	return "", 0
}
