package command

import (
	"strconv"
	"strings"

	"cabwright/planner"
	"cabwright/planner/money"
)

// units are what a weight can be given in, by how many carats one is.
var units = map[string]float64{
	"": 1, "ct": 1, "cts": 1, "carat": 1, "carats": 1,
	"g": planner.CaratsPerGram, "gram": planner.CaratsPerGram, "grams": planner.CaratsPerGram,
	"kg": 1000 * planner.CaratsPerGram, "ozt": planner.CaratsPerTroyOunce,
}

// maxWeight is the largest weight taken, in carats: 200 kg.
const maxWeight = 1e6

// inCarats takes a weight apart: its figures, and how many carats one of its unit is.
func inCarats(text string) (figures string, each float64, known bool) {
	text = strings.TrimSpace(text)
	end := strings.LastIndexAny(text, "0123456789") + 1
	each, known = units[strings.ToLower(strings.TrimSpace(text[end:]))]
	return strings.TrimSpace(text[:end]), each, known
}

// parseWeight reads a weight in carats, or in the unit behind it: 24.6, 24,6 ct,
// 4.92g. flag is the option's name, for the error.
func parseWeight(flag, text string) (float64, error) {
	figures, each, known := inCarats(text)
	v, err := strconv.ParseFloat(strings.Replace(figures, ",", ".", 1), 64)
	if ct := v * each; err == nil && known && ct > 0 && ct <= maxWeight {
		return ct, nil
	}
	return 0, usagef("--%s %q: give a weight above 0 in carats, or with its unit, such as 24.6ct or 4.92g", flag, text)
}

// exactWeight reads a weight that money is reckoned from: exactly, and 0 is one.
func exactWeight(flag, text string) (money.Amount, error) {
	figures, each, known := inCarats(text)
	if !known {
		return money.Amount{}, usagef("--%s %q: give carats, or a weight with its unit, such as 24.6ct or 4.92g", flag, text)
	}
	v, err := amount(flag, figures)
	return v.Times(money.Of(each)), err
}

// percentage reads a number of percent, with its sign or without.
func percentage(flag, text string) (money.Amount, error) {
	return amount(flag, strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(text), "%")))
}
