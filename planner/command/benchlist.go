package command

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"cabwright/planner"
	"cabwright/planner/diary"
	"cabwright/planner/learn"
	"cabwright/planner/planjson"
	"cabwright/planner/search"
	"cabwright/planner/stonefile"
	"cabwright/planner/worth"
	"cabwright/presets"
)

const stonesHelp = `The bench at a glance: every stone file in a folder with its stage, since when, its weight,
the fit it is meant to become, what that may bring, and what the stone waits for. Below
stands what your finished stones teach: how often your ranges and the planned weights held.

The fit is the one that the diary kept last; --plan plans every stone anew instead, which
takes as long as so many plans do.`

const stonesExample = `  cabwright stones .
  cabwright stones bench --sort waits
  cabwright stones bench --sort worth --plan --tilt 0
  cabwright stones bench --json`

// stoneOrders are what the list of stones can be sorted by.
var stoneOrders = []string{"name", "stage", "since", "carat", "worth", "waits"}

func (a *app) stonesCommand() *cobra.Command {
	var f searchFlags
	var order string
	var plan, asJSON bool
	cmd := &cobra.Command{
		Use:     "stones DIR",
		Short:   "All stones of a folder and what each waits for",
		Long:    stonesHelp,
		Example: stonesExample,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) != 1 {
				return usagef("stones needs one folder: %s", cmd.UseLine())
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			if !slices.Contains(stoneOrders, order) {
				return usagef("--sort %q: give %s", order, strings.Join(stoneOrders, ", "))
			}
			opt, err := f.options()
			if err != nil {
				return err
			}
			b, err := a.bench(cmd.Context(), args[0], opt, plan)
			if err != nil {
				return err
			}
			b.sort(order)
			if asJSON {
				return planjson.WriteStones(a.std.Out, b.stones, b.record)
			}
			_, err = fmt.Fprint(a.std.Out, b.text())
			return err
		},
	}
	f.register(cmd)
	cmd.Flags().StringVar(&order, "sort", "name", "the order: "+strings.Join(stoneOrders, ", "))
	cmd.Flags().BoolVar(&plan, "plan", false, "plan every stone anew")
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the list as JSON")
	complete(cmd, "sort", func() []string { return stoneOrders })
	return cmd
}

// bench is what lies on a cutter's bench.
type stoneList struct {
	folder string
	stones []planjson.BenchStone
	record learn.Record
}

// stoneFiles returns the stone files of a folder in the order of their names.
func stoneFiles(folder string) ([]string, error) {
	paths, err := stonefile.List(folder)
	var at *fs.PathError
	if errors.As(err, &at) {
		return nil, usagef("%s: %v: give a folder with stone files", folder, at.Err)
	}
	return paths, err
}

// bench reads all stones of a folder. One that cannot be read is in the list with
// what is wrong with it.
func (a *app) bench(ctx context.Context, folder string, opt search.Options, plan bool) (*stoneList, error) {
	set, err := a.presets()
	if err != nil {
		return nil, err
	}
	paths, err := stoneFiles(folder)
	if err != nil {
		return nil, err
	}
	b := &stoneList{folder: folder}
	var read []*specimen
	var rows []int
	for _, path := range paths {
		row := planjson.BenchStone{File: filepath.Base(path)}
		s, err := a.read(path, "")
		if err != nil {
			row.Wrong = strings.TrimPrefix(err.Error(), path+": ")
			b.stones = append(b.stones, row)
			continue
		}
		b.record.FromStone(s.stone, set)
		read, rows = append(read, s), append(rows, len(b.stones))
		b.stones = append(b.stones, row)
	}
	costs, remarks := worth.Costs(purchases(read))
	for _, r := range remarks {
		a.warn(r)
	}
	for i, s := range read {
		row := &b.stones[rows[i]]
		if err := a.onBench(ctx, row, s, set, opt, plan); err != nil {
			return nil, err
		}
		row.Cost = costs[i]
	}
	return b, nil
}

// onBench fills a stone's row.
func (a *app) onBench(
	ctx context.Context, row *planjson.BenchStone, s *specimen, set *presets.Set, opt search.Options, plan bool,
) error {
	row.Name = s.stone.Name
	row.Stage, row.Since = diary.Now(s.stone)
	row.Carat = cmp.Or(s.stone.ScaleCt, s.modelCt())
	row.Weighed = s.stone.ScaleCt > 0
	row.Waits = diary.Waits(s.stone, s.material.Porous, set.Defaults.ScaleDivision)
	row.Currency = worth.CurrencyFor(s.stone, set)
	row.Best = planjson.Planned(s.stone)
	if plan {
		p, err := a.search(ctx, s.stone, opt)
		if err != nil {
			return err
		}
		if p.Stopped == search.Cancelled {
			return fmt.Errorf("the search was stopped before all stones were planned")
		}
		row.Best = nil
		if len(p.Fits) > 0 {
			row.Best = &p.Fits[0]
		}
		row.Planned = true
	}
	if e, done := diary.Finished(s.stone); done {
		row.Finished = e.Carat
	}
	if row.Best != nil {
		colour := worth.ColourUnder(s.stone, s.rough, *row.Best)
		if v, ok := worth.PricesIn(set, row.Currency).Fit(s.stone, colour, *row.Best); ok {
			row.Worth = &v
		}
	}
	return nil
}

