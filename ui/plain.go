package ui

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"cabwright/planner"
	"cabwright/ui/keys"
	"cabwright/ui/style"
	"cabwright/ui/widget"
)

// plain is the workbench as a dialogue of lines: figures, numbered choices and
// prompts, each written once and never over another. Screen readers and scripts
// work with it. It drives the same root as the full screen does, so that
// whatever can be done there can be done here.
type plain struct {
	m       *Model
	lines   chan string // what is typed; closed at its end
	out     *outlet
	msgs    chan tea.Msg
	pending int
	ended   bool

	listed []keys.Action // as last written: what the numbers stand for
	at     int           // the view it was written for
}

// How long the dialogue waits for the program's own work before it goes on; tests
// wait longer, so that they do not hang on the machine's speed.
var (
	plainWait  = 300 * time.Millisecond // journal entries, surfaces: far less as a rule
	searchWait = 5 * time.Second        // a search, where its fits are to be listed
)

// plainLines is the most that a view's figures take: a list of hundreds of fits
// would bury what follows it.
const plainLines = 40

// runPlain runs the dialogue until it is left, its input ends or ctx does.
func runPlain(ctx context.Context, m *Model, in io.Reader, out io.Writer) error {
	p := &plain{m: m, lines: make(chan string), out: &outlet{to: out}, msgs: make(chan tea.Msg, 16)}
	go func() {
		defer close(p.lines)
		scan := bufio.NewScanner(in)
		for scan.Scan() {
			select {
			case p.lines <- scan.Text():
			case <-ctx.Done():
				return
			}
		}
	}()
	m.width, m.height = fullWidth-1, plainLines+headRows+footRows
	p.do(m.Init())
	p.work(plainWait)
	for first := true; !p.ended && m.fault == nil && p.out.err == nil; first = false {
		if f := m.s.Asking(); f != nil {
			p.fill(ctx, f)
		} else {
			p.offer(ctx, first)
		}
		p.work(plainWait)
	}
	m.search.stop()
	kept := m.keeper.close(m.s)
	fmt.Fprint(p.out, kept)
	switch {
	case m.fault != nil:
		return m.fault.report()
	case p.out.err != nil:
		// What became of the edits could not be said there.
		return noted(p.out.err, kept)
	case ctx.Err() != nil:
		return context.Cause(ctx)
	}
	return nil
}

// do starts a command; its message comes to work.
func (p *plain) do(cmd tea.Cmd) {
	if cmd == nil {
		return
	}
	p.pending++
	go func() { p.msgs <- cmd() }()
}

// work takes the messages of commands until none is under way, or for so long.
func (p *plain) work(wait time.Duration) {
	late := time.After(wait)
	for p.pending > 0 {
		select {
		case msg := <-p.msgs:
			p.pending--
			p.take(msg)
		case <-late:
			return
		}
	}
}

func (p *plain) take(msg tea.Msg) {
	switch msg := msg.(type) {
	case nil:
	case tea.QuitMsg:
		p.ended = true
	case tea.BatchMsg:
		for _, cmd := range msg {
			p.do(cmd)
		}
	default:
		_, cmd := p.m.Update(msg)
		p.do(cmd)
	}
}

// read returns the next line typed; at the end of the input or of ctx, or when
// nobody sees what is asked, the dialogue is left.
func (p *plain) read(ctx context.Context) (string, bool) {
	if p.out.err != nil {
		p.ended = true
		return "", false
	}
	select {
	case line, ok := <-p.lines:
		if !ok {
			p.ended = true
		}
		return strings.TrimSpace(line), ok
	case <-ctx.Done():
		p.ended = true
		return "", false
	}
}

// outlet passes writes on and remembers the first that failed: nobody sees then
// what is asked, and the dialogue ends.
type outlet struct {
	to  io.Writer
	err error
}

// Write writes b, or returns the error that an earlier write met.
func (o *outlet) Write(b []byte) (int, error) {
	if o.err != nil {
		return 0, o.err
	}
	n, err := o.to.Write(b)
	if err != nil {
		o.err = fmt.Errorf("writing the figures: %w", err)
	}
	return n, o.err
}

func (p *plain) say(format string, args ...any) { fmt.Fprintf(p.out, format+"\n", args...) }

// choices returns what can be done now, but for what only a screen has a use for.
func (p *plain) choices() []keys.Action {
	var out []keys.Action
	for _, a := range p.m.actions() {
		if !a.ScreenOnly && a.Disabled == "" {
			out = append(out, a)
		}
	}
	return out
}

// offer shows how things stand, and asks for the next thing to do. The whole
// list comes at first, in another view, and when it is asked for.
func (p *plain) offer(ctx context.Context, whole bool) {
	if text := p.m.s.Status().Text; text != "" {
		p.say("%s", planner.Visible(text))
		p.m.s.Say(style.Text, "")
	}
	if whole || p.at != p.m.at {
		p.figures()
		p.list()
	}
	p.say("Choice (a number or words; enter for figures and choices, 0 leaves):")
	line, ok := p.read(ctx)
	switch {
	case !ok:
	case line == "":
		p.figures()
		p.list()
	case line == "0":
		p.step(p.m.askLeave())
	default:
		p.pick(line)
	}
}

