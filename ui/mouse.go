package ui

import (
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"cabwright/ui/keys"
	"cabwright/ui/view"
	"cabwright/ui/widget"
)

// mouseDid routes what the mouse did to the line or the view it did it in.
func (m *Model) mouseDid(e tea.MouseMsg) tea.Cmd {
	kind, ok := mouseKind(e)
	if !ok || m.width < listWidth || m.height < listHeight {
		return nil
	}
	press, rows := kind == view.Press, m.viewRows() // as it was drawn last
	if press {
		m.hint = false
	}
	switch {
	case press && e.Y == m.height-1:
		return m.clickHint(e.X)
	case m.finder != nil:
		return m.mouseInFinder(kind, e.Y-headRows)
	case m.s.Asking() != nil:
		m.mouseInForm(kind, e.Y)
		return nil
	case press && e.Y == 0:
		m.clickTitle(e.X)
		return nil
	case press && (e.Y < headRows || e.Y >= headRows+rows || e.Y >= m.height-footRows):
		return nil
	}
	if _, drawing := m.views[m.at].(pointing); !drawing && kind != view.Release {
		m.s.KeepChoice()
	}
	return m.views[m.at].Mouse(
		m.s,
		view.Mouse{Kind: kind, Col: e.X, Row: e.Y - headRows, Width: m.drawn(), Height: rows},
	)
}

func mouseKind(e tea.MouseMsg) (view.MouseKind, bool) {
	switch {
	case e.Button == tea.MouseButtonWheelUp:
		return view.WheelUp, true
	case e.Button == tea.MouseButtonWheelDown:
		return view.WheelDown, true
	case e.Button == tea.MouseButtonRight && e.Action == tea.MouseActionPress:
		return view.Cancel, true
	case e.Button == tea.MouseButtonLeft && e.Action == tea.MouseActionPress:
		return view.Press, true
	case e.Button == tea.MouseButtonLeft && e.Action == tea.MouseActionMotion:
		return view.Drag, true
	case e.Action == tea.MouseActionRelease:
		return view.Release, true
	}
	return 0, false
}

// clickTitle opens the view whose name was clicked.
func (m *Model) clickTitle(x int) {
	at := 0
	for i, t := range m.tabs() {
		at += ansi.StringWidth(t)
		if x < at {
			m.open(i)
			return
		}
	}
}

// clickHint does what the clicked entry of the bottom line says.
func (m *Model) clickHint(x int) tea.Cmd {
	at := 0
	for _, h := range m.hints() {
		end := at + keys.HintWidth(h)
		if x >= at && x < end {
			return m.press(h.Help().Key)
		}
		at = end + keys.HintGap
	}
	return nil
}

// press does what a key of the bottom line does, given the label it is shown by.
func (m *Model) press(label string) tea.Cmd {
	if m.s.Asking() != nil || m.finder != nil {
		types := map[string]tea.KeyType{"enter": tea.KeyEnter, "esc": tea.KeyEsc, "tab": tea.KeyTab, "ctrl+s": tea.KeyCtrlS}
		if t, ok := types[label]; ok {
			return m.key(tea.KeyMsg{Type: t})
		}
		return nil
	}
	for _, a := range m.actions() {
		if len(a.Keys) > 0 && (keys.Label(a.Keys[0]) == label || a.Keys[0] == label) {
			return m.run(a, true)
		}
	}
	return nil
}

// mouseInForm picks the field that was clicked; the wheel steps a field's value
// and the right button steps back.
func (m *Model) mouseInForm(kind view.MouseKind, y int) {
	f := m.s.Asking()
	rows := f.Rows(m.s.Style, m.width, m.bodyRows())
	at, ok := y-(m.height-footRows-len(rows)), false
	var row widget.Row
	if at >= 0 && at < len(rows) {
		row, ok = rows[at], rows[at].Field >= 0
	}
	switch kind {
	case view.Press:
		if ok {
			f.Click(row)
		}
	case view.WheelUp, view.WheelDown:
		if ok {
			f.GoTo(row.Field)
		}
		step := 1
		if kind == view.WheelDown {
			step = -1
		}
		f.Step(step)
	case view.Cancel:
		if !f.Required {
			m.s.Leave()
		}
	}
}
