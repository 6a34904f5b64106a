package ui

import (
	"context"
	"errors"
	"fmt"
	"os"
	"testing"
	"time"

	"cabwright/geometry"
	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/presets"
)

// childEnv makes the test binary the program itself: whole sessions start it on
// a terminal of their own.
const childEnv = "CABWRIGHT_TEST_CHILD"

func TestMain(m *testing.M) {
	if os.Getenv(childEnv) != "" {
		os.Exit(child())
	}
	os.Exit(m.Run())
}

// child runs the workbench as main does, on the file named by its argument.
func child() int {
	cfg := Config{Path: os.Args[1], In: os.Stdin, Out: os.Stdout, Getenv: os.Getenv, Presets: presets.Builtin(), Search: fakeSearch}
	if err := Run(context.Background(), cfg); err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	return 0
}

// fakeSearch finds one oval after the other in the middle of the stone, as a
// search that streams does: what is tested here is not whether they fit.
func fakeSearch(ctx context.Context, stone planner.Stone, _ search.Options, emit func(search.Plan)) (search.Plan, error) {
	if len(stone.Outline) < 3 {
		return search.Plan{}, errors.New("no outline")
	}
	e := planner.Extent(stone.Outline)
	plan := search.Plan{Stone: stone, Sizes: 3, TiltMaxDeg: 15, Tolerance: 0.05}
	for i, k := range []float64{0.5, 0.45, 0.4} {
		select {
		case <-ctx.Done():
			plan.Stopped = search.Cancelled
			return plan, nil
		case <-time.After(5 * time.Millisecond):
		}
		plan.Fits = append(plan.Fits, fakeFit(e, k))
		plan.Progress = float64(i+1) / 3
		emit(plan)
	}
	plan.Stopped = search.Complete
	return plan, nil
}

func fakeFit(e planner.Calipers, k float64) search.Fit {
	length, width := float64(int(e.Length*k)), float64(int(e.Width*k))
	body := solid.Cabochon{Outline: outline.Outline{Shape: "oval", Length: length, Width: width}, Wall: 1.2, WallLeanDeg: 10, Dome: 0.3 * width, Sides: 1}
	return search.Fit{
		Candidate: search.Candidate{Solid: body, Face: planner.Top, DomeStyle: "medium", BackStyle: "flat"},
		Pose:      search.Pose{Origin: geometry.Vec3{X: e.Centre.X, Y: e.Centre.Y, Z: 3}, Axes: geometry.Identity3()},
		Clearance: 0.21, LimitedBy: []string{"skin"}, Volume: 251, Carat: 2.3, CaratLow: 2.1, CaratHigh: 2.6, Colour: 0.5, Proved: true,
	}
}
