package learn

import "gonum.org/v1/gonum/mathext"

// Interval is where a share lies with a confidence of 95%.
type Interval struct{ Low, High float64 }

// tail is what of the distribution lies beyond each end of an Interval.
const tail = 0.025

// Jeffreys returns the equal-tailed interval for a share of which held of n trials
// were seen to hold, by Jeffreys' prior: quantiles of Beta(held + 1/2, n - held +
// 1/2) (Brown, Cai and DasGupta, Interval Estimation for a Binomial Proportion,
// Statistical Science 16(2), 2001, without their change at the ends). With nothing
// seen it is 0 to 1.
func Jeffreys(held, n int) Interval {
	if n <= 0 || held < 0 || held > n {
		return Interval{0, 1}
	}
	a, b := float64(held)+0.5, float64(n-held)+0.5
	return Interval{Low: mathext.InvRegIncBeta(a, b, tail), High: mathext.InvRegIncBeta(a, b, 1-tail)}
}
