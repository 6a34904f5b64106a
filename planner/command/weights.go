package command

import (
	"strconv"
	"strings"

	"cabwright/planner"
)

// units are what a weight can be given in, by how many carats one is.
var units = map[string]float64{
	"": 1, "ct": 1, "cts": 1, "carat": 1, "carats": 1,
	"g": planner.CaratsPerGram, "gram": planner.CaratsPerGram, "grams": planner.CaratsPerGram,
	"kg": 1000 * planner.CaratsPerGram, "ozt": planner.CaratsPerTroyOunce,
}

// maxWeight is the largest weight taken, in carats: 200 kg.
const maxWeight = 1e6

// parseWeight reads a weight in carats, or in the unit behind it: 24.6, 24,6 ct,
// 4.92g. flag is the option's name, for the error.
func parseWeight(flag, text string) (float64, error) {
	text = strings.TrimSpace(text)
	end := strings.LastIndexAny(text, "0123456789") + 1
	each, known := units[strings.ToLower(strings.TrimSpace(text[end:]))]
	v, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(text[:end]), ",", ".", 1), 64)
	if ct := v * each; err == nil && known && ct > 0 && ct <= maxWeight {
		return ct, nil
	}
	return 0, usagef("--%s %q: give a weight above 0 in carats, or with its unit, such as 24.6ct or 4.92g", flag, text)
}
