package ui

import (
	"fmt"
	"runtime/debug"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"cabwright/planner"
	"cabwright/ui/canvas"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

// The sizes in cells under which less is shown.
const (
	fullWidth, fullHeight = 60, 18 // with a drawing
	listWidth, listHeight = 30, 8  // with a list of figures
)

// frameTime is the shortest time between two frames drawn for a drag: the
// library puts out 60 a second, and more would never be seen.
const frameTime = 16 * time.Millisecond

// frame holds the last screen, so that a flood of drags is not drawn one by one.
type frame struct {
	last    string
	at      time.Time
	skip    bool // the present message needs no new frame
	pending bool // one will be drawn soon
}

// frameMsg only draws: a frame left out during a drag is pending.
type frameMsg struct{}

// schedule decides whether a message gets a frame of its own; when it does not, the
// command it returns draws one in a moment.
func (f *frame) schedule(msg tea.Msg) tea.Cmd {
	f.skip = false
	if _, ok := msg.(frameMsg); ok {
		f.pending = false
		return nil
	}
	mouse, ok := msg.(tea.MouseMsg)
	if !ok || mouse.Action != tea.MouseActionMotion || time.Since(f.at) > frameTime {
		return nil
	}
	f.skip = true
	if f.pending {
		return nil
	}
	f.pending = true
	return tea.Tick(frameTime, func(time.Time) tea.Msg { return frameMsg{} })
}

// View draws the screen. A panic in it ends the program in order.
func (m *Model) View() (out string) {
	if m.frame.skip && m.frame.last != "" {
		return m.frame.last
	}
	defer func() {
		if r := recover(); r != nil {
			out = ""
			f := fault{r, debug.Stack()}
			if m.send != nil {
				go m.send(faultMsg{f})
			}
		}
	}()
	m.frame.last = strings.Join(m.lines(), "\n")
	m.frame.at = time.Now()
	return m.frame.last
}

// lines returns the screen: exactly height lines of at most width cells.
func (m *Model) lines() []string {
	if m.width < listWidth || m.height < listHeight {
		small := fmt.Sprintf("%dx%d: needs %dx%d, edits kept", m.width, m.height, listWidth, listHeight)
		return screen([]string{small}, m.width, m.height)
	}
	body := m.bodyRows()
	out := make([]string, 0, m.height)
	out = append(out, m.title(), m.answerLine())
	out = append(out, screen(m.body(m.width, body), m.width, body)...)
	// A message too long for its line covers the lines above.
	status := m.statusLines()
	out = append(out[:len(out)-(len(status)-1)], status...)
	out = screen(append(out, m.keysLine()), m.width, m.height)
	if m.s.Glyphs == canvas.ASCII {
		for i := range out {
			out[i] = plainSigns.Replace(out[i])
		}
	}
	return out
}

// plainSigns stand in for the program's own signs where the font or the locale
// has only ASCII, each as wide as what it stands for.
var plainSigns = strings.NewReplacer("▸", ">", "▏", "_", "…", "~", "─", "-", "│", "|",
	"↑", "^", "↓", "v", "←", "<", "→", ">",
	"±", "~", "²", "2", "³", "3", "°", "d", "✓", "v", "◆", "@",
	"▲", "^", "┼", "+", "•", "o", "○", "O", "×", "x", "·", ".", "−", "-", "≥", ">", "≠", "#", "█", "#", "░", "-")

// The rows above and below the open view: title and answer, status and keys.
const headRows, footRows = 2, 2

// bodyRows is how many rows there are for the open view and what lies over it.
func (m *Model) bodyRows() int { return m.height - headRows - footRows }

// viewRows is how many of them the open view is drawn in: the first hint and, where
// there is room for both, the legend stand below the drawing, not on it.
func (m *Model) viewRows() int {
	body := m.bodyRows()
	switch {
	case m.s.Asking() != nil || m.finder != nil:
		return body
	case m.legend:
		if left := body - m.legendRows(); left >= fullHeight {
			return left
		}
	case m.hint && m.drawn() >= fullWidth:
		return body - len(m.hintLines(m.width))
	}
	return body
}

// screen holds lines to a size: too many are cut, missing ones are empty, none
// is wider than width.
func screen(lines []string, width, height int) []string {
	out := make([]string, max(0, height))
	for i := range out {
		if i < len(lines) {
			out[i] = lines[i]
			if view.Width(out[i]) > width {
				out[i] = ansi.Truncate(out[i], width, "")
			}
		}
	}
	return out
}

// body draws the open view, or what lies over it.
func (m *Model) body(width, height int) []string {
	if m.finder != nil {
		return m.finder.Render(m.s.Style, width, height)
	}
	out := screen(m.views[m.at].Render(m.s, m.drawn(), m.viewRows()), width, height)
	panel := m.panel(width, height)
	if len(panel) > height {
		panel = panel[len(panel)-height:]
	}
	// A form covers the view's lower lines: a drawing that changed its size while a
	// value is typed would be hard to follow.
	copy(out[height-len(panel):], panel)
	return out
}

// drawn is the width given to a view: a screen too small for a drawing gets the
// list of figures that views show below 60 columns.
func (m *Model) drawn() int {
	if m.width < fullWidth || m.height < fullHeight {
		return min(m.width, fullWidth-1)
	}
	return m.width
}

// panel is what stands under the view: an open form, or the first hint.
func (m *Model) panel(width, height int) []string {
	switch {
	case m.s.Asking() != nil:
		var out []string
		for _, row := range m.s.Asking().Rows(m.s.Style, width, height) {
			out = append(out, row.Text)
		}
		return out
	case m.legend:
		return m.legendLines(width, height)
	case m.hint:
		return m.hintLines(width)
	}
	return nil
}

// What the title line keeps free beside the views' names: for the stone's name and
// how it is kept, or at least for the latter.
const titleRoom, stateRoom = 24, 8

// tabs returns the views' names as they stand on the title line: in full, by their
// first words where that leaves too little room for the stone's name, closer
// together, or by their keys alone.
func (m *Model) tabs() []string {
	keysOnly := m.named(func(string) string { return "" })
	if m.width < fullWidth {
		return keysOnly
	}
	fits := func(tabs []string, room int) bool { return ansi.StringWidth(strings.Join(tabs, "")) <= m.width-room }
	whole := m.named(func(name string) string { return name })
	if fits(whole, titleRoom) {
		return whole
	}
	word := func(name string) string { return strings.Fields(name)[0] }
	first := m.named(word)
	if fits(first, titleRoom) {
		return first
	}
	// The open one's name is the longest there is: cut that short too.
	first[m.at] = fmt.Sprintf("[%d %s]", m.at+1, word(m.views[m.at].Name()))
	if fits(first, titleRoom) {
		return first
	}
	for i, t := range first {
		first[i] = strings.TrimSuffix(t, " ")
		if i > 0 && i == m.at {
			first[i] = " " + t
		}
	}
	if fits(first, stateRoom) {
		return first
	}
	return keysOnly
}

// named returns the views' keys and names; those that are not open are shortened.
func (m *Model) named(short func(string) string) []string {
	out := make([]string, len(m.views))
	for i, v := range m.views {
		if i == m.at {
			out[i] = fmt.Sprintf("[%d %s]", i+1, v.Name())
			continue
		}
		out[i] = " " + strings.TrimSpace(fmt.Sprintf("%d %s", i+1, short(v.Name()))) + " "
	}
	return out
}

// title is the first line: the views, and the stone's name with how it is kept.
func (m *Model) title() string {
	var left strings.Builder
	for i, t := range m.tabs() {
		role := style.Text
		if i == m.at {
			role = style.Title
		}
		left.WriteString(m.s.Style.Paint(role, t))
	}
	name := planner.Visible(m.s.Stone().Name)
	if name == "" {
		name = "no name yet"
	}
	state, role := m.keeper.state(m.s)
	const apart = 2 // cells between the views and the name, at least: it is no view
	room := m.width - ansi.StringWidth(left.String()) - ansi.StringWidth(state) - 2 - apart
	right := m.s.Style.Paint(role, state)
	if room >= min(7, ansi.StringWidth(name)) { // fewer letters of a name tell nothing
		right = ansi.Truncate(name, room, "…") + "  " + right
	}
	gap := m.width - ansi.StringWidth(left.String()) - ansi.StringWidth(right)
	return left.String() + strings.Repeat(" ", max(1, gap)) + right
}

// statusMost is how many lines a message may take.
const statusMost = 3

// statusLines are the message: one line unless it needs more.
func (m *Model) statusLines() []string {
	status := m.s.Status()
	text := planner.Visible(status.Text)
	if text == "" && m.s.RoughErr != nil {
		text, status.Role = planner.Visible(m.s.RoughErr.Error()), style.Faint
		if len(m.s.Mistakes) > 0 {
			status.Role = style.Bad
		}
	}
	if text == "" && m.drawn() < fullWidth {
		text, status.Role = fmt.Sprintf("A drawing needs %dx%d.", fullWidth, fullHeight), style.Faint
	}
	if text == "" {
		text, status.Role = m.explained(), style.Faint
	}
	if ansi.StringWidth(text) <= m.width {
		return []string{view.Fit(m.s.Style.Paint(status.Role, text), m.width)}
	}
	lines, most := strings.Split(ansi.Wrap(text, m.width, "/"), "\n"), statusMost
	if m.s.Asking() != nil || m.finder != nil {
		most = 1 // what is asked for must not be covered
	}
	if len(lines) > most {
		lines = append(lines[:most-1:most-1], ansi.Truncate(lines[most-1], m.width-1, "")+"…")
	}
	for i := range lines {
		lines[i] = view.Fit(m.s.Style.Paint(status.Role, lines[i]), m.width)
	}
	return lines
}
