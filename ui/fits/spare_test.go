package fits

import (
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/search"
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
}
