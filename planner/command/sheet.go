package command

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"cabwright/planner"
	"cabwright/planner/cuts"
	"cabwright/planner/search"
	"cabwright/planner/sheet"
	"cabwright/planner/stonefile"
)

const sheetHelp = `Puts a plan on paper at true scale: the rough from the top and from the base with its
marks, the saw cuts and the stone, templates to cut out, sections, and every step from
the saw to the polish with its measures and cautions.

Print it at 100 percent and measure the bars and the square before use. A printer that
scales is put right with --measured: what the two bars of 100 mm came out as.

Paper goes by the ending of the file: .pdf holds all pages; .svg and .png hold one page
each, and further pages go to files of their own, with -2, -3 and so on in the name.`

const sheetExample = `  cabwright sheet river.stone -o river.pdf                  the best fit
  cabwright sheet river.stone --fit 3 -o river.pdf --paper letter
  cabwright sheet river.stone --layout 1 --stones 2 -o two.pdf
  cabwright sheet river.stone -o river.pdf --measured 98.2x99.0`

// pngPerMM is how many pixels a millimetre of a PNG has: 254 dpi.
const pngPerMM = 10

// sheetFlags are what only a sheet is asked for.
type sheetFlags struct {
	fit, layout          int
	out, paper, measured string
	force                bool
}

func (a *app) sheetCommand() *cobra.Command {
	var flags searchFlags
	var stones stonesFlags
	var f sheetFlags
	cmd := &cobra.Command{
		Use:               "sheet FILE -o OUT",
		Short:             "Put a plan on paper at true scale",
		Long:              sheetHelp,
		Example:           sheetExample,
		Args:              oneFile,
		ValidArgsFunction: completeStone,
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.sheet(cmd.Context(), args[0], flags, stones, f, cmd.Flags().Changed("fit"))
		},
	}
	flags.register(cmd)
	stones.register(cmd)
	own := cmd.Flags()
	own.IntVar(&f.fit, "fit", 1, "the fit to put on paper, by its place in the plan")
	own.IntVar(&f.layout, "layout", 0, "the layout of several stones to put on paper, by its place")
	own.StringVarP(&f.out, "out", "o", "", "the file to write: .pdf, .svg or .png")
	own.StringVar(&f.paper, "paper", "A4", "A4 or Letter")
	own.StringVar(
		&f.measured, "measured", "", "what the bars of 100 mm measured on a print, across x down, such as 98.2x99.0",
	)
	own.BoolVar(&f.force, "force", false, "write over a file that is there")
	complete(cmd, "paper", func() []string { return []string{"A4", "Letter"} })
	return cmd
}

func (a *app) sheet(
	ctx context.Context, path string, flags searchFlags, stones stonesFlags, f sheetFlags, fitGiven bool,
) error {
	opt, err := flags.options()
	if err != nil {
		return err
	}
	paper, err := f.options(fitGiven)
	if err != nil {
		return err
	}
	if f.layout > 0 && stones.stones == "" {
		stones.stones = "auto"
	}
	several, _, err := a.stonesOptions(&stones, opt)
	if err != nil {
		return err
	}
	s, err := a.read(path, flags.material)
	if err != nil {
		return err
	}
	for _, w := range s.warnings {
		a.warn(w.String())
	}
	plan, err := a.search(ctx, s.stone, opt)
	if err != nil {
		return err
	}
	if plan.Stopped == search.Cancelled {
		return errors.New("the search was stopped: nothing was put on paper")
	}
	content, err := a.sheetContent(ctx, s, plan, several, f)
	if err != nil {
		return err
	}
	pages := sheet.Compose(content, paper)
	return a.writeSheet(pages, s.stone.Name, f)
}

