package main

import (
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"

	"github.com/creack/pty"
	"github.com/rogpeppe/go-internal/testscript"
)

// quickEnd is the race detector's setting that takes that second away.
const quickEnd = "atexit_sleep_ms=0"

// TestMain lets the scripts run this very program as the command cabwright.
func TestMain(m *testing.M) {
	// The race detector makes each process wait a second as it ends.
	os.Setenv("GORACE", quickEnd)
	testscript.Main(m, map[string]func(){"cabwright": main})
}

// TestScripts runs every script in testdata/scripts: a script is a command line
// and what it must print, refuse or leave alone.
func TestScripts(t *testing.T) {
	stones, err := filepath.Abs(filepath.Join("testdata", "stones"))
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir: filepath.Join("testdata", "scripts"),
		Setup: func(env *testscript.Env) error {
			env.Setenv("STONES", stones)
			env.Setenv("XDG_CONFIG_HOME", filepath.Join(env.WorkDir, "config"))
			env.Setenv("XDG_DATA_HOME", filepath.Join(env.WorkDir, "data"))
			env.Setenv("HOME", env.WorkDir)
			env.Setenv("GORACE", quickEnd)
			return nil
		},
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){"exits": exits},
	})
}

// exits is "exits STATUS PROGRAM ARGS...": the program must end with just that
// exit status. What it printed is there for stdout and stderr.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits STATUS PROGRAM ARGS...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	var exit *exec.ExitError
	if err := ts.Exec(args[1], args[2:]...); errors.As(err, &exit) {
		got = exit.ExitCode()
	} else if err != nil {
		ts.Fatalf("%v", err)
	}
	if got != want {
		ts.Fatalf("exit status %d, want %d", got, want)
	}
}

// The demo stones are part of the program's promise: each can be read.
func TestDemoStonesAreThere(t *testing.T) {
	names, err := filepath.Glob(filepath.Join("testdata", "stones", "*.stone"))
	if err != nil || len(names) < 6 {
		t.Fatalf("%d demo stones, %v", len(names), err)
	}
	first, err := os.ReadFile(filepath.Join("testdata", "stones", "nodule.stone"))
	if err != nil || string(first) != string(demo) {
		t.Fatalf("the demo in the program is not the one in the folder: %v", err)
	}
}

// The terminal is asked nothing: one that does not answer would hold up the start
// by the 5 s that the terminal library waits for a colour.
func TestVersionAsksTheTerminalNothing(t *testing.T) {
	tty, err := pty.Start(exec.Command("cabwright", "--version"))
	if err != nil {
		t.Fatal(err)
	}
	defer tty.Close()
	text, err := io.ReadAll(tty)
	if err != nil && !errors.Is(err, syscall.EIO) { // how Linux says that the other end is closed
		t.Fatal(err)
	}
	if !strings.HasPrefix(string(text), "cabwright ") || strings.Contains(string(text), "\x1b") {
		t.Fatalf("%q", text)
	}
}
