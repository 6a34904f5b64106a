package ui

import (
	"runtime/debug"

	"github.com/charmbracelet/bubbles/viewport"
	tea "github.com/charmbracelet/bubbletea"

	"cabwright/planner"
	"cabwright/ui/keys"
	"cabwright/ui/style"
	"cabwright/ui/view"
	"cabwright/ui/widget"
)

// Model is the root of the workbench: it alone knows the views.
type Model struct {
	cfg   Config
	s     *view.State
	views []view.View
	at    int // the view that is open

	width, height int
	finder        *widget.Finder // the list of all actions, while open
	legend        bool           // the legend is shown
	legendView    viewport.Model // and what of it
	hint          bool           // the three lines for the first time
	mouse         bool           // the mouse is ours
	colours       style.Colours
	ground        style.Ground

	laying   bool // the rough's surfaces are being laid
	search   searchRun
	weighing weighing
	revision int // of the stone that was last handed to the search and the keeper
	searches int
	stone    planner.Stone // as it was at that revision
	before   planner.Stone // and before the change that led to it
	outcomes outcomes

	keeper  *keeper
	folders int     // readings of the stone's folder that were begun
	after   tea.Cmd // what a form that was done asks for

	fault *fault
	frame frame
	send  func(tea.Msg) // to the running program
}

// newModel returns the root for a state and its views.
func newModel(cfg Config, s *view.State, views []view.View, k *keeper) *Model {
	return &Model{
		cfg: cfg, s: s, views: views, keeper: k,
		width: 80, height: 24, mouse: true, revision: -1, searches: -1, weighing: weighing{searches: -1},
	}
}

// Init starts the first search, and reads what lies beside the stone.
func (m *Model) Init() tea.Cmd { return guarded(batch(m.follow(), m.readFolder())) }

// Update takes one message. A panic in it ends the program in order.
func (m *Model) Update(msg tea.Msg) (_ tea.Model, cmd tea.Cmd) {
	defer func() {
		if r := recover(); r != nil {
			m.fail(fault{r, debug.Stack()})
			cmd = tea.Quit
		}
	}()
	pending := m.frame.schedule(msg)
	done := m.take(msg)
	done = batch(batch(done, m.follow()), m.weigh())
	if v, ok := m.views[m.at].(view.Follower); ok {
		done = batch(done, v.Follow(m.s))
	}
	return m, guarded(batch(done, pending))
}

// batch is tea.Batch without a batch for one command.
func batch(a, b tea.Cmd) tea.Cmd {
	switch {
	case a == nil:
		return b
	case b == nil:
		return a
	}
	return tea.Batch(a, b)
}

// take routes a message.
func (m *Model) take(msg tea.Msg) tea.Cmd {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		m.width, m.height = msg.Width, msg.Height
		return tea.ClearScreen
	case tea.KeyMsg:
		return m.key(msg)
	case tea.MouseMsg:
		return m.mouseDid(msg)
	case tea.ResumeMsg:
		if m.mouse {
			return tea.Batch(tea.EnableMouseCellMotion, tea.ClearScreen)
		}
		return tea.ClearScreen
	case startMsg:
		if msg.run != m.search.run || m.cfg.Search == nil || unfinished(m.s.Stone()) != nil {
			return nil
		}
		m.s.Searching, m.s.Progress, m.s.SearchTime = true, 0, 0
		opt, last := m.s.Options(), m.s.Plan
		opt.After = &last
		return m.search.begin(m.cfg.Search, m.s.Stone(), opt)
	case planMsg:
		return batch(m.found(msg), m.toViews(view.PlanTaken{}))
	case searchingMsg:
		return m.searchGoesOn(msg)
	case bodyMsg:
		return m.bodyLaid(msg)
	case judgedMsg:
		m.judged(msg)
		return nil
	case carriedMsg:
		return m.carried(msg)
	case betsMsg:
		return m.weighed(msg)
	case weighingMsg:
		if msg.run == m.weighing.run {
			return m.weighing.receive()
		}
		return nil
	case view.WeighMsg:
		m.s.Bets.Wanted = true
		return nil
	case view.CostsMsg:
		m.s.Bets.CostsWanted = true
		return nil
	case view.NewStoneMsg:
		m.askNewStone(msg.Stone)
		return nil
	case keptMsg:
		return m.kept(msg)
	case folderMsg:
		m.tookFolder(msg)
		return nil
	case settledMsg:
		m.settled(msg)
		return nil
	case copiedMsg:
		m.copied(msg)
		return m.readFolder() // it may be a stone
	case leaveMsg:
		return m.leave()
	case faultMsg:
		m.fail(msg.fault)
		return tea.Quit
	case frameMsg:
		return nil
	}
	return m.toViews(msg)
}

