package command

import (
	"context"
	"fmt"
	"os/signal"
	"strconv"
	"strings"
	"syscall"

	"github.com/spf13/cobra"

	"cabwright/planner"
	"cabwright/planner/cuts"
	"cabwright/planner/search"
	"cabwright/presets"
)

// stonesFlags ask for several stones from one rough.
type stonesFlags struct {
	stones, least, saw string
}

func (f *stonesFlags) register(cmd *cobra.Command) {
	flags := cmd.Flags()
	flags.StringVar(&f.stones, "stones", "", "saw up to so many stones (1 to 8) from the rough, or auto: as many as pay")
	flags.StringVar(&f.least, "least", "", "the smallest stone worth cutting, such as 0.4ct,6mm")
	flags.StringVar(&f.saw, "saw", "", "the blade, by its key in the presets")
	complete(cmd, "stones", func() []string { return []string{"auto", "2", "3"} })
	complete(cmd, "saw", sawKeys)
}

func sawKeys() []string {
	set, _, _ := presets.Load() // a wrong file gives the built-in set
	var keys []string
	for _, s := range set.Saws {
		keys = append(keys, s.Key)
	}
	return keys
}

// stonesOptions turns the flags into what the search for several stones takes; asked
// is false when they do not ask for it.
func (a *app) stonesOptions(f *stonesFlags, opt search.Options) (out cuts.Options, asked bool, err error) {
	set, err := a.presets()
	if err != nil {
		return out, false, err
	}
	out = cuts.Options{Least: cuts.DefaultLeast, TiltMaxDeg: opt.TiltMaxDeg, Bench: cuts.NewBench(set), Trims: true}
	if f.saw != "" {
		saw, ok := set.Saw(f.saw)
		if !ok {
			return out, false, usagef("--saw %q: the saws are %s", f.saw, strings.Join(sawKeys(), ", "))
		}
		out.Bench.Saw = saw
	}
	if f.least != "" {
		if out.Least, err = readLeast(f.least); err != nil {
			return out, false, err
		}
	}
	switch f.stones {
	case "":
		return out, false, nil
	case "auto":
	default:
		n, err := strconv.Atoi(f.stones)
		if err != nil || n < 1 || n > cuts.MostStones {
			return out, false, usagef("--stones %q: give a number from 1 to %d, or auto", f.stones, cuts.MostStones)
		}
		out.Stones = n
	}
	return out, true, nil
}

// readLeast reads "0.4ct,6mm", either part alone, or a plain number of carats.
func readLeast(text string) (cuts.Least, error) {
	least := cuts.Least{}
	for _, part := range strings.Split(text, ",") {
		part = strings.TrimSpace(part)
		target := &least.Carat
		number := strings.TrimSuffix(part, "ct")
		if strings.HasSuffix(part, "mm") {
			target, number = &least.Length, strings.TrimSuffix(part, "mm")
		}
		v, err := strconv.ParseFloat(strings.TrimSpace(number), 64)
		if err != nil || !(v >= 0 && v < 1000) {
			return least, usagef("--least %q: give carats, a length or both, such as 0.4ct,6mm", text)
		}
		*target = v
	}
	return least, nil
}

// severalStones looks for several stones after the plan.
func (a *app) severalStones(
	ctx context.Context, s *specimen, plan search.Plan, opt cuts.Options,
) ([]cuts.Layout, error) {
	ctx, stop := signal.NotifyContext(ctx, syscall.SIGINT, syscall.SIGTERM, syscall.SIGHUP)
	defer stop()
	set, err := a.presets()
	if err != nil {
		return nil, err
	}
	body, err := cuts.NewBody(s.stone, set)
	if err != nil {
		return nil, fmt.Errorf("cutting: %w", err)
	}
	layouts, err := cuts.Several(ctx, body, set, plan, opt, nil)
	if err != nil {
		return nil, fmt.Errorf("cutting: %w", err)
	}
	if layouts == nil {
		layouts = []cuts.Layout{} // asked for, and none: not the same as not asked for
	}
	return layouts, nil
}

// layoutsText says which stones several cuts give, and the cuts of the best.
func (s *specimen) layoutsText(layouts []cuts.Layout, opt cuts.Options) string {
	if len(layouts) == 0 {
		return ""
	}
	var b strings.Builder
	b.WriteString("\nStones from one rough, heaviest first (not proved to be the most):\n")
	t := table{right: map[int]bool{0: true, 1: true}}
	t.add("#", "ct", "stones")
	for i, l := range layouts {
		var names []string
		for _, f := range l.Fits {
			names = append(names, outlineName(f.Candidate)+" "+weight(f.Carat))
		}
		t.add(strconv.Itoa(i+1), weight(l.Carat()), strings.Join(names, ", "))
	}
	b.WriteString(t.String())
	b.WriteString(fmt.Sprintf("\nTo saw for #1, in this order (%s, kerf %g mm); scribe all lines first:\n",
		planner.Visible(opt.Bench.Saw.Name), opt.Bench.Saw.Kerf))
	for i, step := range layouts[0].Steps {
		b.WriteString(paragraph(stepText(i+1, step, s.gravity.Likely, opt.Bench)))
	}
	return b.String()
}

// stepText is one cut in a sentence or two.
func stepText(order int, step cuts.Step, sg float64, bench cuts.Bench) string {
	parts := []string{fmt.Sprintf("%d. %s", order, step.Task())}
	if line := step.Line(); line != "" {
		parts = append(parts, line)
	}
	if lean := step.LeanWords(); lean != "" {
		parts = append(parts, lean)
	}
	parts = append(parts, fmt.Sprintf("%.1f mm across when it is right", step.Across))
	if step.Offcut > 0 {
		parts = append(parts, fmt.Sprintf("%.2f ct off", planner.Carat(step.Offcut, sg)))
	}
	return strings.Join(append(parts, step.Warnings(cuts.BladeOf(bench.Saw))...), "; ") + "."
}
