package ui

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/planner/stonefile"
	"cabwright/presets"
	"cabwright/ui/keys"
	"cabwright/ui/view"
)

// stoneFile copies a demo stone to a folder of the test's own.
func stoneFile(t testing.TB, name string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "testdata", "stones", name))
	require.NoError(t, err)
	path := filepath.Join(t.TempDir(), name)
	require.NoError(t, os.WriteFile(path, data, 0o644))
	return path
}

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
	cfg := Config{Path: os.Args[1], In: os.Stdin, Out: os.Stdout, Getenv: os.Getenv, Presets: presets.Builtin(),
		Search: fakeSearch}
	if os.Getenv(realEnv) != "" {
		cfg.Search = search.Run
	}
	m, err := open(cfg)
	if err == nil {
		if how := os.Getenv(breakEnv); how != "" {
			m.views[0] = &broken{View: m.views[0], how: how}
		}
		err = runTerminal(context.Background(), m, os.Stdin, os.Stdout)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	return 0
}

// patience is how long a test waits before it has failed: as long as a very busy
// machine may take, since a test that passes does not wait.
const patience = 2 * time.Minute

// realEnv makes the program search as it does for the cutter.
const realEnv = "CABWRIGHT_TEST_REAL"

// breakEnv says where the program is to break at the key 9.
const breakEnv = "CABWRIGHT_TEST_BREAK"

// hung is said when the program begins to hang.
const hung = "HUNG"

// broken is a view with a fault in it.
type broken struct {
	view.View
	how string
	now bool
}

func (b *broken) Actions(s *view.State) []keys.Action {
	fault := func() tea.Msg { panic("broken cmd") }
	return append(b.View.Actions(s), keys.Action{Name: "Break", Keys: []string{"9"}, Run: func() tea.Cmd {
		switch b.how {
		case "update":
			panic("broken update")
		case "hang":
			fmt.Println(hung)
			select {} // as a fault that never comes to an end
		case "view":
			b.now = true
		case "cmd":
			return fault
		case "batch":
			return tea.Batch(fault, tea.Batch(fault, fault))
		case "search":
			s.SetOptions(search.Options{TiltMaxDeg: brokenTilt})
		case "worker":
			s.SetOptions(search.Options{TiltMaxDeg: brokenTilt, Workers: 2})
		}
		return nil
	}})
}

func (b *broken) Render(s *view.State, width, height int) []string {
	if b.now {
		panic("broken view")
	}
	return b.View.Render(s, width, height)
}

// brokenTilt is the tilt at which fakeSearch breaks.
const brokenTilt = 1

// fakeSearch finds ovals of one and of two sides in the middle of the stone, one
// after the other as a search that streams does: what is tested here is not
// whether they fit.
func fakeSearch(ctx context.Context, stone planner.Stone, opt search.Options, emit func(search.Plan)) (search.Plan,
	error) {
	if opt.TiltMaxDeg == brokenTilt {
		geometry.SideBySide(opt.Workers, func(int) { panic("broken search") })
		panic("broken search")
	}
	whole := fakePlan(stone)
	for n := 2; n < len(whole.Fits); n += 2 {
		select {
		case <-ctx.Done():
			whole.Stopped = search.Cancelled
			return whole, nil
		case <-time.After(5 * time.Millisecond):
		}
		part := whole
		part.Fits = whole.Fits[:n]
		part.Progress, part.Stopped = float64(n)/float64(len(whole.Fits)), ""
		emit(part)
	}
	return whole, nil
}

// fakePlan is what fakeSearch finds in the end.
func fakePlan(stone planner.Stone) search.Plan {
	e := planner.Extent(stone.Outline)
	plan := search.Plan{Stone: stone, Sizes: 3, TiltMaxDeg: 15, Tolerance: 0.05, Progress: 1, Stopped: search.Complete}
	for _, k := range []float64{0.5, 0.45, 0.4} {
		if e.Width*k >= 1 {
			plan.Fits = append(plan.Fits, fakeFit(e, k, 1), fakeFit(e, k, 2))
		}
	}
	return plan
}

func fakeFit(e planner.Calipers, k float64, sides int) search.Fit {
	length, width := float64(int(e.Length*k)), float64(int(e.Width*k))
	oval, err := outline.New("oval", length, width)
	if err != nil {
		panic(err)
	}
	body := solid.Cabochon{Outline: oval, Wall: 1.2, WallLeanDeg: 10, Dome: 0.3 * width, Sides: sides}
	if sides == 2 {
		body.Back = 1
	}
	return search.Fit{
		Candidate: search.Candidate{Solid: body, Face: planner.Top, DomeStyle: "medium", BackStyle: "flat"},
		Pose:      search.Pose{Origin: geometry.Vec3{X: e.Centre.X, Y: e.Centre.Y, Z: 3}, Axes: geometry.Identity3()},
		Clearance: 0.21, LimitedBy: []string{"skin"}, Volume: 251, Carat: 2.3, CaratLow: 2.1, CaratHigh: 2.6, Colour: 0.5,
		Proved: true,
	}
}

// memoryStore is a Store that keeps everything in memory.
type memoryStore struct {
	path  string
	isNew bool
}

func (s *memoryStore) Path() string                                     { return s.path }
func (s *memoryStore) New() bool                                        { return s.isNew }
func (s *memoryStore) ReadOnly() error                                  { return nil }
func (s *memoryStore) Record(uint64, string, planner.Stone) error       { return nil }
func (s *memoryStore) Save(uint64, planner.Stone) error                 { return nil }
func (s *memoryStore) SaveOver(uint64, planner.Stone) error             { return nil }
func (s *memoryStore) SaveAs(string, uint64, planner.Stone, bool) error { return nil }
func (s *memoryStore) Found() *stonefile.Recovery                       { return nil }
func (s *memoryStore) Recover() (planner.Stone, error)                  { return planner.Stone{}, nil }
func (s *memoryStore) Discard() error                                   { return nil }
func (s *memoryStore) Close() error                                     { return nil }
