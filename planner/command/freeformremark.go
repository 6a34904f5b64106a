package command

import (
	"fmt"
	"slices"

	"cabwright/planner/search"
)

// freeformRemark says why a calibrated size outweighs every freeform, where one
// does and freeforms were asked for; nothing otherwise.
func (t planText) freeformRemark() string {
	if t.opt.NoFreeform || len(t.opt.Shapes) > 0 && !slices.Contains(t.opt.Shapes, search.Freeform) ||
		len(t.plan.Fits) == 0 {
		return ""
	}
	var free, sized *search.Fit
	for i := range t.plan.Fits {
		f, best := &t.plan.Fits[i], &sized
		if f.Solid.Outline.Shape == search.Freeform {
			best = &free
		}
		if *best == nil || f.Carat > (*best).Carat {
			*best = f
		}
	}
	radius := t.opt.CornerRadius
	if radius == 0 {
		radius = search.FreeformRadius
	}
	switch {
	case free != nil && (sized == nil || free.Carat >= sized.Carat):
		return t.freeformRoom(free)
	case sized == nil:
		return ""
	case free == nil:
		return paragraph(fmt.Sprintf("No freeform: none with corners rounded to %g mm was found beside these sizes.", radius))
	case len(sized.Solid.Outline.Corners()) > 0:
		return paragraph(fmt.Sprintf(
			"The %s outweighs every freeform because it has a sharper corner than the %g mm that a freeform keeps to.",
			outlineName(sized.Candidate), radius,
		))
	}
	return paragraph(fmt.Sprintf(
		"The %s outweighs every freeform that was found; the search for freeforms is not a proof.",
		outlineName(sized.Candidate),
	)) + t.freeformRoom(free)
}

// freeformRoom says how much more a freeform could weigh, as far as the outline tells:
// the search for freeforms is not a proof.
func (t planText) freeformRoom(free *search.Fit) string {
	most := t.plan.FreeformMost
	if most <= free.Carat {
		return ""
	}
	return paragraph(fmt.Sprintf(
		"The heaviest freeform is not proved to be so: the room in the stone rules out a level one over %.2f ct, "+
			"%.0f%% more than the %.2f ct found.", most, 100*(most/free.Carat-1), free.Carat,
	))
}