// options checks the flags and turns them into what the sheet takes.
func (f *sheetFlags) options(fitGiven bool) (sheet.Options, error) {
	var opt sheet.Options
	switch strings.ToLower(filepath.Ext(f.out)) {
	case ".pdf", ".svg", ".png":
	default:
		return opt, usagef("-o %q: name a file that ends in .pdf, .svg or .png", f.out)
	}
	if f.fit < 1 || f.layout < 0 || fitGiven && f.layout > 0 {
		return opt, usagef("give --fit or --layout, not both, and a place from 1")
	}
	for _, p := range sheet.Papers {
		if strings.EqualFold(p.Name, f.paper) {
			opt.Paper = p
		}
	}
	if opt.Paper.Width == 0 {
		return opt, usagef("--paper %q: give A4 or Letter", f.paper)
	}
	if f.measured == "" {
		return opt, nil
	}
	across, down, both := strings.Cut(strings.ToLower(strings.ReplaceAll(f.measured, ",", ".")), "x")
	x, errX := strconv.ParseFloat(strings.TrimSpace(across), 64)
	y, errY := strconv.ParseFloat(strings.TrimSpace(down), 64)
	if !both || errX != nil || errY != nil || !(x >= 90 && x <= 110 && y >= 90 && y <= 110) {
		return opt, usagef("--measured %q: give both bars in mm, 90 to 110, such as 98.2x99.0", f.measured)
	}
	opt.MeasuredX, opt.MeasuredY = x, y
	return opt, nil
}

// sheetContent is the fit or the layout asked for, with its cuts.
func (a *app) sheetContent(
	ctx context.Context, s *specimen, plan search.Plan, opt cuts.Options, f sheetFlags,
) (*sheet.Content, error) {
	set, err := a.presets()
	if err != nil {
		return nil, err
	}
	body, err := cuts.NewBody(s.stone, set)
	if err != nil {
		return nil, fmt.Errorf("cutting: %w", err)
	}
	c := &sheet.Content{Body: body, Bench: opt.Bench, Set: set}
	if f.layout > 0 {
		layouts, err := a.severalStones(ctx, s, plan, opt)
		if err != nil {
			return nil, err
		}
		if f.layout > len(layouts) {
			return nil, usagef("--layout %d: there are %d", f.layout, len(layouts))
		}
		c.Layout = layouts[f.layout-1]
		return c, nil
	}
	if f.fit > len(plan.Fits) {
		if len(plan.Fits) == 0 {
			return nil, errors.New("nothing fits: there is nothing to put on paper")
		}
		return nil, usagef("--fit %d: there are %d fits", f.fit, len(plan.Fits))
	}
	layout, thinner, err := body.One(plan.Fits[f.fit-1], opt.Bench)
	if err != nil {
		return nil, fmt.Errorf("cutting: %w", err)
	}
	c.Layout = layout
	for _, t := range thinner {
		c.Notes = append(c.Notes, t.String())
	}
	return c, nil
}

// writeSheet writes the pages in the format that the name ends in.
func (a *app) writeSheet(pages []sheet.Page, title string, f sheetFlags) error {
	var files [][]byte
	var err error
	ending := strings.ToLower(filepath.Ext(f.out))
	if ending == ".pdf" {
		var b bytes.Buffer
		err = sheet.WritePDF(&b, pages, title, time.Now())
		files = append(files, b.Bytes())
	} else {
		for _, p := range pages {
			var b bytes.Buffer
			if ending == ".svg" {
				err = errors.Join(err, sheet.WriteSVG(&b, p, title))
			} else {
				err = errors.Join(err, sheet.WritePNG(&b, p, pngPerMM))
			}
			files = append(files, b.Bytes())
		}
	}
	if err != nil {
		return fmt.Errorf("drawing the sheet: %w", err)
	}
	for i, data := range files {
		path := f.out
		if i > 0 {
			path = strings.TrimSuffix(f.out, filepath.Ext(f.out)) + "-" + strconv.Itoa(i+1) + filepath.Ext(f.out)
		}
		err := stonefile.Export(path, data, f.force)
		if errors.Is(err, stonefile.ErrExists) {
			return fmt.Errorf("%s is there already: choose another name, or --force to write over it", planner.Visible(path))
		}
		if err != nil {
			return err
		}
		fmt.Fprintln(a.std.Out, planner.Visible(path))
	}
	return nil
}
