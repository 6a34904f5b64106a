package planner

import (
	"fmt"
	"math"
)

// WeightsAgree is the share of the scale weight by which the model's weight
// may miss it without a remark.
const WeightsAgree = 0.10

// WeightRemark compares the weight of the rough as drawn with the weight on
// the scale and says, when they differ by more than WeightsAgree of the scale
// weight, what would make them agree: a change of thickness all over, or
// another specific gravity. It returns "" when they agree, or when there is
// nothing to compare. volume is in mm3, area is the plan area in mm2, scaleCt
// in carats.
func WeightRemark(volume, area, sg, scaleCt float64) string {
	model := Carat(volume, sg)
	if !(model > 0 && area > 0 && scaleCt > 0) || math.Abs(model-scaleCt) <= WeightsAgree*scaleCt {
		return ""
	}
	ratio := scaleCt / model
	thick := volume / area
	heavier, thicker := "lighter", "thicker"
	if ratio < 1 {
		heavier, thicker = "heavier", "thinner"
	}
	return fmt.Sprintf("At an SG of %.2f the stone as drawn weighs %.1f ct, %.0f%% %s than the %.1f ct on the scale. "+
		"They would agree if it were %.1f mm %s all over (now %.1f mm on average), or at an SG of %.2f instead of %.2f.",
		sg, model, 100*math.Abs(model-scaleCt)/scaleCt, heavier, scaleCt,
		math.Abs(ratio-1)*thick, thicker, thick, sg*ratio, sg)
}
