package view

import tea "github.com/charmbracelet/bubbletea"

// Aside works one thing out beside the event loop: the answer to the newest
// question that a view has. A question holds all that its answer hangs on. The
// zero value has been asked nothing.
type Aside[Q comparable, A any] struct {
	of     Q
	answer A
	known  bool // answer is that to the question of
	busy   bool
}

// asideMsg brings an answer to whoever asked.
type asideMsg[Q comparable, A any] struct {
	to     *Aside[Q, A]
	of     Q
	answer A
}

// Ask begins to work out the answer to a question, with work, unless it is known or
// something is being worked out already: then it is to be asked again later, as a
// Follower is after every message.
func (a *Aside[Q, A]) Ask(q Q, work func() A) tea.Cmd {
	if a.busy || a.known && a.of == q {
		return nil
	}
	a.busy = true
	return func() tea.Msg { return asideMsg[Q, A]{a, q, work()} }
}

// Take takes an answer that a message brings, and reports whether it was its own.
func (a *Aside[Q, A]) Take(msg tea.Msg) bool {
	m, ok := msg.(asideMsg[Q, A])
	if !ok || m.to != a {
		return false
	}
	a.of, a.answer, a.known, a.busy = m.of, m.answer, true, false
	return true
}

// Last returns the newest answer there is, to the question as it was then; fresh
// says whether that is the one asked now.
func (a *Aside[Q, A]) Last(now Q) (answer A, fresh, known bool) {
	return a.answer, a.known && a.of == now, a.known
}
