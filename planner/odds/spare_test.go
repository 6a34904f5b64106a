package odds

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/planner"
	"cabwright/planner/search"
)

// A stone that is in two halves for the stone sought: over the left one the slab is 5.4
// thick, over the right 8, with a pocket right through between them. From the left, where
// settling keeps 0.1 mm at the most, the way to 1.4 on the right is not downhill.
func TestMostSpareLeavesANarrowPlace(t *testing.T) {
	s := slab(5.4)
	wall := basePocket("P1", 0)
	wall.Face, wall.DepthRange = planner.Through, nil
	wall.Outline = s.Outline
	for i := range wall.Outline {
		wall.Outline[i].X *= 0.05
	}
	s.Outline = slab(1).Outline
	s.Pockets = []planner.Pocket{wall}
	s.Top = nil
	for x := -20.0; x <= 20; x += 4 {
		for y := -20.0; y <= 20; y += 10 {
			p := slab(5.4).Top[0]
			p.X, p.Y = x, y
			if x > 2 {
				p.Z = 8
			}
			s.Top = append(s.Top, p)
		}
	}
	f := cabochon(t, 0.6)
	f.Pose.Origin.X = -11
	site, err := search.Open(s)
	require.NoError(t, err)
	_, near := site.Improve(f.Candidate, f.Pose, 0)
	require.Less(t, near, 0.3)
	got, err := MostSpare(context.Background(), s, f, 0)
	require.NoError(t, err)
	require.Greater(t, got.Clearance, 1.2)
	require.Less(t, got.Clearance, 1.45, "half of 8 less 4.2 and two skins")
	require.Greater(t, got.Pose.Origin.X, 5.0)
	_, err = MostSpare(context.Background(), planner.Stone{}, f, 0)
	require.Error(t, err)
}
