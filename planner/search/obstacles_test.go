package search_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
	"cabwright/planner"
	"cabwright/planner/search"
)

// These tests hold the step from a stone's marks to the obstacles of a search
// from outside: a ball is put somewhere in a level slab, and its clearance is what
// the stone file's contract gives by hand: the distance from its middle to the
// obstacle, less the ball's radius, less the allowance.

// The slab is 120 x 120 mm and 40 mm thick, so that its skin is far from its middle.
const thick = 40.0

var allowances = planner.Allowances{Skin: 0.5, Crack: 1.1, SealedCrack: 0.7, Pocket: 0.3}

func slab(cracks []planner.Crack, pockets []planner.Pocket) planner.Stone {
	return planner.Stone{
		Name: "Slab", Material: "agate",
		Outline:    []geometry.Vec2{{X: -60, Y: -60}, {X: 60, Y: -60}, {X: 60, Y: 60}, {X: -60, Y: 60}},
		Top:        []geometry.Vec3{{Z: thick}},
		Base:       []geometry.Vec3{{}},
		Cracks:     cracks,
		Pockets:    pockets,
		Allowances: allowances,
	}
}

// place is where the middle of the ball lies, what is nearest to it, and how far
// that is.
type place struct {
	at       geometry.Vec3
	by       string
	distance float64
}

// radius is the ball's: a round of 2 mm whose dome and back are half balls.
const radius = 1.0

func ball(t *testing.T) solid.Cabochon {
	o, err := outline.New("round", 2*radius, 2*radius)
	require.NoError(t, err)
	return solid.Cabochon{Outline: o, Dome: radius, Back: radius, Sides: 2}
}

// held checks the ball's clearance at the places, with the allowance of what is
// nearest there: never above what it is, and at most 0.01 mm below.
func held(t *testing.T, stone planner.Stone, allowance float64, places ...place) {
	t.Helper()
	site, err := search.Open(stone)
	require.NoError(t, err)
	for _, p := range places {
		got := site.Clearance(ball(t), search.Pose{Origin: p.at, Axes: geometry.Identity3()})
		want := p.distance - radius - allowance
		require.LessOrEqual(t, got.Clearance, want+1e-6, "%v", p.at)
		require.GreaterOrEqual(t, got.Clearance, want-0.01, "%v", p.at)
		require.True(t, slices.Contains(got.LimitedBy, p.by), "%v at %v", got.LimitedBy, p.at)
	}
}

func at(x, y, z float64) geometry.Vec3 { return geometry.Vec3{X: x, Y: y, Z: z} }

// line is a crack's path along y, through the middle.
var line = []geometry.Vec2{{Y: -10}, {Y: 10}}

func crack(face planner.Face, depth, lean, toward float64) planner.Crack {
	return planner.Crack{ID: "C1", Path: line, Face: face, Depth: depth, Lean: lean, Toward: toward}
}

func TestTheSkinOfASlab(t *testing.T) {
	held(t, slab(nil, nil), allowances.Skin,
		place{at(0, 0, 33), "skin", 7}, place{at(0, 0, 4), "skin", 4},
		place{at(55, 0, 20), "skin", 5}, place{at(0, -54, 20), "skin", 6})
}

// Between high readings a thin plate rises above them all: the faces are cut off level
// at the highest and the lowest reading.
func TestTheFacesAreCutOffAtTheirOutermostReadings(t *testing.T) {
	stone := slab(nil, nil)
	stone.Top, stone.Base = nil, nil
	for _, x := range []float64{-1, 1} {
		for _, y := range []float64{-1, 1} {
			stone.Top = append(stone.Top, at(10*x, 10*y, thick), at(60*x, 60*y, thick-15))
			stone.Base = append(stone.Base, at(10*x, 10*y, 0), at(60*x, 60*y, 15))
		}
	}
	top, err := geometry.FitThinPlate(stone.Top)
	require.NoError(t, err)
	require.Greater(t, top.At(0, 0), thick+0.3)
	base, err := geometry.FitThinPlate(stone.Base)
	require.NoError(t, err)
	require.Less(t, base.At(0, 0), -0.3)
	held(t, stone, allowances.Skin, place{at(0, 0, thick-3), "skin", 3}, place{at(0, 0, 3), "skin", 3})
}

// An upright crack is a rectangle below its path; its depth ends it.
func TestAnUprightCrackFromEitherFace(t *testing.T) {
	for _, c := range []struct {
		face planner.Face
		z    func(deep float64) float64 // the height so deep under the face
	}{{planner.Top, func(d float64) float64 { return thick - d }}, {planner.Base, func(d float64) float64 { return d }}} {
		held(t, slab([]planner.Crack{crack(c.face, 12, 0, 0)}, nil), allowances.Crack,
			place{at(5, 0, c.z(10)), "C1", 5},  // beside it
			place{at(-5, 3, c.z(10)), "C1", 5}, // on its other side
			place{at(0, 0, c.z(18)), "C1", 6},  // under its edge
			place{at(3, 0, c.z(16)), "C1", 5},  // beside and under: 3, 4, 5
			place{at(0, 16, c.z(10)), "C1", 6}, // before its end
			place{at(3, 14, c.z(10)), "C1", 5}, // beside its end
			place{at(2, 16, c.z(15)), "C1", 7}) // 2, 6, 3, 7: off its corner
	}
}

