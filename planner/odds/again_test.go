package odds

import (
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/planner"
)

// narrowed is a stone with the least of each range moved up by a quarter of it.
func narrowed(s planner.Stone) planner.Stone {
	up := func(r *planner.Range, likely *float64) *planner.Range {
		if r == nil || r.Open {
			return r
		}
		by := *r
		by.Least += (r.Most - r.Least) / 4
		*likely = max(*likely, by.Least)
		return &by
	}
	s.Cracks, s.Pockets = append([]planner.Crack(nil), s.Cracks...), append([]planner.Pocket(nil), s.Pockets...)
	for i := range s.Cracks {
		s.Cracks[i].DepthRange = up(s.Cracks[i].DepthRange, &s.Cracks[i].Depth)
	}
	for i := range s.Pockets {
		s.Pockets[i].DepthRange = up(s.Pockets[i].DepthRange, &s.Pockets[i].Depth)
	}
	return s
}

// After an edit of ranges places known are what a judge of the stone as it is now makes of
// them; a stone of which more was edited is not taken.
func TestPlacesKnownAfterAnEdit(t *testing.T) {
	s := uneven()
	j, err := NewJudge(s)
	require.NoError(t, err)
	var old []Place
	for _, at := range []geometry.Vec3{{X: 1, Y: 1, Z: 3}, {X: -3, Y: 2, Z: 2.6}, {X: 2, Y: -3, Z: 3.4}} {
		f := cabochon(t, at.Z)
		f.Pose.Origin = at
		p, ok := j.Place(f)
		require.True(t, ok)
		p.Planned = &Planned{f.Pose, p.Odds}
		old = append(old, p)
	}
	edited := narrowed(s)
	next, ok := j.Again(edited)
	require.True(t, ok)
	got := next.Rejudge(old)
	fresh, err := NewJudge(edited)
	require.NoError(t, err)
	changed := 0
	for i, p := range got {
		want, ok := fresh.Place(old[i].Fit)
		require.True(t, ok)
		require.Equal(t, want.Limits, p.Limits)
		require.Equal(t, want.Odds, p.Planned.Odds)
		if want.Odds != old[i].Odds {
			changed++
		}
	}
	require.Positive(t, changed, "the edit decides something")
	require.Len(t, next.AnswerOf(got).LookFirst, 3)

	for name, edit := range map[string]func(*planner.Stone){
		"the skin":           func(s *planner.Stone) { s.Allowances.Skin = 0.6 },
		"a corner":           func(s *planner.Stone) { s.Outline = append([]geometry.Vec2{{X: -21}}, s.Outline[1:]...) },
		"a mark now sure":    func(s *planner.Stone) { s.Cracks[0].DepthRange = nil },
		"another sure mark":  func(s *planner.Stone) { s.Pockets = append(s.Pockets, planner.Pocket{ID: "P9"}) },
		"nothing unsure now": func(s *planner.Stone) { s.Cracks, s.Pockets = nil, nil },
	} {
		s := narrowed(uneven())
		edit(&s)
		_, ok := j.Again(s)
		require.False(t, ok, name)
	}
}
