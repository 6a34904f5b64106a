package odds

import (
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/planner/stonefile"
	"cabwright/presets"
)

// A slow twin on stones with every kind of mark that is not sure: what samples say of
// where to look changes no limit that plain bisection on the exact shapes finds.
func TestLimitsFromSamplesAgainstBisection(t *testing.T) {
	dir := "../../testdata/stones/unsure"
	files, err := os.ReadDir(dir)
	require.NoError(t, err)
	require.Len(t, files, 3)
	rng := rand.New(rand.NewPCG(3, 3))
	between, whole := 0, 0
	for _, file := range files {
		doc, err := stonefile.Read(filepath.Join(dir, file.Name()), presets.Builtin())
		require.NoError(t, err)
		j, err := NewJudge(doc.Stone)
		require.NoError(t, err)
		f := cabochon(t, 3)
		g := j.newGauge(f.Candidate)
		for range 12 {
			pose := f.Pose
			pose.Origin = geometry.Vec3{X: rng.Float64()*12 - 6, Y: rng.Float64()*8 - 4, Z: 1 + 3*rng.Float64()}
			pose.Axes = geometry.RotZ(3 * rng.Float64()).Mul(geometry.RotX(0.2 * rng.Float64()))
			g.lay(pose)
			for k, q := range j.questions {
				got, ok := g.reaches(k, 0)
				require.True(t, ok)
				for s := range q.slices {
					slow := q.find(q.unknown(), func(rung int) bool { return j.keeps(k, s, rung, f.Solid, pose) })
					require.Equal(t, slow, q.rungOf(got[s]), "%s %s of %s at %v", q.ID, q.What, file.Name(), pose.Origin)
					if slow >= 0 && slow < q.last() {
						between++
					} else {
						whole++
					}
				}
			}
		}
	}
	require.Greater(t, between, 30)
	require.Greater(t, whole, 30)
}

// rungOf undoes reachTo.
func (u Unsure) rungOf(r reach) int {
	for rung := range u.last() + 1 {
		if u.reachTo(rung) == r || u.What == There && u.reachTo(rung).all == r.all && r.all {
			return rung
		}
	}
	return -1
}
