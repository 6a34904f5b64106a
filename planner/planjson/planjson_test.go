package planjson

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cabwright/geometry"
	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
	"cabwright/planner"
	"cabwright/planner/search"
)

func oval(t *testing.T, length, width float64) solid.Cabochon {
	o, err := outline.New("oval", length, width)
	require.NoError(t, err)
	return solid.Cabochon{Outline: o, Wall: 1.2, WallLeanDeg: 10, Dome: 0.3 * width, Back: 1, Sides: 1}
}

// sample is a plan with one of each: a fit, a freeform fit, a size ruled out and
// one left open.
func sample(t *testing.T) search.Plan {
	free := oval(t, 12.25, 9.5)
	free.Outline.Shape = "freeform"
	free.Outline.Polygon = []geometry.Vec2{{X: 6.125, Y: 0}, {X: 0, Y: 4.75}, {X: -6.125, Y: 1.0 / 3}}
	tilted := geometry.RotX(0.1).Mul(geometry.RotZ(1))
	of := func(c solid.Cabochon) search.Candidate {
		return search.Candidate{Solid: c, Face: planner.Top, DomeStyle: "medium", BackStyle: "flat"}
	}
	return search.Plan{
		Stone: planner.Stone{Name: "Test \x1b[2J piece", ScaleCt: 19.1},
		Sizes: 112, TiltMaxDeg: 15, Tolerance: 0.05, Elapsed: 840 * time.Millisecond,
		Fits: []search.Fit{
			{Candidate: of(free), Pose: search.Pose{Axes: geometry.Identity3()}, Clearance: 0, LimitedBy: []string{"skin"},
				Volume: 260, Carat: 2.379},
			{Candidate: of(oval(t, 14, 10)), Pose: search.Pose{Origin: geometry.Vec3{X: 1.07, Y: 1.44, Z: 3.2}, Axes: tilted},
				Clearance: 0.21, LimitedBy: []string{"C1", "skin"}, Volume: 251.3, Carat: 2.2994, Proved: true},
		},
		RuledOut: []search.RuledOut{
			{Candidate: of(oval(t, 18, 13)), Bound: -0.12, LimitedBy: []string{"P1"}, Verdict: search.CannotFit},
			{Candidate: of(oval(t, 16, 12)), Bound: 0.03, LimitedBy: []string{"skin"}},
		},
		Stopped: search.Complete,
	}
}

func written(t *testing.T, p search.Plan) string {
	var b bytes.Buffer
	require.NoError(t, Write(&b, p, Rough{Material: "opal-hydrophane", SG: 1.83, Volume: 2010.4}))
	return b.String()
}

// The names and their order are those of the promise, written out once more
// here so that a change of the structs cannot pass unseen.
func TestFieldsAreThePromisedOnesInOrder(t *testing.T) {
	fields := func(s string) string { return strings.Join(strings.Fields(s), " ") }
	pose := "origin_mm length_axis width_axis dome_axis clearance_mm limited_by volume_mm3 carat carat_low carat_high " +
		"colour_share proved"
	body := "shape length_mm width_mm wall_mm wall_lean_deg dome_mm back_mm sides dome_style face"
	want := map[string]string{
		"":                "format version stone search fits ruled_out undecided",
		"stone":           "name material sg volume_mm3 model_ct scale_ct",
		"search":          "sizes tilt_max_deg tolerance_mm seconds",
		"fits[0]":         fields("rank " + body + " outline_mm " + pose),
		"fits[1]":         fields("rank " + body + " " + pose),
		"ruled_out[0]":    fields(body + " clearance_below_mm limited_by"),
		"undecided[0]":    fields(body + " clearance_between_mm limited_by why"),
		"no other object": "",
	}
	out := written(t, sample(t))
	require.True(t, json.Valid([]byte(out)), out)
	got := map[string]string{"no other object": ""}
	dec := json.NewDecoder(strings.NewReader(out))
	walk(t, dec, "", got)
	require.Equal(t, want, got)
}

// walk notes the keys of every object, in their order, under its place.
func walk(t *testing.T, dec *json.Decoder, place string, got map[string]string) {
	tok, err := dec.Token()
	require.NoError(t, err)
	switch tok {
	case json.Delim('{'):
		var keys []string
		for dec.More() {
			key, err := dec.Token()
			require.NoError(t, err)
			keys = append(keys, key.(string))
			walk(t, dec, strings.TrimPrefix(place+"."+key.(string), "."), got)
		}
		got[place] = strings.Join(keys, " ")
		_, err = dec.Token()
		require.NoError(t, err)
	case json.Delim('['):
		for i := 0; dec.More(); i++ {
			walk(t, dec, place+"["+string(rune('0'+i%10))+"]", got)
		}
		_, err = dec.Token()
		require.NoError(t, err)
	}
}

