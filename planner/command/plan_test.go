package command

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
	"cabwright/planner"
	"cabwright/planner/search"
)

// slabStone is 40 x 25 x 6 mm of jasper.
const slabStone = `{"format": "cabwright-stone", "version": 1, "name": "Test slab", "material": "jasper", "scale_ct": 78, "shelf": 7,
 "outline": [[0, 0], [40, 0], [40, 25], [0, 25]], "top": [[0, 0, 6]], "base": [[0, 0, 0]],
 "colour": [{"id": "Z1", "face": "top", "outline": [[4, 4], [9, 4], [9, 9]], "grade": 4}]}`

func candidate(shape string, length, width float64, sides int) search.Candidate {
	o, err := outline.New(shape, length, width)
	if err != nil {
		panic(err)
	}
	c := search.Candidate{Face: planner.Base, DomeStyle: "medium", BackStyle: "flat",
		Solid: solid.Cabochon{Outline: o, Wall: 1.2, WallLeanDeg: 10, Dome: 0.3 * width, Sides: sides}}
	if sides == 2 {
		c.Solid.Back = 1.6
	}
	return c
}

// found is what the stand-in for the search finds: known fits, known misses.
func found(stone planner.Stone) search.Plan {
	p := search.Plan{Stone: stone, Sizes: 126, TiltMaxDeg: 15, Tolerance: 0.05, Stopped: search.Budget,
		Elapsed: 800 * time.Millisecond}
	for i := range 25 {
		f := search.Fit{Candidate: candidate("rectangle", 18, 13, 1+i%2), Carat: 8.125 - float64(i)/10, CaratLow: 7.5,
			CaratHigh: 10.25, Volume: 600,
			Clearance: 0.2199, LimitedBy: []string{"skin", "C\x1b[2J"}, Colour: 0.625, Proved: i != 1}
		f.Pose = search.Pose{Origin: geometry.Vec3{X: 20, Y: 12, Z: 4}, Axes: geometry.RotX(3)}
		p.Fits = append(p.Fits, f)
	}
	for i := range 7 {
		p.RuledOut = append(p.RuledOut, search.RuledOut{Candidate: candidate("oval", 25, 18, 1), Bound: -0.1 * float64(7-i),
			LimitedBy: []string{"P1"}, Verdict: search.CannotFit})
		p.RuledOut[i].Solid.Outline, _ = outline.New("oval", 29-float64(i), 18)
	}
	p.RuledOut = append(p.RuledOut, search.RuledOut{Candidate: candidate("round", 22, 22, 1), Bound: 0.5,
		LimitedBy: []string{"skin"}})
	return p
}

// session runs one command line with a stand-in for the search.
type session struct {
	out, err strings.Builder
	status   int
	asked    search.Options
	stone    planner.Stone
}

func runPlan(t *testing.T, change func(*search.Plan), terminal bool, args ...string) *session {
	t.Helper()
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	path := filepath.Join(t.TempDir(), "slab.stone")
	require.NoError(t, os.WriteFile(path, []byte(slabStone), 0o600))
	s := &session{}
	hooks := Hooks{
		Search: func(_ context.Context, stone planner.Stone, opt search.Options, emit func(search.Plan)) (search.Plan,
			error) {
			s.asked, s.stone = opt, stone
			p := found(stone)
			if change != nil {
				change(&p)
			}
			half := p
			half.Progress = 0.5
			emit(half)
			return p, nil
		},
		Draw: func(_ planner.Stone, fit *search.Fit, width, height int, ascii bool) []string {
			return []string{fmt.Sprintf("<drawing of %s, %d x %d, ascii %v>", outlineName(fit.Candidate), width, height, ascii)}
		},
	}
	s.status = Run(append([]string{"plan", path}, args...), Streams{Out: &s.out, Err: &s.err, Progress: terminal}, hooks)
	return s
}

