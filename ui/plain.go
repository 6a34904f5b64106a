package ui

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"cabwright/planner"
	"cabwright/ui/form"
	"cabwright/ui/keys"
)

// plain is the workbench as a dialogue of lines: figures, numbered choices and
// prompts, each written once and never over another. Screen readers and scripts
// work with it. It drives the same root as the full screen does, so that
// whatever can be done there can be done here.
type plain struct {
	m       *Model
	lines   chan string // what is typed; closed at its end
	out     io.Writer
	msgs    chan tea.Msg
	pending int
	ended   bool
}

// How long the dialogue waits for the program's own work before it goes on.
const (
	plainWait  = 300 * time.Millisecond // journal entries, surfaces: far less as a rule
	searchWait = 30 * time.Second       // a search, where its fits are to be listed
)

// runPlain runs the dialogue until it is left, its input ends or ctx does.
func runPlain(ctx context.Context, m *Model, in io.Reader, out io.Writer) error {
	p := &plain{m: m, lines: make(chan string), out: out, msgs: make(chan tea.Msg, 16)}
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
	m.width, m.height = fullWidth-1, 1000
	p.do(m.Init())
	p.work(plainWait)
	for first := true; !p.ended && m.fault == nil; first = false {
		if f := m.s.Asking(); f != nil {
			p.fill(ctx, f)
		} else {
			p.offer(ctx, first)
		}
		p.work(plainWait)
	}
	m.hunt.stop()
	fmt.Fprint(out, m.keeper.close(m.s))
	switch {
	case m.fault != nil:
		return m.fault.report()
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

// read returns the next line typed; at the end of the input or of ctx the
// dialogue is left.
func (p *plain) read(ctx context.Context) (string, bool) {
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

func (p *plain) say(format string, args ...any) { fmt.Fprintf(p.out, format+"\n", args...) }

// choices returns what can be done now, but for what only a screen has a use for.
func (p *plain) choices() []keys.Action {
	var out []keys.Action
	for _, a := range p.m.actions() {
		if !a.Sight && a.Why == "" {
			out = append(out, a)
		}
	}
	return out
}

// offer shows how things stand, and asks for the next thing to do. The whole
// list comes at first and when it is asked for.
func (p *plain) offer(ctx context.Context, whole bool) {
	if text := p.m.s.Status().Text; text != "" {
		p.say("%s", planner.Visible(text))
	}
	choices := p.choices()
	if whole {
		p.figures()
		p.numbered(choices)
	}
	p.say("Choice (a number or words; enter for figures and choices, 0 leaves):")
	line, ok := p.read(ctx)
	switch {
	case !ok:
	case line == "":
		p.m.s.Say(0, "")
		p.figures()
		p.numbered(choices)
	case line == "0":
		p.step(p.m.askLeave())
	default:
		p.pick(choices, line)
	}
}

// pick does what a number or words stand for.
func (p *plain) pick(choices []keys.Action, line string) {
	if n, err := strconv.Atoi(line); err == nil {
		if n < 1 || n > len(choices) {
			p.say("There is no choice %d.", n)
			return
		}
		p.step(p.m.run(choices[n-1], true))
		return
	}
	if a, ok := keys.Find(choices, line); ok {
		p.step(p.m.run(a, true))
		return
	}
	found := keys.Search(choices, line)
	if len(found) == 1 {
		p.step(p.m.run(found[0], true))
		return
	}
	if len(found) == 0 {
		p.say("No action that can be done now has %q in it.", planner.Visible(line))
		return
	}
	for i, c := range choices {
		for _, f := range found {
			if c.Name == f.Name {
				p.say("%d %s: %s", i+1, planner.Visible(c.Name), c.Help)
			}
		}
	}
}

// step takes what an action asks for, and what it changed.
func (p *plain) step(cmd tea.Cmd) {
	p.do(cmd)
	p.do(guarded(p.m.follow()))
}

func (p *plain) numbered(choices []keys.Action) {
	for i, a := range choices {
		p.say("%d %s: %s", i+1, planner.Visible(a.Name), a.Help)
	}
}

// figures writes the open view's figures, with the fits as they are when the
// search has ended.
func (p *plain) figures() {
	if p.m.at >= 2 {
		for end := time.Now().Add(searchWait); p.m.s.Searching && time.Now().Before(end); {
			p.work(time.Second)
		}
	}
	state, _ := p.m.keeper.state(p.m.s)
	p.say("%s, %s. View %d, %s.", planner.Visible(p.m.s.Stone().Name), state, p.m.at+1, p.m.views[p.m.at].Name())
	lines := p.m.views[p.m.at].Render(p.m.s, fullWidth-1, 1000)
	for _, l := range lines {
		if l = strings.TrimRight(l, " "); l != "" {
			p.say("%s", l)
		}
	}
	if text := p.m.progress(); text != "" {
		p.say("%s.", text)
	}
}

// fill asks for the fields of a form, one line each.
func (p *plain) fill(ctx context.Context, f *form.Form) {
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
		if line == "esc" && !f.Firm {
			p.m.s.Ask(nil)
			return
		}
		asked := f.At()
		if f.Answer(line) == form.Closed {
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
func (p *plain) answered(f *form.Form, asked int) {
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

// errNoTerminal says what to do where there is no screen.
var errNoTerminal = errors.New("the workbench needs a terminal: --plain works without one")
