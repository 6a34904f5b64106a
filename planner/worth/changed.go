package worth

import (
	"fmt"

	"cabwright/planner/money"
)

// ChangedText says what became of the likely worth of the best fit, and what was
// lost or gained: "Likely worth now 46.00 EUR, was 60.00: 14.00 lost." before and
// after are nil where nothing fits, or no price is meant for it; fits says whether
// anything fits now. "": there is nothing to say.
func ChangedText(before, after *Value, fits bool, c money.Currency) string {
	code := ""
	if c.Code != money.None {
		code = " " + c.Code
	}
	switch {
	case before == nil && after == nil:
		return ""
	case before == nil:
		return fmt.Sprintf("Likely worth now %s%s.", after.Likely.Text(c), code)
	case after == nil && fits:
		return fmt.Sprintf("Likely worth was %s%s; no price is meant for what fits now.", before.Likely.Text(c), code)
	case after == nil:
		return fmt.Sprintf("Likely worth was %s%s: all of it lost.", before.Likely.Text(c), code)
	}
	was, now := before.Likely.Round(c), after.Likely.Round(c)
	text := fmt.Sprintf("Likely worth now %s%s, was %s", now.Text(c), code, was.Text(c))
	switch change := now.Minus(was); change.Sign() {
	case -1:
		text += fmt.Sprintf(": %s lost", was.Minus(now).Text(c))
	case 1:
		text += fmt.Sprintf(": %s gained", change.Text(c))
	}
	return text + "."
}
