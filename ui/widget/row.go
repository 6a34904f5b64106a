package widget

import "strings"

// Cells returns the cells of a row of a table: apart by semicolons (which stand
// for the tabs of a spreadsheet, so that an empty cell stays one), else by commas
// that a space follows, else by spaces, else by commas.
func Cells(row string) []string {
	row = strings.TrimSpace(row)
	var out []string
	switch {
	case strings.Contains(row, ";"):
		out = strings.Split(row, ";")
	case strings.Contains(row, ", "):
		out = strings.Split(row, ", ")
	case strings.Contains(row, " "):
		return strings.Fields(row)
	default:
		out = strings.Split(row, ",")
	}
	for i := range out {
		out[i] = strings.TrimSpace(out[i])
	}
	return out
}

// Millimetres reads a length as a field does: "0,4", "400um", "1/64in".
func Millimetres(text string) (float64, error) { return (&Field{Kind: Length}).quantity(text) }