func TestPlanTableIsReadableAt80Columns(t *testing.T) {
	s := runPlan(t, nil, false)
	require.Equal(t, exitDone, s.status, s.err.String())
	out := s.out.String()
	for _, line := range strings.Split(out, "\n") {
		require.LessOrEqual(t, ansi.StringWidth(line), lineWidth, line)
	}
	for _, want := range []string{
		"Test slab: Jasper, SG 2.61",
		"40.0 x 25.0 x 6.0 mm, 6000 mm3: 78.3 ct as drawn, 78.0 ct on the scale",
		"126 sizes, dome out of either face, flat or domed back, tilted up to 15 degrees.",
		"25 fit, 7 cannot, 1 undecided (0.8 s)",
		"Best: rectangle 18x13 mm, 5.1 mm high (wall 1.2, medium dome 3.9, flat back)",
		"tilted 8.1 degrees", // 180 degrees less the 3 radians it was turned by
		"<drawing of rectangle 18x13, 60 x 12, ascii false>",
		// 18 x 13 x 5.1 x 2.61 x 0.0026 = 8.098
		"gives 8.10.",
		"and 5 more: --top 25 shows them all",
		"The next sizes up cannot fit; in the way: oval 23x18 5.4 med. flat base ",
		"and 2 more: --json lists them all",
		"the search's budget was used up",
	} {
		require.Contains(t, strings.Join(strings.Fields(out), " "), strings.Join(strings.Fields(want), " "))
	}
	require.Contains(t, out, "0.21+", "rounded down, and the second fit is not proved")
	require.Contains(t, out, "62%")
	require.NotContains(t, out, "\x1b")
	require.Equal(t, "cabwright: note: shelf: key not known here: kept as it is\n", s.err.String(),
		"warnings, and no progress where there is no terminal")
}

func TestPlanJSONIsAloneOnStandardOutput(t *testing.T) {
	s := runPlan(t, nil, false, "--json", "--top", "3")
	require.Equal(t, exitDone, s.status)
	var got struct {
		Format string
		Stone  struct{ SG float64 }
		Fits   []struct{ Rank int }
		Out    []any `json:"ruled_out"`
		Open   []any `json:"undecided"`
	}
	require.NoError(t, json.Unmarshal([]byte(s.out.String()), &got))
	require.Equal(t, "cabwright-plan", got.Format)
	require.Equal(t, 2.61, got.Stone.SG, "the file names none: the one used is the material's typical one")
	require.Len(t, got.Fits, 3)
	require.Len(t, got.Out, 7)
	require.Len(t, got.Open, 1)
	require.Contains(t, s.err.String(), "note: shelf")
}

func TestPlanPassesItsFlagsOn(t *testing.T) {
	s := runPlan(t, nil, false, "--face", "base", "--sides", "2", "--shapes", "Oval, pear", "--shapes", "oval", "--tilt",
		"0", "--rank", "colour", "--material", "opal-boulder")
	require.Equal(t, exitDone, s.status, s.err.String())
	require.Equal(t, search.Options{Faces: []planner.Face{planner.Base}, Sides: []int{2}, Shapes: []string{"oval", "pear"},
		NoFreeform: true, Level: true, Rank: search.ByColour}, s.asked)
	require.Equal(t, "opal-boulder", s.stone.Material)
	require.Zero(t, s.stone.SG, "the material's, not the file's")
	require.Contains(t, s.out.String(), "dome out of the base, domed back, level")

	s = runPlan(t, nil, false, "--shapes", "freeform", "--tilt", "7.5")
	require.Equal(t, search.Options{Shapes: []string{"freeform"}, TiltMaxDeg: 7.5, Rank: search.ByCarat}, s.asked)
	s = runPlan(t, nil, false)
	require.Equal(t, search.Options{TiltMaxDeg: 15, Rank: search.ByCarat}, s.asked)
}

func TestProgressIsForTerminalsAndCleansUp(t *testing.T) {
	s := runPlan(t, nil, true, "--json")
	progress := s.err.String()
	require.Contains(t, progress, "\rsearching  50%, best so far rectangle 18x13, dome 3.9 med., base, 8.12 ct")
	require.True(t, strings.HasSuffix(progress, "\r"))
	require.True(t, json.Valid([]byte(s.out.String())))
}

