package planner

// Weights and the units they are given in.
const (
	// CaratsPerGram: the metric carat is 200 mg exactly (4th General
	// Conference on Weights and Measures, 1907).
	CaratsPerGram = 5.0
	// CaratsPerTroyOunce follows from the troy ounce of 31.1034768 g exactly
	// (480 grains of 64.79891 mg, International Yard and Pound Agreement,
	// 1959).
	CaratsPerTroyOunce = 31.1034768 * CaratsPerGram
)

// Carat returns the weight in carats of a volume in mm3 at a specific gravity:
// 1 mm3 of water weighs 1 mg.
func Carat(volume, sg float64) float64 { return volume * sg / 200 }

// CaratOfSameBody returns what a stone of carat weight at the specific gravity
// sg would weigh, cut to the same body, at the specific gravity other.
func CaratOfSameBody(carat, sg, other float64) float64 { return carat * other / sg }

// RuleK is the factor of the handbook rule for cabochons (from memory: 0.0026
// to 0.0029 are in use; a half-ellipsoid is pi/6/200 = 0.002618, and a straight
// wall a quarter of the height makes it 0.002945).
const RuleK = 0.0026

// RuleCarat returns the weight in carats by the handbook rule length x width x
// depth x SG x k, dimensions in millimetres. It is a cross-check to be shown
// beside the weight of the solid, and never stands in for it.
func RuleCarat(length, width, depth, sg, k float64) float64 {
	return length * width * depth * sg * k
}

// Band is a weight in carats that is known only roughly.
type Band struct{ Low, Likely, High float64 }

// DimensionTolerance is by how many millimetres each dimension of a finished
// stone may miss the planned one (common practice: the fit to a setting under
// 1 ct).
const DimensionTolerance = 0.1

// CaratBand returns the weight of a finished stone as low, likely and high.
// volume is the planned one in mm3 and size its length, width and whole
// height in mm. The low end takes the lowest specific gravity and every
// dimension smaller by tolerance, the high end the highest and every dimension
// larger: stretching a body along one axis changes its volume in the same
// proportion.
func CaratBand(volume float64, size [3]float64, tolerance float64, sg Gravity) Band {
	less, more := 1.0, 1.0
	for _, d := range size {
		less *= max(0, 1-tolerance/d)
		more *= 1 + tolerance/d
	}
	return Band{
		Low:    Carat(volume*less, sg.Low),
		Likely: Carat(volume, sg.Likely),
		High:   Carat(volume*more, sg.High),
	}
}
