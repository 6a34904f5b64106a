package worth

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// 7 ct at 0.625 and 3 ct else, at 10 a carat, is 55 on average (the slab of the odds'
// own check: 5.5 ct expected); a sure 5 ct brings 50.
func TestExpectedWorth(t *testing.T) {
	at := func(x float64) *Value { return &Value{Low: of(x - 10), Likely: of(x), High: of(x + 10), By: "any"} }
	risky := Bet{Odds: 0.625, Value: at(70), IfNot: at(30)}
	assert.Equal(t, "55.00", risky.Expected().Likely.Text(euro))
	assert.Equal(t, "45.00", risky.Expected().Low.Text(euro))
	assert.Equal(t, "65.00", risky.Expected().High.Text(euro))
	assert.Equal(t, "43.75", Bet{Odds: 0.625, Value: at(70)}.Expected().Likely.Text(euro), "nothing is left")
	assert.Nil(t, Bet{Odds: 1, IfNot: at(30)}.Expected())
	bets := []Bet{{}, {Odds: 1, Value: at(50)}, risky, {Odds: 1, Value: at(50), IfNot: at(1)}}
	SortBets(bets)
	assert.Equal(t, 0.625, bets[0].Odds)
	assert.Nil(t, bets[1].IfNot)
	assert.NotNil(t, bets[2].IfNot)
	assert.Nil(t, bets[3].Value)
}
