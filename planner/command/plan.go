package command

import (
	"context"
	"fmt"
	"os/signal"
	"strings"
	"syscall"
	"time"

	"github.com/spf13/cobra"

	"cabwright/planner"
	"cabwright/planner/cuts"
	"cabwright/planner/odds"
	"cabwright/planner/planjson"
	"cabwright/planner/search"
)

const planHelp = `Finds the cabochons that one piece of rough still holds: every calibrated size and a
freeform outline, with the dome out of either face, turned and tilted freely, each
keeping its distance from the skin, the cracks and the pockets. What is said to fit
has a pose that was checked on the exact shapes; what is said not to fit is proved.

Nothing fitting is an answer too: the exit status is then 0. It is 2 for a bad file or
bad arguments, 1 when the search was stopped or the result could not be written.`

const planExample = `  cabwright plan river.stone                          the 20 best fits, by weight
  cabwright plan river.stone --face base --sides 2    domed back, dome out of the base
  cabwright plan river.stone --shapes oval,pear --tilt 0
  cabwright plan river.stone --rank colour --top 5    the most colour under the dome
  cabwright plan river.stone --json > river.json      everything, for other programs`

// tableTop is how many fits the table shows when --top does not say.
const tableTop = 20

func (a *app) planCommand() *cobra.Command {
	var f planFlags
	cmd := &cobra.Command{
		Use:               "plan FILE",
		Short:             "Find and prove the best fits in a stone",
		Long:              planHelp,
		Example:           planExample,
		Args:              oneFile,
		ValidArgsFunction: completeStone,
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.plan(cmd.Context(), args[0], f)
		},
	}
	f.search.register(cmd)
	f.stones.register(cmd)
	f.learn.register(cmd)
	cmd.Flags().BoolVar(&f.asJSON, "json", false, "print the whole plan as JSON")
	cmd.Flags().BoolVar(&f.ascii, "ascii", false, "draw with ASCII signs only")
	return cmd
}

// planFlags is what the plan command is asked.
type planFlags struct {
	search        searchFlags
	stones        stonesFlags
	learn         learnFlag
	asJSON, ascii bool
}

// plan searches the stone in a file and prints what fits.
func (a *app) plan(ctx context.Context, path string, f planFlags) error {
	opt, err := f.search.options()
	if err != nil {
		return err
	}
	several, asked, err := a.stonesOptions(&f.stones, opt)
	if err != nil {
		return err
	}
	s, err := a.read(path, f.search.material)
	if err != nil {
		return err
	}
	for _, w := range s.notes() {
		a.warn(w.String())
	}
	own, err := a.learned(path, f.learn)
	if err != nil {
		return err
	}
	plan, err := a.search(ctx, s.stone, opt)
	if err != nil {
		return err
	}
	var layouts []cuts.Layout
	if asked {
		if layouts, err = a.severalStones(ctx, s, plan, several); err != nil {
			return err
		}
	}
	var more []planjson.Member
	if f.asJSON {
		if more, err = a.planMembers(ctx, s, plan, opt, layouts); err != nil {
			return err
		}
		if own.correction != nil {
			more = append(more, planjson.YourStones(*own.correction))
		}
	}
	t := planText{specimen: s, plan: plan, opt: opt, own: own}
	if err := a.printPlan(t, f, more); err != nil {
		return err
	}
	if asked && !f.asJSON {
		if _, err := fmt.Fprint(a.std.Out, s.layoutsText(layouts, several)); err != nil {
			return err
		}
	}
	if plan.Stopped == search.Cancelled {
		return fmt.Errorf("the search was stopped: what it had found is printed, the rest is undecided")
	}
	return nil
}

// planMembers is what the JSON of a plan says beyond its fits: layouts of several
// stones, where they were asked for, and the odds, where marks are unsure.
func (a *app) planMembers(
	ctx context.Context, s *specimen, plan search.Plan, opt search.Options, layouts []cuts.Layout,
) ([]planjson.Member, error) {
	var more []planjson.Member
	if layouts != nil {
		more = append(more, planjson.Layouts(layouts, s.gravity.Likely))
	}
	if odds.Any(s.stone) {
		answer, err := a.ask(ctx, plan, opt)
		if err != nil {
			return nil, err
		}
		more = append(more, planjson.Odds(answer))
	}
	return more, nil
}

// search runs the search until it ends or the cutter interrupts it.
func (a *app) search(ctx context.Context, stone planner.Stone, opt search.Options) (search.Plan, error) {
	ctx, stop := signal.NotifyContext(ctx, syscall.SIGINT, syscall.SIGTERM, syscall.SIGHUP)
	defer stop()
	bar := a.progress()
	plan, err := a.hooks.Search(ctx, stone, opt, bar.show)
	bar.clear()
	if err != nil {
		return plan, fmt.Errorf("searching: %w", err)
	}
	return plan, nil
}

// printPlan prints a plan as text, or as JSON with what more it says.
func (a *app) printPlan(t planText, f planFlags, more []planjson.Member) error {
	if f.asJSON {
		plan := t.plan
		if f.search.top > 0 && len(plan.Fits) > f.search.top {
			plan.Fits = plan.Fits[:f.search.top]
		}
		return planjson.Write(a.std.Out, plan, t.head(), more...)
	}
	if t.top = tableTop; f.search.top > 0 {
		t.top = f.search.top
	}
	if a.hooks.Draw != nil {
		t.draw = func(fit search.Fit) []string { return a.hooks.Draw(t.stone, &fit, drawWidth, drawHeight, f.ascii) }
	}
	_, err := fmt.Fprint(a.std.Out, t.String())
	return err
}

// progressEvery is how often the progress line is drawn anew: ten times a
// second reads as steady and costs nothing.
const progressEvery = 100 * time.Millisecond

// progress is a line on standard error, drawn over itself, that shows how far a
// search is. It is silent when standard error is no terminal.
type progress struct {
	std  Streams
	last time.Time
	n    int
}

func (a *app) progress() *progress { return &progress{std: a.std} }

func (p *progress) show(plan search.Plan) {
	if !p.std.Progress || time.Since(p.last) < progressEvery {
		return
	}
	p.last = time.Now()
	line := fmt.Sprintf("searching %3.0f%%", 100*plan.Progress)
	if len(plan.Fits) > 0 {
		f := plan.Fits[0]
		line += fmt.Sprintf(", best so far %s, %.2f ct", named(f.Candidate), f.Carat)
	}
	p.draw(line)
}

// say shows a line of what is being done.
func (p *progress) say(line string) {
	if p.std.Progress {
		p.draw(line)
	}
}

func (p *progress) clear() {
	if p.n > 0 {
		p.draw("")
		fmt.Fprint(p.std.Err, "\r")
	}
}

func (p *progress) draw(line string) {
	if len(line) >= lineWidth {
		line = line[:lineWidth-1]
	}
	fmt.Fprint(p.std.Err, "\r"+line+strings.Repeat(" ", max(0, p.n-len(line))))
	p.n = len(line)
}
