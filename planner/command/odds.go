package command

import (
	"context"
	"fmt"
	"os/signal"
	"syscall"

	"github.com/spf13/cobra"

	"cabwright/planner/cuts"
	"cabwright/planner/odds"
	"cabwright/planner/planjson"
	"cabwright/planner/search"
)

const oddsHelp = `Weighs a plan as a bet. Give a mark a range in the stone file (depth_range, run_on_range,
top_range, bottom_range) or a chance that it is there, and this says with which odds
each size holds, where in the stone its odds are best, what is left if it fails, what
is worth looking at before the first cut, and what each mark costs.

The odds are exact for the ranges given: each mark's limit is found on the exact
shapes, and nothing is sampled. Ranges that people give are often too narrow.`

const oddsExample = `  cabwright odds river.stone
  cabwright odds river.stone --tilt 0 --shapes oval,round
  cabwright odds river.stone --decide                what each mark costs, and what choices gain, by full searches
  cabwright odds river.stone --json > odds.json`

func (a *app) oddsCommand() *cobra.Command {
	var flags searchFlags
	var asJSON, decide bool
	cmd := &cobra.Command{
		Use:               "odds FILE",
		Short:             "Weigh a plan as a bet on what is not sure",
		Long:              oddsHelp,
		Example:           oddsExample,
		Args:              oneFile,
		ValidArgsFunction: completeStone,
		RunE: func(cmd *cobra.Command, args []string) error {
			opt, err := flags.options()
			if err != nil {
				return err
			}
			s, err := a.read(args[0], flags.material)
			if err != nil {
				return err
			}
			for _, w := range s.warnings {
				a.warn(w.String())
			}
			plan, err := a.search(cmd.Context(), s.stone, opt)
			if err != nil {
				return err
			}
			answer, err := a.ask(cmd.Context(), plan, opt)
			if err != nil {
				return err
			}
			if asJSON {
				return planjson.WriteOdds(a.std.Out, s.stone, s.head(), answer)
			}
			top := tableTop
			if flags.top > 0 {
				top = flags.top
			}
			t := oddsText{specimen: s, plan: plan, answer: answer, top: top}
			if decide {
				if t.decided, err = a.decide(cmd.Context(), plan, opt); err != nil {
					return err
				}
			}
			_, err = fmt.Fprint(a.std.Out, t.String())
			return err
		},
	}
	flags.register(cmd)
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the odds as JSON")
	cmd.Flags().BoolVar(&decide, "decide", false, "plan the stone without each mark and with other choices, to the end")
	return cmd
}

// ask finds what a plan is worth as a bet, until it is done or the cutter interrupts it.
func (a *app) ask(ctx context.Context, plan search.Plan, opt search.Options) (odds.Answer, error) {
	set, err := a.presets()
	if err != nil {
		return odds.Answer{}, err
	}
	ctx, stop := signal.NotifyContext(ctx, syscall.SIGINT, syscall.SIGTERM, syscall.SIGHUP)
	defer stop()
	bar := a.progress()
	bar.say("weighing the odds")
	answer, err := odds.Ask(
		ctx,
		odds.Question{Plan: plan, Options: opt, Presets: set, Search: a.hooks.Search},
		func(so odds.Answer) {
			bar.say(fmt.Sprintf("weighing the odds of %s", count(len(so.Places), "place")))
		},
	)
	bar.clear()
	if err == nil && ctx.Err() != nil {
		err = fmt.Errorf("stopped: the odds are not known")
	}
	return answer, err
}

// decide finds by full searches what each mark costs and what each choice gains.
func (a *app) decide(ctx context.Context, plan search.Plan, opt search.Options) ([]odds.Cost, error) {
	ctx, stop := signal.NotifyContext(ctx, syscall.SIGINT, syscall.SIGTERM, syscall.SIGHUP)
	defer stop()
	bar := a.progress()
	defer bar.clear()
	var out []odds.Cost
	for _, v := range append(odds.Without(plan.Stone), odds.Choices(plan.Stone, opt.Spare)...) {
		bar.say("planning the stone " + v.Name)
		c, err := odds.Gain(ctx, a.hooks.Search, v, plan, opt, nil)
		if err != nil {
			return nil, fmt.Errorf("planning the stone %s: %w", v.Name, err)
		}
		if ctx.Err() != nil {
			return nil, fmt.Errorf("stopped while planning the stone %s", v.Name)
		}
		out = append(out, c)
	}
	bar.say("laying two stones with other saws")
	gains, err := a.otherSaws(ctx, plan, opt)
	return append(out, sawCosts(gains)...), err
}

// sawCosts says what other saws bring: a line for each that brings anything, and one for
// all that do not.
func sawCosts(gains []cuts.SawGain) (out []odds.Cost) {
	none, best := 0, 0.0
	for _, g := range gains {
		if g.Carat >= odds.LeastGain {
			out = append(out, odds.Cost{ID: "saw", What: g.String(), AtLeast: g.Carat})
			continue
		}
		none, best = none+1, max(best, g.Carat)
	}
	if none > 0 {
		what := fmt.Sprintf("with %s of another kerf, for two stones", count(none, "saw"))
		out = append(out, odds.Cost{ID: "saw", What: what, AtLeast: best})
	}
	return out
}

// otherSaws finds what two stones gain with each other saw.
func (a *app) otherSaws(ctx context.Context, plan search.Plan, opt search.Options) ([]cuts.SawGain, error) {
	several, _, err := a.stonesOptions(&stonesFlags{}, opt)
	if err != nil {
		return nil, err
	}
	set, err := a.presets()
	if err != nil {
		return nil, err
	}
	body, err := cuts.NewBody(plan.Stone, set)
	if err != nil {
		return nil, fmt.Errorf("cutting: %w", err)
	}
	return cuts.OtherSaws(ctx, body, set, plan, several)
}
