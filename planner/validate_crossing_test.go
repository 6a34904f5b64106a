package planner

import (
	"cmp"
	"fmt"
	"math"
	"math/big"
	"math/bits"
	"slices"
	"testing"

	"cabwright/geometry"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// crossingPairs is the slow twin of crossing: every pair of edges, in rational
// arithmetic. It returns the pairs that meet.
func crossingPairs(corners []geometry.Vec2) map[[2]int]bool {
	n := len(corners)
	pairs := map[[2]int]bool{}
	for i := range n {
		for j := i + 1; j < n; j++ {
			if meetExactly(corners, i, j) {
				pairs[[2]int{i, j}] = true
			}
		}
	}
	return pairs
}

func meetExactly(corners []geometry.Vec2, i, j int) bool {
	n := len(corners)
	p, q, r, s := corners[i], corners[(i+1)%n], corners[j], corners[(j+1)%n]
	if p == q || r == s {
		return true
	}
	if (j+1)%n == i { // j comes before i
		p, q, r, s = r, s, p, q
	}
	if q == r { // neighbours share a corner: more, when s turns straight back
		forward := new(big.Rat).Add(ratProduct(p.X, q.X, s.X), ratProduct(p.Y, q.Y, s.Y))
		return ratTurn(p, q, s) == 0 && forward.Sign() > 0
	}
	d1, d2, d3, d4 := ratTurn(p, q, r), ratTurn(p, q, s), ratTurn(r, s, p), ratTurn(r, s, q)
	return d1*d2 < 0 && d3*d4 < 0 ||
		d1 == 0 && ratBetween(p, q, r) || d2 == 0 && ratBetween(p, q, s) ||
		d3 == 0 && ratBetween(r, s, p) || d4 == 0 && ratBetween(r, s, q)
}

// ratProduct returns (p - q)(s - q).
func ratProduct(p, q, s float64) *big.Rat {
	rat := func(v float64) *big.Rat { return new(big.Rat).SetFloat64(v) }
	return new(big.Rat).Mul(new(big.Rat).Sub(rat(p), rat(q)), new(big.Rat).Sub(rat(s), rat(q)))
}

func ratTurn(a, b, c geometry.Vec2) int {
	rat := func(v float64) *big.Rat { return new(big.Rat).SetFloat64(v) }
	sub := func(v, w float64) *big.Rat { return new(big.Rat).Sub(rat(v), rat(w)) }
	left := new(big.Rat).Mul(sub(b.X, a.X), sub(c.Y, a.Y))
	right := new(big.Rat).Mul(sub(b.Y, a.Y), sub(c.X, a.X))
	return left.Cmp(right)
}

func ratBetween(p, q, r geometry.Vec2) bool {
	return min(p.X, q.X) <= r.X && r.X <= max(p.X, q.X) && min(p.Y, q.Y) <= r.Y && r.Y <= max(p.Y, q.Y)
}

func TestCrossingOfOutlines(t *testing.T) {
	for _, c := range []struct {
		name    string
		corners []geometry.Vec2
		how     meeting
	}{
		{"triangle", []geometry.Vec2{v2(0, 0), v2(1, 0), v2(0, 1)}, apart},
		{"clockwise", []geometry.Vec2{v2(0, 0), v2(0, 1), v2(1, 0)}, apart},
		{"upright edges", []geometry.Vec2{v2(0, 0), v2(0, 2), v2(0, 5), v2(3, 5), v2(3, 0)}, apart},
		{"corner on a straight edge", []geometry.Vec2{v2(0, 0), v2(1, 0), v2(2, 0), v2(2, 2), v2(0, 2)}, apart},
		{"bow-tie", []geometry.Vec2{v2(0, 0), v2(2, 2), v2(2, 0), v2(0, 2)}, crosses},
		{"spike back along an edge", []geometry.Vec2{v2(0, 0), v2(4, 0), v2(2, 0), v2(2, 3)}, crosses},
		{"upright spike", []geometry.Vec2{v2(0, 0), v2(0, 4), v2(0, 2), v2(3, 2)}, crosses},
		{"corner on an edge from inside", []geometry.Vec2{v2(0, 0), v2(4, 0), v2(4, 4), v2(2, 0), v2(0, 4)}, crosses},
		{"corner on an upright edge", []geometry.Vec2{v2(0, 0), v2(4, 0), v2(4, 4), v2(0, 2), v2(1, 4), v2(0, 4)}, crosses},
		{"two corners at one spot", []geometry.Vec2{v2(0, 0), v2(2, 2), v2(0, 4), v2(4, 4), v2(2, 2), v2(4, 0)}, sameEnds},
		{"edges that lie on one another", []geometry.Vec2{v2(0, 0), v2(6, 0), v2(6, 3), v2(4, 3), v2(4, 0), v2(2, 0),
			v2(2, 3), v2(0, 3)}, crosses},
		{"edges that cross behind a notch", []geometry.Vec2{v2(0, 0), v2(10, 6), v2(10, 0), v2(0, 6), v2(2, 3)}, crosses},
		{"three on a line", []geometry.Vec2{v2(1, 1), v2(2, 1), v2(0, 1)}, crosses},
		{"all on a line", []geometry.Vec2{v2(0, 0), v2(5, 5), v2(2, 2), v2(9, 9)}, crosses},
		{"smallest miss", []geometry.Vec2{v2(0, 0), v2(4, 0), v2(4, 4), v2(2, math.SmallestNonzeroFloat64), v2(0, 4)}, apart},
	} {
		_, _, how := crossing(c.corners)
		require.Equal(t, c.how, how, c.name)
	}
}

// almostSimple draws polygons that mostly cross themselves once or not at all,
// on a grid so coarse that nearly every degeneracy turns up: corners on edges,
// edges on edges, upright edges, corners at one spot. Points put in order round
// their middle make a simple polygon, of which one corner is then moved.
func almostSimple(t *rapid.T) []geometry.Vec2 {
	grid := rapid.IntRange(2, 9).Draw(t, "grid")
	scale := rapid.SampledFrom([]float64{1, 0.1, 1.0 / 3}).Draw(t, "scale")
	corner := rapid.Custom(func(t *rapid.T) geometry.Vec2 {
		return v2(scale*float64(rapid.IntRange(0, grid).Draw(t, "x")), scale*float64(rapid.IntRange(0, grid).Draw(t, "y")))
	})
	corners := rapid.SliceOfNDistinct(corner, 3, 10, rapid.ID).Draw(t, "corners")
	middle := geometry.Vec2{}
	for _, c := range corners {
		middle = middle.Add(c.Scale(1 / float64(len(corners))))
	}
	angle := func(c geometry.Vec2) float64 { d := c.Sub(middle); return math.Atan2(d.Y, d.X) }
	slices.SortFunc(corners, func(a, b geometry.Vec2) int { return cmp.Compare(angle(a), angle(b)) })
	if rapid.Bool().Draw(t, "move one") {
		corners[rapid.IntRange(0, len(corners)-1).Draw(t, "which")] = corner.Draw(t, "to")
	}
	return corners
}

func TestCrossingAgreesWithItsSlowTwin(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		corners := almostSimple(t)
		first, second, how := crossing(corners)
		pairs := crossingPairs(corners)
		switch how {
		case apart:
			if len(pairs) > 0 {
				t.Fatalf("missed %v in %v", pairs, corners)
			}
		case crosses:
			if !pairs[[2]int{first, second}] {
				t.Fatalf("edges %d and %d do not meet in %v", first, second, corners)
			}
		case sameEnds:
			if corners[first] != corners[second] {
				t.Fatalf("corners %d and %d are not at one spot in %v", first, second, corners)
			}
		}
	})
}

