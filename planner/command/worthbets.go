package command

import (
	"context"
	"fmt"

	"cabwright/planner/money"
	"cabwright/planner/odds"
	"cabwright/planner/search"
	"cabwright/planner/worth"
)

// bets weighs the worth of a stone's places when marks are not sure: what each
// brings on average, if it comes off and if it does not.
func (a *app) bets(
	ctx context.Context, s *specimen, plan search.Plan, opt search.Options, p worth.Prices,
) ([]worth.Bet, error) {
	if !odds.Any(s.stone) {
		return nil, nil
	}
	answer, err := a.ask(ctx, plan, opt)
	if err != nil {
		return nil, err
	}
	var out []worth.Bet
	for _, place := range answer.Places {
		out = append(out, worth.BetOf(s.stone, place.Fit, place.Odds, place.IfNot, s.colourUnder, p))
	}
	worth.SortBets(out)
	return out, nil
}

// betsText is the table of bets, the one that brings most on average first.
func betsText(bets []worth.Bet, c money.Currency, top int) string {
	if len(bets) == 0 {
		return ""
	}
	tab := &table{tight: true, right: map[int]bool{0: true, 3: true, 4: true, 5: true, 6: true, 7: true}}
	tab.add("#", "outline, mm", "face", "carat", "odds", "if it holds", "if not", "on average")
	for i, b := range bets[:min(top, len(bets))] {
		tab.add(fmt.Sprint(i+1), outlineName(b.Fit.Candidate), string(b.Fit.Face), weight(b.Fit.Carat), odds.Percent(b.Odds),
			likelyText(b.Value, c), likelyText(b.IfNot, c), likelyText(b.Expected(), c))
	}
	return "As a bet on what is not sure, likely worth:\n" + tab.String()
}

func likelyText(v *worth.Value, c money.Currency) string {
	if v == nil {
		return "-"
	}
	return v.Likely.Text(c)
}