// A crack that leans goes sideways as it goes in, towards its compass direction:
// tan(lean) mm for each mm of depth, which is counted straight down.
func TestALeaningCrackGoesItsWay(t *testing.T) {
	const lean = 30.0
	sin, cos := math.Sincos(lean * math.Pi / 180)
	for _, face := range []planner.Face{planner.Top, planner.Base} {
		z := func(deep float64) float64 {
			if face == planner.Top {
				return thick - deep
			}
			return deep
		}
		for _, way := range []float64{1, -1} {
			k := crack(face, 25, lean, map[float64]float64{1: 0, -1: 180}[way])
			// Of the plane through the path, d mm to the side that it leans to, deep mm
			// in: d cos(lean) - deep sin(lean) away on the outer side, the negative of
			// that on the inner one.
			held(t, slab([]planner.Crack{k}, nil), allowances.Crack,
				place{at(way*12, 0, z(10)), "C1", 12*cos - 10*sin},
				place{at(way*1, 0, z(14)), "C1", 14*sin - 1*cos},
				place{at(-way*4, 2, z(10)), "C1", 4*cos + 10*sin},
				// Its lower edge lies 25 mm in and 25 tan(lean) to the side.
				place{at(way*25*sin/cos, 0, z(30)), "C1", 5},
				place{at(way*(25*sin/cos+3), 0, z(29)), "C1", 5})
		}
		// Towards +y and -y, of a path along x.
		for _, way := range []float64{1, -1} {
			k := crack(face, 25, lean, 90*way)
			k.Path = []geometry.Vec2{{X: -10}, {X: 10}}
			held(t, slab([]planner.Crack{k}, nil), allowances.Crack, place{at(0, way*12, z(10)), "C1", 12*cos - 10*sin})
		}
	}
	// Neither along nor across: at 60 degrees to a path along y, only the part across
	// it, tan(45) cos(60) = 1/2, moves the sheet sideways: it stands 26.57 degrees off.
	k := crack(planner.Top, 25, 45, 60)
	k.Path = []geometry.Vec2{{Y: -50}, {Y: 50}}
	slope := math.Hypot(1, 0.5)
	held(t, slab([]planner.Crack{k}, nil), allowances.Crack, place{at(12, 0, thick-10), "C1", (12 - 5) / slope})
}

// Without a depth a crack goes right through, without end, also where it leans far.
func TestACrackWithoutADepthGoesThrough(t *testing.T) {
	for _, face := range []planner.Face{planner.Top, planner.Base} {
		for _, lean := range []float64{0, 45} {
			k := crack(face, 0, lean, 0)
			k.Through = true
			side := thick - 5.0 // as far as it has leant 5 mm before the other face
			z := 5.0
			if face == planner.Base {
				z = thick - 5
			}
			if lean == 0 {
				held(t, slab([]planner.Crack{k}, nil), allowances.Crack, place{at(4, 0, z), "C1", 4})
				continue
			}
			held(t, slab([]planner.Crack{k}, nil), allowances.Crack,
				place{at(side+4, 0, z), "C1", 4 / math.Sqrt2}, place{at(side-4, 0, z), "C1", 4 / math.Sqrt2})
		}
	}
}

func TestASealedCrackTakesTheSmallerDistance(t *testing.T) {
	k := crack(planner.Top, 20, 0, 0)
	held(t, slab([]planner.Crack{k}, nil), allowances.Crack, place{at(6, 0, 30), "C1", 6})
	k.Sealed = true
	held(
		t, slab([]planner.Crack{k}, nil), allowances.SealedCrack, place{at(6, 0, 30), "C1", 6},
		place{at(-3, 0, 16), "C1", 5},
	)
	// Each of two cracks has its own.
	other := crack(planner.Top, 20, 0, 0)
	other.ID, other.Path = "C2", []geometry.Vec2{{X: 20, Y: -10}, {X: 20, Y: 10}}
	held(t, slab([]planner.Crack{k, other}, nil), allowances.SealedCrack, place{at(6, 0, 30), "C1", 6})
	held(t, slab([]planner.Crack{k, other}, nil), allowances.Crack, place{at(14, 0, 30), "C2", 6})
}

