package drawing

import (
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/ui/canvas"
)

// Where the rough lies between the heights 1 and 7, a pocket takes of it what the
// stone file says: from its face inwards, all of it, or what is between two heights.
func TestAPocketIsDrawnFromItsFace(t *testing.T) {
	for _, c := range []struct {
		name   string
		pocket planner.Pocket
		from   float64
		to     float64
	}{
		{"from the top", planner.Pocket{Face: planner.Top, Depth: 2}, 5, 7},
		{"from the base", planner.Pocket{Face: planner.Base, Depth: 2}, 1, 3},
		{"from the base, deeper than the stone", planner.Pocket{Face: planner.Base, Depth: 20}, 1, 7},
		{"from the top, deeper than the stone", planner.Pocket{Face: planner.Top, Depth: 20}, 1, 7},
		{"through", planner.Pocket{Face: planner.Through}, 1, 7},
		{"inside", planner.Pocket{Face: planner.Inside, Low: 3, High: 4}, 3, 4},
		{"inside, but for its lower part", planner.Pocket{Face: planner.Inside, Low: -3, High: 4}, 1, 4},
	} {
		from, to := pocketHeights(c.pocket, likely, 1, 7)
		require.Equal(t, [2]float64{c.from, c.to}, [2]float64{from, to}, c.name)
	}
}

// In the section itself the pocket's cells lie at those heights.
func TestASectionShowsAPocketAtItsFace(t *testing.T) {
	for face, heights := range map[planner.Face][2]float64{planner.Top: {5, 7}, planner.Base: {1, 3}} {
		s := Scene{Stone: slab(), Bare: true}
		s.Stone.Pockets = []planner.Pocket{{ID: "P1", Face: face, Depth: 2,
			Outline: []geometry.Vec2{v2(-4, -4), v2(4, -4), v2(4, 4), v2(-4, 4)}}}
		s.Rough = roughOf(t, s.Stone)
		cut := Cut{v2(-12, 0), v2(12, 0)}
		c := canvas.New(120, 60, canvas.Braille)
		view := s.SectionWindow(cut, 120, 60, 1)
		c.SetView(view)
		Section(c, s, cut)
		seen := 0
		for row := range 60 {
			for col := range 120 {
				if class, drawn := c.Drawn(col, row); !drawn || class != canvas.Pocket {
					continue
				}
				seen++
				z := view.At(120, 60, col, row).Y
				require.True(t, z > heights[0]-2*view.MMPerCell && z < heights[1]+2*view.MMPerCell, "%s: a pocket's cell at %g",
					face, z)
			}
		}
		require.Greater(t, seen, 20, string(face))
	}
}