// list writes what can be done now, numbered. The numbers hold until the next
// list, so that nobody is caught by one that has moved on.
func (p *plain) list() {
	p.listed, p.at = p.choices(), p.m.at
	for i, a := range p.listed {
		p.say("%d %s: %s", i+1, planner.Visible(a.Name), a.Help)
	}
}

// pick does what a number or words stand for.
func (p *plain) pick(line string) {
	if n, err := strconv.Atoi(line); err == nil {
		if n < 1 || n > len(p.listed) {
			p.say("There is no choice %d.", n)
			return
		}
		p.again(p.listed[n-1])
		return
	}
	choices := p.choices()
	if a, ok := keys.Find(choices, line); ok {
		p.run(a)
		return
	}
	found := beginning(choices, line)
	if len(found) == 0 {
		found = keys.Search(choices, line)
	}
	switch len(found) {
	case 0:
		p.say("No action that can be done now has %q in it.", planner.Visible(line))
	case 1:
		p.run(found[0])
	default:
		p.listed = found
		for i, a := range found {
			p.say("%d %s: %s", i+1, planner.Visible(a.Name), a.Help)
		}
	}
}

// beginning returns the actions whose name begins with a text; one of just that
// name is enough.
func beginning(choices []keys.Action, text string) (out []keys.Action) {
	text = strings.ToLower(text)
	for _, a := range choices {
		name := strings.ToLower(a.Name)
		if name == text {
			return []keys.Action{a}
		}
		if strings.HasPrefix(name, text) {
			out = append(out, a)
		}
	}
	return out
}

// again does an action of the list as it is now, after what has been done since.
func (p *plain) again(listed keys.Action) {
	verb, _, _ := strings.Cut(listed.Name, " ")
	for _, a := range p.m.actions() {
		now, _, _ := strings.Cut(a.Name, " ")
		if a.Name == listed.Name || now == verb && len(a.Keys) > 0 && a.Keys[0] == listed.Keys[0] {
			p.run(a)
			return
		}
	}
	p.say("%s is no choice any more: enter lists what can be done now.", planner.Visible(listed.Name))
}

// run does an action, or says why it can't be done.
func (p *plain) run(a keys.Action) { p.step(p.m.run(a, true)) }

// step takes what an action asks for, and what it changed.
func (p *plain) step(cmd tea.Cmd) {
	p.do(cmd)
	p.do(guarded(p.m.follow()))
}

// figures writes the open view's figures, with the fits as they are when the
// search has ended.
func (p *plain) figures() {
	if p.m.at >= 2 {
		for end := time.Now().Add(searchWait); p.m.s.Searching && time.Now().Before(end); {
			p.work(100 * time.Millisecond)
		}
	}
	state, _ := p.m.keeper.state(p.m.s)
	name := planner.Visible(p.m.s.Stone().Name)
	if name == "" {
		name = "No name yet"
	}
	p.say("%s, %s. View %d, %s.", name, state, p.m.at+1, p.m.views[p.m.at].Name())
	lines := p.m.views[p.m.at].Render(p.m.s, fullWidth-1, plainLines)
	for _, l := range lines {
		if l = strings.TrimRight(l, " "); l != "" {
			p.say("%s", l)
		}
	}
	var answer []string
	for _, phrase := range p.m.answer() {
		answer = append(answer, phrase.text)
	}
	p.say("Answer: %s.", strings.Join(answer, " "))
	if text := p.m.progress(); text != "" {
		p.say("%s.", text)
	}
}

// fill asks for the fields of a form, one line each.
func (p *plain) fill(ctx context.Context, f *widget.Form) {
	p.say("%s", planner.Visible(f.Title))
	for _, note := range f.Notes {
		p.say("%s", planner.Visible(note))
	}
	for {
		field := f.Fields[f.At()]
		for i, c := range field.Choices {
			p.say("%d %s", i+1, planner.Visible(c))
		}
		now, after := field.Typed()
		prompt := strings.TrimSuffix(field.Prompt(), ":")
		if text := planner.Visible(now + after); text != "" && !strings.HasSuffix(prompt, "]") {
			prompt += " [" + text + "]"
		}
		if field.Optional != "" {
			prompt += " (- for " + field.Optional + ")"
		}
		p.say("%s:", prompt)
		line, ok := p.read(ctx)
		if !ok {
			return
		}
		if line == "esc" && !f.Required {
			p.m.s.Leave()
			return
		}
		asked := f.At()
		if f.Answer(line) == widget.Closed {
			break
		}
		p.answered(f, asked)
	}
	if p.m.s.Asking() == f {
		p.m.s.Ask(nil)
	}
	cmd := p.m.after
	p.m.after = nil
	p.step(cmd)
}

// answered says what was understood, or what is wrong.
func (p *plain) answered(f *widget.Form, asked int) {
	if text := f.Problem(); text != "" {
		p.say("Not taken: %s", planner.Visible(text))
		return
	}
	for _, i := range []int{asked, f.At()} {
		text, wrong := f.Fields[i].Remark()
		if wrong {
			p.say("Not taken: %s", planner.Visible(text))
			return
		}
		if i == asked && strings.HasPrefix(text, "= ") {
			p.say("%s", text)
		}
	}
}