// stageOrder counts the stages as the work takes them; what is none comes first.
func stageOrder(stage string) int { return slices.Index(diary.StageNames(), stage) }

func (b *stoneList) sort(order string) {
	slices.SortStableFunc(b.stones, func(x, y planjson.BenchStone) int {
		first := 0
		switch order {
		case "stage":
			first = cmp.Compare(stageOrder(x.Stage), stageOrder(y.Stage))
		case "since":
			first = cmp.Compare(x.Since, y.Since)
		case "carat":
			first = cmp.Compare(y.Carat, x.Carat)
		case "worth":
			first = compareWorth(x, y)
		case "waits":
			first = cmp.Compare(strings.Join(x.Waits, " "), strings.Join(y.Waits, " "))
		}
		return cmp.Or(first, cmp.Compare(strings.ToLower(x.Name), strings.ToLower(y.Name)), cmp.Compare(x.File, y.File))
	})
}

// compareWorth puts the dearest first, and what has no worth last. Money of two
// currencies is not compared: they stay apart, by their codes.
func compareWorth(x, y planjson.BenchStone) int {
	switch {
	case x.Worth == nil && y.Worth == nil:
		return 0
	case x.Worth == nil:
		return 1
	case y.Worth == nil:
		return -1
	}
	return cmp.Or(cmp.Compare(x.Currency.Code, y.Currency.Code), y.Worth.Likely.Compare(x.Worth.Likely))
}

// worthColumn is left out of the list where no stone has a worth.
const worthColumn = 4

func (b *stoneList) text() string {
	if len(b.stones) == 0 {
		return paragraph("No stone files in " + planner.Visible(b.folder) + ".")
	}
	correction, corrected := b.record.Correction()
	priced := slices.ContainsFunc(b.stones, func(s planjson.BenchStone) bool { return s.Worth != nil })
	tab := &table{tight: true, right: map[int]bool{2: true}}
	add := func(row []string) {
		if !priced {
			row = slices.Delete(row, worthColumn, worthColumn+1)
		}
		tab.add(row...)
	}
	add([]string{"stone", "stage, since", "ct", "best fit", "worth", "waits for"})
	wrong := ""
	for _, s := range b.stones {
		if s.Wrong != "" {
			wrong += paragraph(fmt.Sprintf("%s cannot be read: %s", planner.Visible(s.File), planner.Visible(s.Wrong)))
			continue
		}
		add(benchRow(s, correction, corrected))
	}
	text := tab.String() + wrong
	for _, lesson := range lessons(b.record) {
		text += paragraph(lesson)
	}
	return text
}

func benchRow(s planjson.BenchStone, c learn.Correction, corrected bool) []string {
	name := planner.Visible(cmp.Or(s.Name, s.File))
	stage := planner.Visible(s.Stage)
	if s.Since != "" {
		day, _, _ := strings.Cut(s.Since, "T")
		stage += " " + day
	}
	ct := fmt.Sprintf("%.1f", s.Carat)
	if !s.Weighed {
		ct = "~" + ct
	}
	fit, value := "not planned", "-"
	switch {
	case s.Finished > 0:
		fit = fmt.Sprintf("finished %s ct", weight(s.Finished))
	case s.Best != nil:
		fit = fmt.Sprintf("%s, %s ct", outlineName(s.Best.Candidate), weight(s.Best.Carat))
		if corrected {
			band := c.Band(s.Best.Carat)
			fit += fmt.Sprintf(" (%s-%s)", weight(band.Low), weight(band.High))
		}
	case s.Planned:
		fit = "nothing fits"
	}
	if s.Worth != nil {
		value = s.Worth.Likely.Text(s.Currency) + " " + s.Currency.Code
	}
	return []string{name, stage, ct, fit, value, planner.Visible(strings.Join(s.Waits, "; "))}
}

// lessons says what finished stones teach, in sentences.
func lessons(r learn.Record) []string {
	var out []string
	for _, text := range []string{r.RangesText(), r.BandsText()} {
		if text != "" {
			out = append(out, sentence(text))
		}
	}
	if c, ok := r.Correction(); ok {
		out = append(out, sentence(c.Text()))
	}
	return out
}

func sentence(text string) string { return strings.ToUpper(text[:1]) + text[1:] + "." }
