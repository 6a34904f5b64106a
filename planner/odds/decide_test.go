package odds

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestDecidingWithNothingToDecide(t *testing.T) {
	require.Zero(t, Knowing(nil))
	require.Zero(t, Knowing([]Outcome{{Chance: 1}}))
	choice, worth := Blind(nil)
	require.Equal(t, -1, choice)
	require.Zero(t, worth)
	require.Zero(t, Knowing([]Outcome{{1, []float64{3, 5}}}), "what is sure needs no knowing")
	require.Empty(t, Posterior([]Outcome{{1, []float64{3}}}, [][]float64{{0}}))
}

// The prospector of Hillier and Lieberman, Introduction to Operations Research,
// chapter on decision analysis: oil with a chance of 0.25, drilling pays 700 or
// costs 100, selling the land pays 90 either way, in thousands. A survey is
// favourable with 0.6 where there is oil and with 0.2 where there is none.
// Published: expected payoff 100 without experimentation, the expected value of
// perfect information 142.5, of the survey 53.
func TestOilProspector(t *testing.T) {
	const drill = 0 // and 1 is selling
	ground := []Outcome{{0.25, []float64{700, 90}}, {0.75, []float64{-100, 90}}}
	choice, worth := Blind(ground)
	require.Equal(t, drill, choice)
	require.InDelta(t, 100, worth, 1e-9)
	require.InDelta(t, 142.5, Knowing(ground), 1e-9)

	survey := Posterior(ground, [][]float64{{0.6, 0.2}, {0.4, 0.8}})
	require.InDelta(t, 0.3, survey[0].Chance, 1e-12)
	require.InDelta(t, 0.7, survey[1].Chance, 1e-12)
	require.InDelta(t, 300, survey[0].Worth[drill], 1e-9, "half oil after a favourable survey")
	require.InDelta(t, 53, Knowing(survey), 1e-9)
}

// No sign is worth less than nothing or more than knowing all.
func TestASignIsWorthNoMoreThanKnowing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 5).Draw(t, "outcomes")
		part := rapid.Float64Range(0, 1)
		outcomes := make([]Outcome, n)
		sum := 0.0
		for k := range outcomes {
			outcomes[k] = Outcome{
				part.Draw(t, "chance") + 0.01, rapid.SliceOfN(rapid.Float64Range(-9, 9), 3, 3).Draw(t, "worth"),
			}
			sum += outcomes[k].Chance
		}
		yes, no := make([]float64, n), make([]float64, n)
		for k := range outcomes {
			outcomes[k].Chance /= sum
			yes[k] = part.Draw(t, "sign")
			no[k] = 1 - yes[k]
		}
		gain := Knowing(Posterior(outcomes, [][]float64{yes, no}))
		require.GreaterOrEqual(t, gain, -1e-12)
		require.LessOrEqual(t, gain, Knowing(outcomes)+1e-9)
	})
}