// The path is carried on straight at both ends, each in its own direction.
func TestACrackRunsOnAtBothEnds(t *testing.T) {
	k := crack(planner.Top, 20, 0, 0)
	k.RunOn = 5
	held(
		t, slab([]planner.Crack{k}, nil), allowances.Crack, place{at(0, 21, 30), "C1", 6}, place{at(0, -21, 30), "C1", 6},
		place{at(4, 18, 17), "C1", math.Sqrt(16 + 9 + 9)},
	)
	// Bent by a 3-4-5 triangle at one end: on from (6, 8) by (3, 4), and from (0, -10).
	k.Path = []geometry.Vec2{{Y: -10}, {}, {X: 6, Y: 8}}
	held(
		t, slab([]planner.Crack{k}, nil), allowances.Crack,
		place{at(9+3.6, 12+4.8, 30), "C1", 6}, place{at(0, -21, 30), "C1", 6},
		place{at(7.5-4*0.8, 10+4*0.6, 30), "C1", 4},
	)
	// A leaning sheet is as long at its lower edge.
	k = crack(planner.Base, 20, 45, 0)
	k.RunOn = 5
	held(
		t, slab([]planner.Crack{k}, nil), allowances.Crack, place{at(10, 21, 10), "C1", 6},
		place{at(10, -21, 10), "C1", 6},
	)
	k.RunOn = 0
	held(t, slab([]planner.Crack{k}, nil), allowances.Crack, place{at(10, 18, 10), "C1", 8})
}

// square is a pocket's outline, in either direction.
func square(clockwise bool) []geometry.Vec2 {
	out := []geometry.Vec2{{X: -3, Y: -3}, {X: 3, Y: -3}, {X: 3, Y: 3}, {X: -3, Y: 3}}
	if clockwise {
		slices.Reverse(out)
	}
	return out
}

// A pit goes in from its face by its depth, as a prism with a floor.
func TestAPitFromEitherFace(t *testing.T) {
	for _, clockwise := range []bool{false, true} {
		p := planner.Pocket{ID: "P1", Outline: square(clockwise), Face: planner.Top, Depth: 14}
		held(t, slab(nil, []planner.Pocket{p}), allowances.Pocket,
			// Under, beside, off an edge.
			place{at(0, 0, 20), "P1", 6}, place{at(9, 0, 30), "P1", 6}, place{at(6, 0, 22), "P1", 5},
			place{at(6, 5, 20), "P1", 7}) // 3, 2, 6, 7: off a corner
		p.Face = planner.Base
		held(t, slab(nil, []planner.Pocket{p}), allowances.Pocket,
			place{at(0, 0, 20), "P1", 6}, place{at(-9, 0, 10), "P1", 6}, place{at(6, 0, 18), "P1", 5},
			place{at(6, 5, 20), "P1", 7})
	}
}

// A pocket inside lies between two heights, one through the stone has no end.
func TestAPocketInsideAndOneThrough(t *testing.T) {
	for _, clockwise := range []bool{false, true} {
		p := planner.Pocket{ID: "P1", Outline: square(clockwise), Face: planner.Inside, Low: 16, High: 22}
		held(t, slab(nil, []planner.Pocket{p}), allowances.Pocket,
			place{at(0, 0, 28), "P1", 6}, place{at(0, 0, 11), "P1", 5}, place{at(0, 9, 19), "P1", 6},
			place{at(6, 0, 26), "P1", 5}, place{at(6, 0, 12), "P1", 5}, place{at(5, 6, 10), "P1", 7})
		p = planner.Pocket{ID: "P1", Outline: square(clockwise), Face: planner.Through}
		held(t, slab(nil, []planner.Pocket{p}), allowances.Pocket,
			place{at(7, 0, 6), "P1", 4}, place{at(-7, 0, 20), "P1", 4}, place{at(0, 7, 34), "P1", 4},
			place{at(6, 7, 20), "P1", 5},
			place{at(4.5, 0, 2), "P1", 1.5}, place{at(4.5, 0, thick-2), "P1", 1.5}) // as far as both faces
	}
}

// In an obstacle the clearance is negative, whatever the obstacle is.
func TestInsideAnObstacleThereIsNoClearance(t *testing.T) {
	wide := []geometry.Vec2{{X: -8, Y: -8}, {X: 8, Y: -8}, {X: 8, Y: 8}, {X: -8, Y: 8}}
	for name, stone := range map[string]planner.Stone{
		"crack":  slab([]planner.Crack{crack(planner.Top, 30, 0, 0)}, nil),
		"leaned": slab([]planner.Crack{crack(planner.Base, 30, 45, 0)}, nil),
		"pit":    slab(nil, []planner.Pocket{{ID: "P1", Outline: wide, Face: planner.Top, Depth: 30}}),
		"base":   slab(nil, []planner.Pocket{{ID: "P1", Outline: wide, Face: planner.Base, Depth: 30}}),
		"inside": slab(nil, []planner.Pocket{{ID: "P1", Outline: wide, Face: planner.Inside, Low: 10, High: 30}}),
		"hole":   slab(nil, []planner.Pocket{{ID: "P1", Outline: wide, Face: planner.Through}}),
	} {
		site, err := search.Open(stone)
		require.NoError(t, err)
		middle := at(0, 0, 20)
		if name == "leaned" {
			middle.X = 20
		}
		require.Less(t, site.Clearance(ball(t), search.Pose{Origin: middle, Axes: geometry.Identity3()}).Clearance, 0.0, name)
	}
}
