package searchtest

import (
	"math"
	"math/rand/v2"
	"path/filepath"
	"runtime"
	"testing"

	"cabwright/geometry"
	"cabwright/geometry/field"
	"cabwright/geometry/geomtest"
	"cabwright/geometry/solid"
	"cabwright/planner"
	"cabwright/planner/search/internal/obstacles"
	"cabwright/planner/search/internal/poses"
	"cabwright/planner/stonefile"
	"cabwright/presets"

	"github.com/stretchr/testify/require"
)

// Demo reads one of the demo stones.
func Demo(t testing.TB, name string) planner.Stone {
	doc, err := stonefile.Read(root()+"/testdata/stones/"+name+".stone", presets.Builtin())
	require.NoError(t, err)
	return doc.Stone
}

// Slab is a level slab over an outline, with nothing in it.
func Slab(poly []geometry.Vec2, low, high, skin float64) planner.Stone {
	return planner.Stone{
		Name: "slab", Material: "opal", Outline: poly,
		Top: []geometry.Vec3{{Z: high}}, Base: []geometry.Vec3{{Z: low}},
		Allowances: planner.Allowances{Skin: skin, Crack: 1, SealedCrack: 0.6, Pocket: 0.5},
	}
}

// FieldOf is the field of a stone, ready to be asked.
func FieldOf(t require.TestingT, s planner.Stone) *field.Field {
	rough, err := planner.NewRough(s)
	require.NoError(t, err)
	f, _ := obstacles.Build(s, rough, nil)
	f.Prepare(1)
	return f
}

// Modest are solids that come near to filling a small stone.
func Modest() []solid.Cabochon {
	return []solid.Cabochon{
		geomtest.Cab("oval", 8, 6, 1.8, 0), geomtest.Cab("round", 6, 6, 1.2, 0.8), geomtest.Cab("square", 5, 5, 1, 0),
		geomtest.Cab("marquise", 10, 5, 1, 1), geomtest.Cab("heart", 7, 7, 2, 0),
		geomtest.Cab("pear", 8, 6, 2.4, 0), geomtest.Cab("triangle", 6, 6, 1.2, 0.6),
	}
}

// DenseClearance is the least clearance over points of the solid, by the field's
// exact answer: it is never below the solid's true clearance by more than the
// few micrometres that field.Lower may be.
func DenseClearance(f *field.Field, skin []geometry.Vec3, p poses.Pose) float64 {
	least := math.Inf(1)
	for _, q := range skin {
		least = min(least, f.Lower(p.Place(q), least))
	}
	return least
}

// Estimated is DenseClearance on the field's tables, right to a hundredth.
func Estimated(f *field.Field, skin []geometry.Vec3, p poses.Pose) float64 {
	least := math.Inf(1)
	for _, q := range skin {
		least = min(least, f.Estimate(p.Place(q), least))
	}
	return least
}

// Random draws: they are the same in every run.
func Random(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 7)) }

// Between draws evenly.
func Between(r *rand.Rand, low, high float64) float64 { return low + (high-low)*r.Float64() }

// SmallStone is a random stone of about 14 x 11 x 6 mm with a crack and a pocket.
func SmallStone(r *rand.Rand) planner.Stone {
	a, b, h := Between(r, 5.5, 8.5), Between(r, 4.5, 7), Between(r, 4.5, 6.5)
	s := Slab(nil, 0, h, 0.3)
	n := 6 + r.IntN(5)
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * (float64(i) + Between(r, -0.25, 0.25)) / float64(n))
		k := Between(r, 0.85, 1.1)
		s.Outline = append(s.Outline, geometry.Vec2{X: a * k * cos, Y: b * k * sin})
	}
	s.Top, s.Base = nil, nil
	for _, at := range [][2]float64{{0, 0}, {0.7, 0.1}, {-0.7, -0.1}, {0.1, 0.7}, {-0.1, -0.7}, {0.5, 0.55}} {
		fall := 1.4 * (at[0]*at[0] + at[1]*at[1])
		s.Top = append(s.Top, geometry.Vec3{X: at[0] * a, Y: at[1] * b, Z: h - fall + Between(r, -0.3, 0.3)})
		s.Base = append(s.Base, geometry.Vec3{X: at[1] * a, Y: at[0] * b, Z: fall/2 + Between(r, -0.2, 0.2)})
	}
	x, y := Between(r, 0.2, 0.6)*a, Between(r, -0.3, 0.3)*b
	s.Cracks = []planner.Crack{{
		ID: "C1", Path: []geometry.Vec2{{X: x, Y: -1.2 * b}, {X: x + 0.5, Y: y}, {X: x + Between(r, 0, 2), Y: b}},
		Face: planner.Top, Through: r.IntN(2) == 0, Depth: Between(r, 1, 5),
		Lean: Between(r, 0, 35), Toward: Between(r, 0, 360), RunOn: 0.5,
	}}
	x, y = Between(r, -0.9, -0.5)*a, Between(r, -0.6, 0.3)*b
	s.Pockets = []planner.Pocket{{
		ID: "P1", Outline: []geometry.Vec2{
			{X: x, Y: y}, {X: x + 1.6, Y: y - 0.2}, {X: x + 1.9, Y: y + 1.5}, {X: x + 0.2, Y: y + 1.7},
		},
		Face: []planner.Face{planner.Top, planner.Base, planner.Through}[r.IntN(3)], Depth: Between(r, 1, 3),
	}}
	s.Allowances.Crack, s.Allowances.Pocket = 0.5, 0.3
	return s
}

// root is the project's own folder, whichever package is tested.
func root() string {
	_, file, _, _ := runtime.Caller(0)
	return filepath.Join(filepath.Dir(file), "../../../..")
}