func TestValues(t *testing.T) {
	var got struct {
		Stone struct {
			Name  string
			Model float64  `json:"model_ct"`
			Scale *float64 `json:"scale_ct"`
		}
		Fits []struct {
			Rank   int
			Back   float64 `json:"back_mm"`
			Dome   float64 `json:"dome_mm"`
			Clear  float64 `json:"clearance_mm"`
			Origin []float64
			Axis   []float64 `json:"length_axis"`
		}
		Out []struct {
			Below float64 `json:"clearance_below_mm"`
		} `json:"ruled_out"`
		Open []struct {
			Why string
		} `json:"undecided"`
	}
	require.NoError(t, json.Unmarshal([]byte(written(t, sample(t))), &got))
	require.Equal(t, "Test \x1b[2J piece", got.Stone.Name, "the reader gets the name as it is in the file")
	require.InDelta(t, 18.39516, got.Stone.Model, 0.00006, "2010.4 mm3 x 1.83 / 200")
	require.Equal(t, 19.1, *got.Stone.Scale)
	require.Equal(t, []int{1, 2}, []int{got.Fits[0].Rank, got.Fits[1].Rank})
	require.Zero(t, got.Fits[1].Back, "a single-sided stone has no back, whatever its style's depth")
	require.Equal(t, 3.0, got.Fits[1].Dome)
	require.Equal(t, 0.2099, got.Fits[1].Clear, "rounded down by the slack of the rounded pose")
	require.InDelta(t, math.Cos(1), got.Fits[1].Axis[0], 1e-9)
	require.Equal(t, -0.12, got.Out[0].Below)
	require.Equal(t, "within the tolerance", got.Open[0].Why)
}

func TestNothingRawReachesATerminal(t *testing.T) {
	for _, name := range []string{"\x1b[31m", "\u009b31m", "\u202edesrever", "\x7f", "\u2028", "a\nb", "\U000e0001"} {
		p := sample(t)
		p.Stone.Name = name
		out := written(t, p)
		require.NotContains(t, out, name)
		var back struct{ Stone struct{ Name string } }
		require.NoError(t, json.Unmarshal([]byte(out), &back))
		require.Equal(t, name, back.Stone.Name)
	}
}

func TestUnweighedAndUnboundedAreNull(t *testing.T) {
	p := sample(t)
	p.Stone.ScaleCt = 0
	p.RuledOut[1].Bound = math.Inf(1)
	p.Stopped = search.Cancelled
	out := written(t, p)
	require.Contains(t, out, `"scale_ct":null`)
	require.Contains(t, out, `"clearance_between_mm":[null,null],"limited_by":["skin"],"why":"the search was stopped"`)
}

func TestEmptyPlanHasEmptyLists(t *testing.T) {
	out := written(t, search.Plan{})
	require.Contains(t, out, `"fits": []`)
	require.Contains(t, out, `"ruled_out": []`)
}

func TestPolygonHasNoEdgeOfNoLength(t *testing.T) {
	raw, err := json.Marshal(polygon([]geometry.Vec2{{X: 1}, {X: 1, Y: 1e-11}, {Y: 1}, {Y: 1}, {X: -1}, {X: 1}}))
	require.NoError(t, err)
	require.Equal(t, "[[1,0],[0,1],[-1,0]]", string(raw))
}

func TestSamePlanSameBytes(t *testing.T) {
	require.Equal(t, written(t, sample(t)), written(t, sample(t)))
}

// A clearance is never printed above what was proved, nor a bound below it, and
// a proof that nothing fits stays one.
func TestRoundingIsOnTheCarefulSide(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.Float64Range(0, 30).Draw(t, "clearance")
		require.LessOrEqual(t, float64(down(c, 1e-7)), c)
		require.GreaterOrEqual(t, float64(down(c, 1e-7)), c-1.01e-4-1e-7)
		b := -rapid.Float64Range(1e-12, 30).Draw(t, "bound")
		raw, err := bound(b).MarshalJSON()
		require.NoError(t, err)
		var back float64
		require.NoError(t, json.Unmarshal(raw, &back))
		require.GreaterOrEqual(t, back, b)
		require.Less(t, back, 0.0)
		require.LessOrEqual(t, back, b+1.01e-4)
	})
}

// The pose as printed puts every point where the search had it, to within the
// slack that its clearance was lowered by.
func TestPrintedPoseIsTheProvedOne(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		angle := rapid.Float64Range(-4, 4)
		pose := search.Pose{
			Origin: geometry.Vec3{X: rapid.Float64Range(-50, 50).Draw(t, "x"), Y: 1.0 / 3, Z: math.Pi},
			Axes: geometry.RotX(angle.Draw(t, "a")).Mul(geometry.RotY(angle.Draw(t, "b"))).Mul(geometry.RotZ(angle.Draw(t,
				"c"))),
		}
		local := geometry.Vec3{X: rapid.Float64Range(-20, 20).Draw(t, "u"), Y: rapid.Float64Range(-15, 15).Draw(t, "v"),
			Z: rapid.Float64Range(-5, 8).Draw(t, "w")}
		read := func(v geometry.Vec3) geometry.Vec3 {
			raw, err := json.Marshal(vector(v))
			require.NoError(t, err)
			var back [3]float64
			require.NoError(t, json.Unmarshal(raw, &back))
			return geometry.Vec3{X: back[0], Y: back[1], Z: back[2]}
		}
		printed := search.Pose{Origin: read(pose.Origin), Axes: geometry.Mat3{U: read(pose.Axes.U), V: read(pose.Axes.V),
			W: read(pose.Axes.W)}}
		require.LessOrEqual(t, printed.Place(local).Sub(pose.Place(local)).Norm(), poseSlack(40, 30, 13))
	})
}
