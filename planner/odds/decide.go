package odds

import "slices"

// Outcome is one thing that can turn out, and what each choice is worth then, on
// average.
type Outcome struct {
	Chance float64
	Worth  []float64 // by choice
}

// Blind returns the choice that is worth most when nothing more is known, and its
// worth; -1 where there is no choice.
func Blind(outcomes []Outcome) (choice int, worth float64) {
	if len(outcomes) == 0 || len(outcomes[0].Worth) == 0 {
		return -1, 0
	}
	sums := make([]float64, len(outcomes[0].Worth))
	for _, o := range outcomes {
		for i, w := range o.Worth {
			sums[i] += o.Chance * w
		}
	}
	worth = slices.Max(sums)
	return slices.Index(sums, worth), worth
}

// Knowing returns by how much the choice is worth more when it is made after the
// outcome is known: the value of perfect information (Howard, Information Value
// Theory, 1966).
func Knowing(outcomes []Outcome) float64 {
	_, blind := Blind(outcomes)
	sum := 0.0
	for _, o := range outcomes {
		if len(o.Worth) > 0 {
			sum += o.Chance * slices.Max(o.Worth)
		}
	}
	return max(0, sum-blind)
}

// Posterior returns the outcomes of a sign that tells of others: signs[s][k] is the
// chance of sign s where outcome k is the case. What is known of an outcome after a
// sign follows from Bayes' rule. A sign that cannot come has no outcome.
func Posterior(outcomes []Outcome, signs [][]float64) []Outcome {
	var out []Outcome
	for _, given := range signs {
		var o Outcome
		for k, is := range outcomes {
			p := is.Chance * given[k]
			if p <= 0 {
				continue
			}
			if o.Worth == nil {
				o.Worth = make([]float64, len(is.Worth))
			}
			o.Chance += p
			for i, w := range is.Worth {
				o.Worth[i] += p * w
			}
		}
		if o.Chance > 0 {
			for i := range o.Worth {
				o.Worth[i] /= o.Chance
			}
			out = append(out, o)
		}
	}
	return out
}
