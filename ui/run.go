package ui

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"
	"syscall"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/term"

	"cabwright/ui/input"
	_ "cabwright/ui/termfix" // before the terminal library asks for colours
)

// endSignals end the program in order: the terminal put right, the work kept.
var endSignals = []os.Signal{syscall.SIGINT, syscall.SIGTERM, syscall.SIGHUP, syscall.SIGQUIT}

// leaveTime is how long leaving in order may take after a signal before the
// terminal is put right by hand: less than the 5 s after which service managers
// begin to kill (common practice 5 to 90 s).
const leaveTime = 3 * time.Second

// SignalError says that a signal ended the program.
type SignalError struct{ Signal syscall.Signal }

func (e SignalError) Error() string { return "ended by signal: " + e.Signal.String() }

// restoring is what puts a terminal right that was left in the middle of the
// workbench: mouse reports off, paste marks off, cursor shown, own screen left.
const restoring = "\x1b[?1002l\x1b[?1003l\x1b[?1006l\x1b[?2004l\x1b[?25h\x1b[?1049l\x1b[0m"

// errNoTerminal says what to do where there is no screen.
var errNoTerminal = errors.New("the workbench needs a terminal that can move its cursor: --plain works without one")

// runTerminal runs the model on a terminal until it is left.
func runTerminal(ctx context.Context, m *Model, in, out *os.File) error {
	before, err := term.GetState(in.Fd())
	if err != nil || !term.IsTerminal(out.Fd()) || m.cfg.Getenv("TERM") == "dumb" {
		return noted(errNoTerminal, m.keeper.close(m.s))
	}
	program := tea.NewProgram(m,
		tea.WithInput(input.New(in)), tea.WithOutput(out), tea.WithContext(ctx),
		tea.WithAltScreen(), tea.WithMouseCellMotion(), tea.WithoutSignalHandler())
	m.send = program.Send
	ended, stop := handleSignals(program, func() {
		io.WriteString(out, restoring)
		term.Restore(in.Fd(), before)
	})
	_, err = program.Run()
	stop()
	m.search.stop()
	kept := m.keeper.close(m.s)
	fmt.Fprint(out, kept)
	select {
	case s := <-ended:
		return SignalError{s}
	default:
	}
	if m.fault != nil {
		return m.fault.report()
	}
	return err
}

// noted adds a note on what became of the edits to an error, in one line.
func noted(err error, note string) error {
	if note == "" {
		return err
	}
	return fmt.Errorf("%w; %s", err, strings.TrimSpace(note))
}

// handleSignals ends the program when one of endSignals comes. The library has
// its own handler, but that one knows only two of them and passes the last save by.
// When the event loop does not answer in leaveTime, byHand puts the terminal
// right and the process ends at once.
func handleSignals(program *tea.Program, byHand func()) (ended chan syscall.Signal, stop func()) {
	ended = make(chan syscall.Signal, 1)
	signals := make(chan os.Signal, 4)
	done := make(chan struct{})
	signal.Notify(signals, endSignals...)
	go func() {
		select {
		case <-done:
			return
		case s := <-signals:
			number, _ := s.(syscall.Signal)
			ended <- number
			go program.Send(leaveMsg{})
			select {
			case <-done:
			case <-time.After(leaveTime):
				byHand()
				os.Exit(128 + int(number))
			}
		}
	}()
	return ended, func() {
		signal.Stop(signals)
		close(done)
	}
}

// leaveMsg asks to leave without a question: a signal came.
type leaveMsg struct{}
