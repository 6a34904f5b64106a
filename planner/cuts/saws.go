package cuts

import (
	"context"
	"fmt"

	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/presets"
)

// SawGain is what another blade would bring.
type SawGain struct {
	Saw   presets.Saw
	Carat float64 // by which the heaviest layout found is heavier; negative: lighter
}

// String says it in words: "trim saw, kerf 0.8 mm, for two stones".
func (g SawGain) String() string {
	return fmt.Sprintf("%s, kerf %g mm, for two stones", planner.Visible(g.Saw.Name), g.Saw.Kerf)
}

// OtherSaws lays two stones with each blade of the workshop that has another kerf than
// the one in use and says how much heavier they are. A layout is never proved to be the
// heaviest: either could be heavier still.
func OtherSaws(
	ctx context.Context, b *Body, set *presets.Set, plan search.Plan, opt Options,
) ([]SawGain, error) {
	opt.Stones = 2
	heaviest := func(opt Options) (float64, error) {
		layouts, err := Several(ctx, b, set, plan, opt, nil)
		if err != nil || len(layouts) == 0 {
			return 0, err
		}
		return layouts[0].Carat(), nil
	}
	now, err := heaviest(opt)
	if err != nil {
		return nil, err
	}
	var out []SawGain
	for _, saw := range opt.Bench.Saws {
		if saw.Kerf == opt.Bench.Saw.Kerf {
			continue
		}
		with := opt
		with.Bench.Saw = saw
		carat, err := heaviest(with)
		if err != nil || ctx.Err() != nil {
			return out, err
		}
		out = append(out, SawGain{saw, carat - now})
	}
	return out, nil
}
