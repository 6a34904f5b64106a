package odds

import (
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cabwright/geometry"
	"cabwright/planner/stonefile"
	"cabwright/presets"
)

// A slow twin on stones with every kind of mark that is not sure: plain bisection on the
// exact shapes, slice by slice, finds the same limits, and what a glance sees is within
// 0.05 mm of nearly all.
func TestLimitsAgainstBisection(t *testing.T) {
	dir := "../../testdata/stones/unsure"
	files, err := os.ReadDir(dir)
	require.NoError(t, err)
	require.Len(t, files, 3)
	rng := rand.New(rand.NewPCG(3, 3))
	between, whole, near := 0, 0, 0
	for _, file := range files {
		doc, err := stonefile.Read(filepath.Join(dir, file.Name()), presets.Builtin())
		require.NoError(t, err)
		j, err := NewJudge(doc.Stone)
		require.NoError(t, err)
		f := cabochon(t, 3)
		g := j.newGlance(f.Candidate)
		for range 12 {
			pose := f.Pose
			pose.Origin = geometry.Vec3{X: rng.Float64()*12 - 6, Y: rng.Float64()*8 - 4, Z: 1 + 3*rng.Float64()}
			pose.Axes = geometry.RotZ(3 * rng.Float64()).Mul(geometry.RotX(0.2 * rng.Float64()))
			g.lay(pose)
			for k, q := range j.questions {
				got := j.reaches(k, f.Solid, pose, j.glanced(g, k))
				for s := range q.slices {
					slow := q.find(q.unknown(), func(rung int) bool { return j.keeps(k, s, rung, f.Solid, pose, fine) })
					require.Equal(t, slow, got[s].rung, "%s %s of %s at %v", q.ID, q.What, file.Name(), pose.Origin)
					if slow >= 0 && slow < q.last() {
						between++
					} else {
						whole++
					}
					if guess := q.rungAt(g.upTo[s], j.growths[k].worst); max(slow-guess, guess-slow) <= 3 {
						near++
					}
				}
			}
		}
	}
	require.Greater(t, between, 30)
	require.Greater(t, whole, 30)
	require.Greater(t, float64(near), 0.98*float64(between+whole))
}

// The closed form of a strip against a fine net of points of it: the first within the
// distance, from bottom to top.
func TestFirstTouchOfAStrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		vec := func(name string, size float64) geometry.Vec3 {
			r := rapid.Float64Range(-size, size)
			return geometry.Vec3{X: r.Draw(t, name), Y: r.Draw(t, name), Z: r.Draw(t, name)}
		}
		s := strip{from: vec("from", 1), side: vec("side", 1), grow: vec("grow", 1), most: 2}
		if s.side.Norm() < 0.2 || s.grow.Norm() < 0.2 || s.side.Cross(s.grow).Norm() < 0.3*s.side.Norm()*s.grow.Norm() {
			t.Skip("hardly a strip")
		}
		s = s.ready()
		p, within := vec("point", 2), rapid.Float64Range(0.2, 1.5).Draw(t, "within")
		const n = 60
		slow := math.Inf(1)
		for i := range n + 1 {
			for k := range n + 1 {
				v := s.most * float64(k) / n
				at := s.from.Add(s.side.Scale(float64(i) / n)).Add(s.grow.Scale(v))
				if p.Sub(at).Norm() <= within {
					slow = min(slow, v)
				}
			}
		}
		v, ok := s.first(p, within)
		if !ok {
			require.True(t, math.IsInf(slow, 1), "the net is touched at %v", slow)
			return
		}
		require.LessOrEqual(t, v, slow+1e-9)
		// It is a touch: a point of the strip at that value is within the distance.
		nearest := math.Inf(1)
		for i := range 2001 {
			nearest = min(nearest, p.Sub(s.from.Add(s.side.Scale(float64(i)/2000)).Add(s.grow.Scale(v))).Norm())
		}
		require.LessOrEqual(t, nearest, within+0.001)
	})
}

// All points of a cell of the skin lie within its reach, and of the solid's surface.
func TestCellsOfTheSkin(t *testing.T) {
	s := newSkin(cabochon(t, 0).Solid)
	rng := rand.New(rand.NewPCG(1, 2))
	for i := range int32(s.roots) {
		parts := s.partsOf(i)
		for _, c := range []skinCell{s.cells[i], s.cells[parts], s.cells[parts+3]} {
			for range 20 {
				p := s.at(c.u+c.halfU*(2*rng.Float64()-1), c.v+c.halfV*(2*rng.Float64()-1))
				require.LessOrEqual(t, p.Sub(c.at).Norm(), c.reach)
				rho := s.c.Outline.Gauge(p.X, p.Y)
				away := math.Min(math.Abs(p.Z-s.c.Upper(rho)), math.Abs(p.Z-s.c.Lower(rho)))
				require.True(t, away < 1e-6 || rho > 1-1e-9, "%v off the surface at %v", away, p)
			}
		}
	}
}
