package odds

import "math"

// Triangular is the triangular distribution between Least and Most with its peak
// at Likely: what a cutter means by "at least 2, likely 3, at most 5". With Least
// equal to Most it is that one value.
type Triangular struct{ Least, Likely, Most float64 }

// Below returns the chance that the value is x or less (Johnson, Kotz and
// Balakrishnan, Continuous Univariate Distributions, volume 2, 1995, section
// 26.9).
func (t Triangular) Below(x float64) float64 {
	width := t.Most - t.Least
	switch {
	case x < t.Least:
		return 0
	case x >= t.Most:
		return 1
	case x <= t.Likely && t.Likely > t.Least:
		return (x - t.Least) / width * (x - t.Least) / (t.Likely - t.Least)
	case x <= t.Likely:
		return 0 // the rising side has no width
	default:
		return 1 - (t.Most-x)/width*(t.Most-x)/(t.Most-t.Likely)
	}
}

// Quantile returns the value that is not passed with the given chance: the
// inverse of Below, for 0 <= chance <= 1.
func (t Triangular) Quantile(chance float64) float64 {
	width := t.Most - t.Least
	if width <= 0 {
		return t.Least
	}
	rising := t.Likely - t.Least
	if chance*width <= rising {
		return t.Least + math.Sqrt(chance*width*rising)
	}
	return t.Most - math.Sqrt((1-chance)*width*(t.Most-t.Likely))
}

// Mean returns the mean value.
func (t Triangular) Mean() float64 { return (t.Least + t.Likely + t.Most) / 3 }
