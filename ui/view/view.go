package view

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"cabwright/ui/keys"
)

// View is one way to look at the stone. All its methods run on the program's
// one event loop and do no I/O; what takes longer is returned as a command.
type View interface {
	// Name stands on the title line.
	Name() string
	// Actions returns what can be done in this view now, besides the actions
	// of the workbench itself. The order is that of the bottom line.
	Actions(s *State) []keys.Action
	// Update takes every message that is neither a key nor the mouse.
	Update(s *State, msg tea.Msg) tea.Cmd
	// Mouse takes what the mouse does inside the view.
	Mouse(s *State, m Mouse) tea.Cmd
	// Render draws the view: at most height lines of at most width cells.
	Render(s *State, width, height int) []string
}

// Follower is a view that works something out of the stone as it is: while it is
// the one on the screen it is asked after every message whether there is
// anything to begin. It is asked often and answers at once.
type Follower interface {
	Follow(s *State) tea.Cmd
}

// MouseKind says what the mouse did.
type MouseKind int

// What a mouse does. Between a Press and its Release come the Drags.
const (
	Press MouseKind = iota
	Drag
	Release
	Cancel // the right button
	WheelUp
	WheelDown
)

// Mouse is one thing the mouse did, in cells from the view's upper left corner.
type Mouse struct {
	Kind          MouseKind
	Col, Row      int
	Width, Height int // of the view, as last rendered
}

// Columns returns how a width of cells is shared between the drawing on the left
// and the figures on the right; one column stays free between them. In a width
// under 60 the drawing has no room and all of it goes to the figures.
func Columns(width int) (drawing, figures int) {
	if width < 60 {
		return 0, width
	}
	// At 80 columns 52 and 27, at 120 77 and 42, at 160 100 and 59.
	figures = min(59, 27+max(0, width-100)*3/4)
	return width - figures - 1, figures
}

// Beside returns left and right side by side, left held to a width of cells,
// one column free between them.
func Beside(left []string, width int, right []string) []string {
	out := make([]string, max(len(left), len(right)))
	for i := range out {
		l, r := "", ""
		if i < len(left) {
			l = left[i]
		}
		if i < len(right) {
			r = right[i]
		}
		out[i] = Fit(l, width) + " " + r
	}
	return out
}

// Fit returns a line, with or without colours, in exactly width cells: cut short
// with an ellipsis or filled up with spaces.
func Fit(line string, width int) string {
	if width <= 0 {
		return ""
	}
	if Width(line) > width {
		// A sign two cells wide at the cut leaves one cell to fill.
		line = ansi.Truncate(line, width, "…")
	}
	return line + strings.Repeat(" ", max(0, width-Width(line)))
}