// manyCorners are outlines of the largest number of corners, each hard in its way.
func manyCorners() map[string][]geometry.Vec2 {
	out := map[string][]geometry.Vec2{}
	const n = MaxCorners
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / n)
		out["circle"] = append(out["circle"], v2(500*cos, 400*sin))
		out["star"] = append(out["star"], v2(500*cos, 500*sin).Scale(float64(1-i%2)*0.9+0.1))
		tooth := v2(float64(i)/20, float64(i%2)*400) // a comb, closed along its foot
		out["upright comb"] = append(out["upright comb"], tooth)
		out["lying comb"] = append(out["lying comb"], v2(tooth.Y, tooth.X))
		out["slanting comb"] = append(out["slanting comb"], v2(tooth.X+tooth.Y, tooth.Y-tooth.X))
	}
	// The combs close through a corner behind them all.
	for _, name := range []string{"upright comb", "lying comb", "slanting comb"} {
		c := out[name]
		c[n-1] = map[string]geometry.Vec2{"upright comb": v2(250, -500), "lying comb": v2(-500, 250),
			"slanting comb": v2(0, -900)}[name]
	}
	return out
}

// Each corner is held against as many edges as halving the list of them takes, and
// its edges against their two neighbours: 16 a corner of 10,000, where every pair of
// edges would be 5,000 a corner.
func TestTheLargestOutlinesAreCheckedInAMoment(t *testing.T) {
	for name, corners := range manyCorners() {
		s := sweep{corners: corners}
		_, _, how := s.over()
		require.Equal(t, apart, how, name)
		require.LessOrEqual(t, s.looked, len(corners)*(bits.Len(uint(len(corners)))+2), name)
		// One crossing among the many is found: a corner pulled across an edge.
		middle := corners[3000].Add(corners[3001]).Scale(0.5)
		corners[7001] = middle.Add(middle.Sub(corners[7000]).Scale(0.01))
		_, _, how = crossing(corners)
		require.Equal(t, crosses, how, name)
	}
}