// toViews hands a message to every view: the one that asked may have been left
// since.
func (m *Model) toViews(msg tea.Msg) tea.Cmd {
	var cmds []tea.Cmd
	for _, v := range m.views {
		if cmd := v.Update(m.s, msg); cmd != nil {
			cmds = append(cmds, cmd)
		}
	}
	return tea.Batch(cmds...)
}

// follow starts what a change of the stone or of the search's options asks for:
// its journal entry, its solid and a new search.
func (m *Model) follow() tea.Cmd {
	stone, again := m.s.Revision() != m.revision, m.s.Searches() != m.searches
	if !stone && !again {
		return nil
	}
	var cmds []tea.Cmd
	if stone {
		if m.revision >= 0 {
			cmds = append(cmds, m.keeper.note(m.s))
		}
		old := m.revision
		m.revision = m.s.Revision()
		m.before, m.stone = m.stone, m.s.Stone()
		cmds = append(cmds, m.layBody())
		if old >= 0 && !again && alike(m.before, m.stone) {
			// No fit hangs on what was edited: the list, or the search, stands.
			if m.s.PlanOf == old {
				m.s.PlanOf = m.revision
			}
			return tea.Batch(cmds...)
		}
	}
	if again {
		m.outcomes.forget()
	}
	m.searches = m.s.Searches()
	m.s.Searching = false
	if known, ok := m.outcomes.of(m.s.Stone()); ok && ended(known) {
		m.search.drop()
		m.s.Take(known, m.revision)
		return tea.Batch(cmds...)
	}
	cmds = append(cmds, m.search.restart())
	return tea.Batch(cmds...)
}

// key takes a key. Letters typed faster than they are read come as one message
// and are taken one by one; pasted text goes to a form alone.
func (m *Model) key(msg tea.KeyMsg) tea.Cmd {
	if msg.Type == tea.KeyRunes && len(msg.Runes) > 1 && !msg.Paste {
		var cmds []tea.Cmd
		for _, r := range msg.Runes {
			one := msg
			one.Runes = []rune{r}
			if cmd := m.key(one); cmd != nil {
				cmds = append(cmds, cmd)
			}
		}
		return tea.Batch(cmds...)
	}
	if msg.String() == "ctrl+c" {
		return m.leave()
	}
	if msg.String() == "ctrl+z" {
		return tea.Suspend
	}
	if f := m.s.Asking(); f != nil {
		switch outcome := f.Key(msg); {
		case outcome == widget.Left:
			m.s.Leave()
		case outcome == widget.Closed && m.s.Asking() == f:
			m.s.Ask(nil)
		}
		cmd := m.after
		m.after = nil
		return cmd
	}
	if m.finder != nil {
		return m.finderDid(m.finder.Key(msg))
	}
	if msg.Paste {
		return nil
	}
	if m.legendKey(msg.String()) {
		return nil
	}
	m.hint = false
	before := m.s.Status()
	cmd := m.run(keys.Find(m.actions(), msg.String()))
	m.s.Outlived(before)
	return cmd
}

// run does an action or says why it can't be done now.
func (m *Model) run(a keys.Action, bound bool) tea.Cmd {
	switch {
	case !bound:
		return nil
	case a.Disabled != "":
		m.s.Say(style.Warn, "%s: %s", a.Name, a.Disabled)
		return nil
	}
	return a.Run()
}

// open shows a view; what was said in the last one no longer matters.
func (m *Model) open(i int) {
	if i >= 0 && i < len(m.views) && i != m.at {
		m.at = i
		m.s.Say(style.Text, "")
	}
}
