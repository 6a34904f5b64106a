package ui

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"

	"cabwright/planner/search"
	"cabwright/planner/stonefile"
	"cabwright/ui/view"
)

// Frame says which pictures to make of a stone without opening the workbench.
type Frame struct {
	File          string   // ends in .svg or .png; with several views each one's name goes before that
	Views         []string // as their names begin, in small letters; none: fits
	Width, Height int      // cells
	Light         bool     // as on a light terminal
	Level         bool     // plan without tilt
	Over          bool     // write over files that are there
}

// badView says that there is no view of a name: a mistake in what was typed.
type badView struct{ name, known string }

func (e badView) Error() string {
	return fmt.Sprintf("there is no view %q: they are %s", e.name, e.known)
}

// BadUsage marks the error as one of usage.
func (badView) BadUsage() {}

// noStore is the Store of a stone that is only looked at.
type noStore struct{ Store }

func (noStore) Path() string    { return "" }
func (noStore) New() bool       { return false }
func (noStore) ReadOnly() error { return nil }

// pictures opens a stone, plans it to the end and writes the views as pictures.
func pictures(ctx context.Context, cfg Config, f Frame) error {
	doc, err := stonefile.Read(cfg.Path, cfg.Presets)
	if err != nil {
		return err
	}
	env := map[string]string{"TERM": "xterm", "COLORTERM": "truecolor", "COLORFGBG": "15;0"}
	if f.Light {
		env["COLORFGBG"] = "0;15"
	}
	cfg.Getenv = func(name string) string { return env[name] }
	m := newWorkbench(cfg, doc.Stone, noStore{})
	m.hint = false
	m.width, m.height = f.Width, f.Height
	if len(f.Views) == 0 {
		f.Views = []string{"fits"}
	}
	for _, name := range f.Views {
		if _, err := m.viewNamed(name); err != nil {
			return err // before the plan is made
		}
	}
	body := makeBody(cfg.Open, m.s.Stone(), cfg.Presets, m.s.Revision())().(bodyMsg)
	m.take(body)
	if body.err == nil {
		plan, err := cfg.Search(ctx, m.s.Stone(), search.Options{Level: f.Level}, func(search.Plan) {})
		if err != nil {
			return err
		}
		m.s.Take(plan, m.s.Revision())
	}
	m.s.Folder = view.ReadFolder(filepath.Dir(cfg.Path), filepath.Base(cfg.Path), cfg.Presets, 1)
	for _, name := range f.Views {
		at, err := m.viewNamed(name)
		if err != nil {
			return err
		}
		m.open(at)
		m.workOut()
		path := f.File
		if ext := filepath.Ext(path); len(f.Views) > 1 {
			path = strings.TrimSuffix(path, ext) + "-" + name + ext
		}
		files, err := pictureFiles(path)
		if err != nil {
			return err
		}
		if err := writePicture(m.screenPicture(), files, f.Over); err != nil {
			return err
		}
	}
	return nil
}

// workOut has the open view work out all that it follows, here and now.
func (m *Model) workOut() {
	f, ok := m.views[m.at].(view.Follower)
	if !ok {
		return
	}
	for cmd := f.Follow(m.s); cmd != nil; cmd = f.Follow(m.s) {
		for cmd != nil {
			cmd = m.toViews(cmd())
		}
	}
}

// viewNamed returns the view whose name begins so.
func (m *Model) viewNamed(name string) (int, error) {
	var known []string
	for i, v := range m.views {
		word := strings.ToLower(strings.Fields(v.Name())[0])
		if word == strings.ToLower(name) {
			return i, nil
		}
		known = append(known, word)
	}
	return 0, badView{name, strings.Join(known, ", ")}
}
