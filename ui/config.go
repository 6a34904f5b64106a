package ui

import (
	"context"
	"os"
	"os/signal"
	"strings"

	"cabwright/planner"
	"cabwright/planner/stonefile"
	"cabwright/presets"
	"cabwright/ui/canvas"
	"cabwright/ui/diaryview"
	"cabwright/ui/fits"
	"cabwright/ui/marks"
	"cabwright/ui/outlineview"
	"cabwright/ui/sawview"
	"cabwright/ui/section"
	"cabwright/ui/style"
	"cabwright/ui/view"
	"cabwright/ui/worthview"
)

// Config is what the workbench is started with.
type Config struct {
	Path  string // the stone file; one that is not there yet is a new stone
	Demo  bool   // it is the demo stone's copy: say so
	Plain bool   // lines of text with numbered choices instead of a full screen
	ASCII bool   // draw with ASCII signs only

	Picture *Frame // pictures to make instead of opening the screen; nil: none

	In, Out *os.File
	Getenv  func(string) string
	Presets *presets.Set
	Note    string // said at the start, or ""
	Search  Search
	Open    Open
}

// Run opens a stone on the screen until the cutter leaves.
func Run(ctx context.Context, cfg Config) error {
	if cfg.Picture != nil {
		return pictures(ctx, cfg, *cfg.Picture)
	}
	m, err := open(cfg)
	if err != nil {
		return err
	}
	if cfg.Plain {
		ctx, stop := signal.NotifyContext(ctx, endSignals...)
		defer stop()
		return runPlain(ctx, m, cfg.In, cfg.Out)
	}
	return runTerminal(ctx, m, cfg.In, cfg.Out)
}

// open returns the root for the stone of a file, ready to be run.
func open(cfg Config) (*Model, error) {
	session, err := stonefile.Open(cfg.Path, stonefile.Options{Set: cfg.Presets})
	if err != nil {
		return nil, err
	}
	m := newWorkbench(cfg, session.Stone(), session)
	if found := session.Found(); found != nil {
		m.askRecover(found, nil)
	}
	switch warnings := session.Warnings(); {
	case session.ReadOnly() != nil:
		m.s.Say(style.Warn, "%v.", session.ReadOnly())
	case cfg.Note != "":
		m.s.Say(style.Warn, "%s.", planner.Visible(cfg.Note))
	case len(warnings) > 0:
		m.s.Say(style.Warn, "%v", warnings[0])
	}
	return m, nil
}

// newWorkbench returns the root for a stone and its keeper.
func newWorkbench(cfg Config, stone planner.Stone, store Store) *Model {
	colours, ground := style.Detect(cfg.Getenv)
	if cfg.Plain {
		colours = style.NoColour
	}
	dots := glyphs(cfg.Getenv)
	if cfg.ASCII {
		dots = canvas.ASCII
	}
	s := view.NewState(planner.NewHistory(stone), cfg.Presets, style.New(colours, ground), dots)
	s.OpenSite = cfg.Open
	views := []view.View{
		outlineview.New(), marks.New(), fits.New(), section.New(), sawview.New(), worthview.New(), diaryview.New(),
	}
	m := newModel(cfg, s, views, newKeeper(store))
	m.colours, m.ground = colours, ground
	m.hint = cfg.Demo || len(stone.Outline) == 0
	return m
}

// glyphs chooses what the drawing is made of: ASCII where the locale has no
// UTF-8, braille elsewhere.
func glyphs(getenv func(string) string) canvas.Mode {
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if v := strings.ToLower(getenv(name)); v != "" {
			if strings.Contains(v, "utf-8") || strings.Contains(v, "utf8") {
				return canvas.Braille
			}
			return canvas.ASCII
		}
	}
	return canvas.Braille
}
