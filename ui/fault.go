package ui

import (
	"fmt"
	"os"
	"runtime/debug"

	tea "github.com/charmbracelet/bubbletea"

	"cabwright/geometry"
)

// fault is a mistake of the program's own, caught so that the terminal can be
// put right and the work kept.
type fault struct {
	what  any
	stack []byte
}

func (f fault) Error() string { return fmt.Sprintf("a fault of the program's own: %v", f.what) }

// report writes where the fault happened to a file, for whoever can mend it, and
// returns the fault as an error of one line that names the file.
func (f fault) report() error {
	file, err := os.CreateTemp("", "cabwright-fault-*.txt")
	if err != nil {
		return f
	}
	defer file.Close()
	fmt.Fprintf(file, "%v\n\n%s", f, f.stack)
	if p, ok := f.what.(geometry.Panic); ok {
		fmt.Fprintf(file, "\nwhere it happened:\n%s", p.Stack)
	}
	return fmt.Errorf("%w; what is needed to mend it is in %s", f, file.Name())
}

// faultMsg carries a fault from a command or the drawing to the event loop.
type faultMsg struct{ fault fault }

// fail remembers the first fault; the program ends with it.
func (m *Model) fail(f fault) {
	if m.fault == nil {
		m.fault = &f
	}
}

// guarded returns a command that hands a panic over as a message. A batch hands
// its commands to the library, so each of them is guarded as well.
func guarded(cmd tea.Cmd) tea.Cmd {
	if cmd == nil {
		return nil
	}
	return func() (msg tea.Msg) {
		defer func() {
			if r := recover(); r != nil {
				msg = faultMsg{fault{r, debug.Stack()}}
			}
		}()
		msg = cmd()
		if batch, ok := msg.(tea.BatchMsg); ok {
			out := make(tea.BatchMsg, len(batch))
			for i, c := range batch {
				out[i] = guarded(c)
			}
			return out
		}
		return msg
	}
}
