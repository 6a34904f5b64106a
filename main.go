package main

import (
	"context"
	_ "embed"
	"os"
	"os/signal"
	"syscall"

	"github.com/charmbracelet/x/term"

	"cabwright/planner"
	"cabwright/planner/command"
	"cabwright/planner/search"
	"cabwright/presets"
	"cabwright/ui"
	"cabwright/ui/canvas"
	"cabwright/ui/drawing"
	"cabwright/ui/view"
)

//go:embed testdata/stones/nodule.stone
var demo []byte

func main() {
	// A write to a closed pipe is then an error like any other, not the end.
	signal.Ignore(syscall.SIGPIPE)
	std := command.Streams{In: os.Stdin, Out: os.Stdout, Err: os.Stderr, Progress: term.IsTerminal(os.Stderr.Fd())}
	os.Exit(command.Run(os.Args[1:], std, command.Hooks{Workbench: workbench, Draw: draw, Search: find, Demo: demo}))
}

func workbench(ctx context.Context, b command.Bench) error {
	return ui.Run(ctx, ui.Config{
		Path: b.Path, Demo: b.Demo, Plain: b.Plain, ASCII: b.ASCII, Presets: b.Presets, Note: b.Note,
		Picture: (*ui.Frame)(b.Picture),
		In:      os.Stdin, Out: os.Stdout, Getenv: os.Getenv, Search: find, Open: open,
	})
}

func draw(stone planner.Stone, fit *search.Fit, width, height int, ascii bool) []string {
	mode := map[bool]canvas.Mode{false: canvas.Braille, true: canvas.ASCII}[ascii]
	return drawing.Best(stone, fit, width, height, mode)
}

// find searches among the built-in sizes and the cutter's own.
func find(ctx context.Context, s planner.Stone, opt search.Options, emit func(search.Plan)) (search.Plan, error) {
	set, _, _ := presets.Load()
	return search.RunWith(ctx, s, set, opt, emit)
}

// open keeps a nil site from hiding in an interface that is not nil.
func open(s planner.Stone) (view.Site, error) {
	site, err := search.Open(s)
	if err != nil {
		return nil, err
	}
	return site, nil
}