func TestNothingFitsIsAnAnswer(t *testing.T) {
	s := runPlan(t, func(p *search.Plan) { p.Fits, p.RuledOut = nil, p.RuledOut[:1] }, false)
	require.Equal(t, exitDone, s.status)
	require.Contains(t, s.out.String(), "Nothing fits.")
	require.Contains(t, s.out.String(), "oval 29x18")
}

func TestStoppedSearchPrintsWhatItHasAndFails(t *testing.T) {
	s := runPlan(t, func(p *search.Plan) { p.Stopped = search.Cancelled }, false, "--json")
	require.Equal(t, exitFailed, s.status)
	require.True(t, json.Valid([]byte(s.out.String())))
	require.Contains(t, s.out.String(), "the search was stopped")
	require.Contains(t, s.err.String(), "the search was stopped")
}

// brokenPipe fails as a closed pipe does.
type brokenPipe struct{ after int }

func (b *brokenPipe) Write(p []byte) (int, error) {
	if b.after--; b.after < 0 {
		return 0, &os.PathError{Op: "write", Path: "|1", Err: syscall.EPIPE}
	}
	return len(p), nil
}

func TestClosedPipeFailsQuietly(t *testing.T) {
	var errs bytes.Buffer
	require.Equal(t, exitFailed, Run([]string{"presets"}, Streams{Out: &brokenPipe{}, Err: &errs}, Hooks{}))
	require.Empty(t, errs.String())
}

// Names of files come from outside as well as what is in them.
func TestMessagesShowNothingRaw(t *testing.T) {
	var errs bytes.Buffer
	args := []string{"new", filepath.Join(t.TempDir(), "gone", "\x1b[2J\u202e.stone"), "--size", "28x20x9"}
	require.Equal(t, exitFailed, Run(args, Streams{Out: &bytes.Buffer{}, Err: &errs}, Hooks{}))
	require.Contains(t, errs.String(), "^[[2J<U+202E>.stone")
	require.NotContains(t, errs.String(), "\x1b")
}

func TestWorkbenchIsOpenedOnAFileOrTheDemo(t *testing.T) {
	t.Setenv("XDG_DATA_HOME", t.TempDir())
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	var got Bench
	hooks := Hooks{Demo: []byte(slabStone), Workbench: func(_ context.Context, b Bench) error { got = b; return nil }}
	run := func(args ...string) int { return Run(args, Streams{Out: &bytes.Buffer{}, Err: &bytes.Buffer{}}, hooks) }

	require.Equal(t, exitDone, run("--plain", "river.stone"))
	require.NotEmpty(t, got.Presets.Materials)
	got.Presets = nil
	require.Equal(t, Bench{Path: "river.stone", Plain: true}, got)

	require.Equal(t, exitDone, run())
	text, err := os.ReadFile(got.Path)
	require.NoError(t, err)
	require.Equal(t, slabStone, string(text), "the demo is a copy")
	require.True(t, got.Demo)
	require.NoError(t, os.WriteFile(got.Path, []byte("mine"), 0o600))
	require.Equal(t, exitDone, run())
	text, err = os.ReadFile(got.Path)
	require.NoError(t, err)
	require.Equal(t, "mine", string(text), "and stays as the cutter left it")

	hooks.Workbench = func(context.Context, Bench) error { return errors.New("no terminal") }
	require.Equal(t, exitFailed, run("river.stone"))
}

// A fault of the program's own is exit status 1, not that of a bad file.
func TestAFaultOfItsOwn(t *testing.T) {
	var out, errs bytes.Buffer
	hooks := Hooks{Search: func(context.Context, planner.Stone, search.Options, func(search.Plan)) (search.Plan, error) {
		panic("index out of range")
	}}
	status := Run([]string{"plan", "../../testdata/stones/slab.stone"}, Streams{Out: &out, Err: &errs}, hooks)
	require.Equal(t, exitFailed, status)
	require.Contains(t, errs.String(), "index out of range")
	require.Empty(t, out.String())
}
