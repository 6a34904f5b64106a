package fits

import (
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/ui/keys"
	"cabwright/ui/view"
)

// A small round in a corner of a slab 6 mm thick is laid where it keeps most: half of what
// the slab has more than it and both skins. It can be put back.
func TestMostSpare(t *testing.T) {
	stone := planner.Stone{
		Name: "slab", Material: "agate", SG: 2.6,
		Outline:    []geometry.Vec2{{X: -12, Y: -12}, {X: 12, Y: -12}, {X: 12, Y: 12}, {X: -12, Y: 12}},
		Top:        []geometry.Vec3{{Z: 6}},
		Base:       []geometry.Vec3{{Z: 0}},
		Allowances: planner.Allowances{Skin: 0.5, Crack: 1, SealedCrack: 0.6, Pocket: 0.5},
	}
	round := fit(t, "round", 8, 8, planner.Top, 1, true)
	round.Pose = search.Pose{Origin: geometry.Vec3{X: -7, Y: -7, Z: 0.6}, Axes: geometry.Identity3()}
	round.Clearance = 0.1
	v, s := newView(), stateOf(stone, search.Plan{Fits: []search.Fit{round}})
	press(t, v, s, "G")
	require.InDelta(t, (6-round.Solid.Height())/2-0.5, s.Chosen.Clearance, 0.02)
	most := *s.Chosen
	press(t, v, s, "o")
	require.True(t, view.SameFit(round, *s.Chosen))

	// Where nothing is won the fit is the plan's still: it was not moved by hand.
	v, s = newView(), stateOf(stone, search.Plan{Fits: []search.Fit{most}})
	press(t, v, s, "G")
	require.Contains(t, s.Status().Text, "No place of it was found that keeps more")
	require.False(t, v.hand.on)
	require.Nil(t, v.hand.found)

	// What was found of the stone as it was before an edit is not taken, and work that is not
	// wanted any more ends.
	v, s = newView(), stateOf(stone, search.Plan{Fits: []search.Fit{round}})
	a, _ := keys.Find(v.Actions(s), "G")
	found := a.Run()()
	ctx, run := v.hand.begin(s)
	v.hand.drop()
	require.Error(t, ctx.Err())
	v.hand.run, v.hand.settling = run-1, true
	require.NoError(t, s.Do("thicker skin", func(st planner.Stone) (planner.Stone, error) {
		st.Allowances.Skin = 1
		return st, nil
	}))
	v.Update(s, found)
	require.Contains(t, s.Status().Text, "changed meanwhile")
	require.Equal(t, round.Pose, s.Chosen.Pose)
	require.False(t, v.hand.settling)
}
