package command

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"cabwright/geometry/outline"
	"cabwright/planner"
	"cabwright/planner/search"
)

// freeform is the outline that is shaped to the stone rather than calibrated.
const freeform = "freeform"

// maxTilt is the largest tilt of a dome's axis that a search is made for,
// degrees.
const maxTilt = 15

// maxSpare is the most clearance beyond the allowances that can be asked for, mm.
const maxSpare = 20

// searchFlags are the flags that narrow and steer a search.
type searchFlags struct {
	face, sides, rank, material string
	shapes                      []string
	tilt, spare                 float64
	top                         int
}

func (f *searchFlags) register(cmd *cobra.Command) {
	flags := cmd.Flags()
	flags.StringVar(&f.face, "face", "both", "the face the dome points out of: top, base or both")
	flags.StringVar(&f.sides, "sides", "both", "1 (flat back), 2 (domed back) or both")
	flags.StringSliceVar(&f.shapes, "shapes", nil, "only these outlines, such as oval,pear,freeform")
	flags.Float64Var(&f.tilt, "tilt", maxTilt, "the largest tilt in degrees, 0 (level) to 15")
	flags.Float64Var(
		&f.spare, "spare", 0,
		"clearance in mm asked for beyond the allowances: fits that have it come first and are marked",
	)
	flags.IntVar(&f.top, "top", 0, "show only the best so many fits (0: the table 20, JSON all)")
	flags.StringVar(&f.material, "material", "", "plan as if it were this material, at its typical SG")
	flags.StringVar(&f.rank, "rank", "carat", "best first by carat, clearance or colour")
	for name, words := range map[string][]string{
		"face": {"top", "base", "both"}, "sides": {"1", "2", "both"},
		"rank": {"carat", "clearance", "colour"}, "shapes": shapeNames(), "tilt": {"0", "15"},
	} {
		complete(cmd, name, func() []string { return words })
	}
	complete(cmd, "material", materialKeys)
}

// complete gives the shell the words a flag can have.
func complete(cmd *cobra.Command, flag string, words func() []string) {
	err := cmd.RegisterFlagCompletionFunc(
		flag,
		func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return words(), cobra.ShellCompDirectiveNoFileComp
		},
	)
	if err != nil {
		panic(err) // the flag is not there: a slip in this package
	}
}

func shapeNames() []string { return append(outline.Shapes(), freeform) }

// options turns the flags into what the search takes.
func (f *searchFlags) options() (search.Options, error) {
	opt := search.Options{Rank: search.Rank(f.rank)}
	switch f.face {
	case "both":
	case string(planner.Top), string(planner.Base):
		opt.Faces = []planner.Face{planner.Face(f.face)}
	default:
		return opt, usagef("--face %q: give top, base or both", f.face)
	}
	switch f.sides {
	case "both":
	case "1":
		opt.Sides = []int{1}
	case "2":
		opt.Sides = []int{2}
	default:
		return opt, usagef("--sides %q: give 1, 2 or both", f.sides)
	}
	switch opt.Rank {
	case search.ByCarat, search.ByClearance, search.ByColour:
	default:
		return opt, usagef("--rank %q: give carat, clearance or colour", f.rank)
	}
	if !(f.tilt >= 0 && f.tilt <= maxTilt) {
		return opt, usagef("--tilt %v: give degrees from 0 (level) to %d", f.tilt, maxTilt)
	}
	opt.TiltMaxDeg, opt.Level = f.tilt, f.tilt == 0
	if !(f.spare >= 0 && f.spare <= maxSpare) {
		return opt, usagef("--spare %v: give mm from 0 to %d", f.spare, maxSpare)
	}
	opt.Spare = f.spare
	if f.top < 0 {
		return opt, usagef("--top %d: give a number of fits, 0 for no limit", f.top)
	}
	return opt, f.limitShapes(&opt)
}

func (f *searchFlags) limitShapes(opt *search.Options) error {
	for _, name := range f.shapes {
		name = strings.ToLower(strings.TrimSpace(name))
		if !slices.Contains(shapeNames(), name) {
			return usagef(
				"--shapes %q: the outlines are %s%s", name, strings.Join(shapeNames(), ", "),
				planner.DidYouMean(name, shapeNames()),
			)
		}
		if !slices.Contains(opt.Shapes, name) {
			opt.Shapes = append(opt.Shapes, name)
		}
	}
	opt.NoFreeform = len(opt.Shapes) > 0 && !slices.Contains(opt.Shapes, freeform)
	return nil
}