func BenchmarkCrossing(b *testing.B) {
	for name, corners := range manyCorners() {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				crossing(corners)
			}
		})
	}
}

func TestExtentAgreesWithTryingEveryAngle(t *testing.T) {
	require.Zero(t, Extent(nil))
	require.Zero(t, Extent([]geometry.Vec2{v2(1, 1), v2(2, 2), v2(3, 3)}))
	rectangle := Extent([]geometry.Vec2{v2(0, 0), v2(6, 8), v2(2, 11), v2(-4, 3)})
	require.InDelta(t, 10, rectangle.Length, 1e-12)
	require.InDelta(t, 5, rectangle.Width, 1e-12)
	require.InDelta(t, math.Atan2(8, 6), rectangle.Angle, 1e-12)
	require.InDelta(t, 1, rectangle.Centre.X, 1e-12)
	require.InDelta(t, 5.5, rectangle.Centre.Y, 1e-12)
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(-20, 20)
		corners := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) geometry.Vec2 { return v2(v.Draw(t, "x"), v.Draw(t, "y")) }),
			3, 15).Draw(t, "corners")
		e := Extent(corners)
		if e.Width < 0 || e.Length < e.Width || e.Angle <= -math.Pi/2-1e-12 || e.Angle > math.Pi/2+1e-12 {
			t.Fatalf("%+v", e)
		}
		least := math.Inf(1)
		for k := range 3600 {
			_, width := box(corners, float64(k)*math.Pi/3600)
			least = min(least, width)
		}
		if e.Width > least+1e-9 {
			t.Fatalf("width %v, another angle gives %v", e.Width, least)
		}
		if length, width := box(corners, e.Angle); math.Abs(length-e.Length)+math.Abs(width-e.Width) > 1e-6 {
			t.Fatalf("%+v, but at that angle it measures %v by %v", e, length, width)
		}
	})
}

// box measures along and across a direction.
func box(corners []geometry.Vec2, angle float64) (along, across float64) {
	sin, cos := math.Sincos(angle)
	var turned []geometry.Vec2
	for _, c := range corners {
		turned = append(turned, v2(c.X*cos+c.Y*sin, -c.X*sin+c.Y*cos))
	}
	lo, hi := geometry.Bounds(turned)
	return hi.X - lo.X, hi.Y - lo.Y
}

func ExampleProblem() {
	_, err := SetOutline(Stone{}, []geometry.Vec2{v2(0, 0), v2(2, 2), v2(2, 0), v2(0, 2)})
	fmt.Println(err)
	// Output:
	// outline: crosses itself: edge outline[0]-[1] meets edge outline[2]-[3]: move or take away one of their corners
}
