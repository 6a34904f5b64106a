package sawview

import (
	"math"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"cabwright/planner"
	"cabwright/planner/cuts"
	"cabwright/planner/search"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

// done clips the outline by the first cut to the piece with the chosen stone, or with the
// heaviest where that is none of those sawn, and offers the other piece as a stone of its
// own. Each piece gets its stones, and the cuts beside them.
func (v *View) done(s *view.State) tea.Cmd {
	all, fits := v.kept(s), v.fits(s)
	stone := fits[0]
	for _, f := range fits {
		if view.SameFit(f, *s.Chosen) {
			stone = f
		}
	}
	first := planeOf(all[0])
	side := first.Height(stone.Pose.Origin) < 0
	with := func(f search.Fit) bool { return (first.Height(f.Pose.Origin) < 0) == side }
	var mine, others []planner.Cut
	for _, k := range all[1:] {
		if with(v.beside(s, k)) {
			mine = append(mine, k)
		} else {
			others = append(others, k)
		}
	}
	cut, inside := cuts.Cut{Plane: first, Kerf: all[0].Kerf}, stone.Pose.Origin.XY()
	_, other, err := cuts.Sawn(s.Stone(), cut, inside)
	if err == nil {
		other, err = adopt(other, others)
	}
	if err != nil {
		s.Refuse(err)
		return nil
	}
	err = s.Do("Saw "+planner.Visible(all[0].ID), func(st planner.Stone) (planner.Stone, error) {
		kept, _, err := cuts.Sawn(st, cut, inside)
		if err != nil {
			return st, err
		}
		return adopt(kept, mine)
	})
	if err != nil {
		return nil
	}
	v.holdStones(s, slices.DeleteFunc(fits, func(f search.Fit) bool { return !with(f) }))
	s.Say(style.Text, "%s is sawn: weigh the piece anew, and go over its marks. u takes it back.",
		planner.Visible(all[0].ID))
	return func() tea.Msg { return view.NewStoneMsg{Stone: other} }
}

// beside is the stone that a cut runs nearest to: the one that it is made for.
func (v *View) beside(s *view.State, k planner.Cut) (nearest search.Fit) {
	least := math.Inf(1)
	for _, f := range v.fits(s) {
		if d := roomBeside(s, k, f); d < least {
			nearest, least = f, d
		}
	}
	return nearest
}

// holdStones has the cuts go on being for these stones alone.
func (v *View) holdStones(s *view.State, fits []search.Fit) {
	if v.stones == 1 || len(fits) == 0 {
		return
	}
	v.stones, v.pick = len(fits), 0
	if len(fits) == 1 {
		s.Choose(fits[0])
		return
	}
	layout := cuts.Layout{}
	for _, f := range fits {
		layout.Fits = append(layout.Fits, cuts.Placed{Fit: f})
	}
	v.answer = &answer{of: question{stones: v.stones}, layouts: []cuts.Layout{layout}}
}
