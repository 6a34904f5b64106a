package command

import (
	"context"
	"errors"
	"fmt"
	"io"
	"syscall"

	"github.com/spf13/cobra"

	"cabwright/planner"
	"cabwright/planner/learn"
	"cabwright/planner/search"
	"cabwright/planner/stonefile"
	"cabwright/presets"
)

// version is what --version prints.
const version = "0.1.0"

// The exit statuses.
const (
	exitDone   = 0
	exitFailed = 1
	exitUsage  = 2 // bad input or bad arguments
)

// Streams are where a command reads and writes.
type Streams struct {
	In       io.Reader
	Out      io.Writer
	Err      io.Writer
	Progress bool // Err is a terminal that progress may be shown on
}

// Hooks are what the commands need from above them: main gives them, as this
// package knows nothing of the workbench.
type Hooks struct {
	// Workbench opens a stone file on the screen until the cutter leaves.
	Workbench func(ctx context.Context, b Bench) error
	// Draw returns a drawing of a fit on its stone, as plain text of at most
	// width x height cells.
	Draw func(stone planner.Stone, fit *search.Fit, width, height int, ascii bool) []string
	// Search is search.Run, or a stand-in for it in tests.
	Search func(ctx context.Context, stone planner.Stone, opt search.Options, emit func(search.Plan)) (search.Plan, error)
	// Demo is the text of the stone that is opened when no file is named.
	Demo []byte
}

// Bench says how the workbench is to be opened.
type Bench struct {
	Path    string
	Demo    bool // it is the cutter's copy of the demo stone
	Plain   bool // append-only text instead of the full screen
	ASCII   bool // drawings of ASCII signs only
	Picture *Picture
	Presets *presets.Set
	Note    string // what is to be said about the cutter's own presets, or ""
}

// Run carries out one command line, without the program's name, and returns the
// exit status: 0 done, 1 failed, 2 bad input or usage.
func Run(args []string, std Streams, hooks Hooks) (status int) {
	// A fault of the program's own is no fault of the file's.
	defer func() {
		if v := recover(); v != nil {
			fmt.Fprintf(std.Err, "cabwright: a fault of the program itself: %v. Please keep the stone file and report it.\n",
				planner.Visible(fmt.Sprint(v)))
			status = exitFailed
		}
	}()
	out := &sink{to: std.Out}
	std.Out = out
	root := newRoot(std, hooks)
	root.SetArgs(args)
	root.SetIn(std.In)
	root.SetOut(out)
	root.SetErr(std.Err)
	err := root.ExecuteContext(context.Background())
	if out.err != nil {
		err = out.err
	}
	return report(std.Err, err)
}

// report prints an error on one line and returns the exit status it calls for.
func report(w io.Writer, err error) int {
	if err == nil {
		return exitDone
	}
	// Nobody reads what is written to a closed pipe, nor why it ended.
	if !errors.Is(err, syscall.EPIPE) {
		fmt.Fprintln(w, "cabwright: "+planner.Visible(err.Error()))
	}
	var usage interface{ BadUsage() }
	var file *stonefile.Error
	if errors.As(err, &usage) || errors.As(err, &file) {
		return exitUsage
	}
	return exitFailed
}

// usageError is a mistake in what was typed.
type usageError struct{ what string }

func (e *usageError) Error() string { return e.what }

// BadUsage marks the error as one of usage; the workbench marks its own so.
func (*usageError) BadUsage() {}

func usagef(format string, args ...any) error {
	return &usageError{what: fmt.Sprintf(format, args...)}
}

// sink passes writes on and remembers the first that failed: a full disk or a
// closed pipe is reported once, whichever command met it.
type sink struct {
	to  io.Writer
	err error
}

// Write writes p, or returns the error that an earlier write met.
func (s *sink) Write(p []byte) (int, error) {
	if s.err != nil {
		return 0, s.err
	}
	n, err := s.to.Write(p)
	if err != nil {
		s.err = fmt.Errorf("writing the result: %w", err)
	}
	return n, s.err
}

// app is what the commands share.
type app struct {
	std    Streams
	hooks  Hooks
	loaded *presets.Set // once asked for

	records map[string]learn.Record // of the folders that were read
}

// warn prints a warning on standard error.
func (a *app) warn(text string) {
	fmt.Fprintln(a.std.Err, "cabwright: note: "+planner.Visible(text))
}

// oneFile wants exactly one argument, a stone file.
func oneFile(cmd *cobra.Command, args []string) error {
	switch len(args) {
	case 1:
		return nil
	case 0:
		return usagef("%s needs a stone file: %s", cmd.Name(), cmd.UseLine())
	default:
		return usagef("%s takes one stone file, not %d", cmd.Name(), len(args))
	}
}

// completeStone offers stone files to the shell.
func completeStone(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	return []string{"stone"}, cobra.ShellCompDirectiveFilterFileExt
}
