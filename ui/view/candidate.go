package view

import (
	"fmt"
	"math"
	"strconv"

	"cabwright/planner"
	"cabwright/planner/search"
)

// Size writes length x width in mm with one decimal where there is one: "18x13",
// "18.4x14.2".
func Size(c search.Candidate) string {
	o := c.Solid.Outline
	return oneDecimal(o.Length) + "x" + oneDecimal(o.Width)
}

func oneDecimal(v float64) string {
	if text := strconv.FormatFloat(v, 'f', 1, 64); text[len(text)-2:] != ".0" {
		return text
	}
	return fmt.Sprintf("%.0f", v)
}

// Shape names the outline.
func Shape(c search.Candidate) string { return planner.Visible(c.Solid.Outline.Shape) }

// FaceUp is "top" or "base": the face the dome comes out of.
func FaceUp(c search.Candidate) string {
	if c.Face == planner.Base {
		return "base"
	}
	return "top"
}

// Sides is "single" or "double": how many sides are polished to a dome.
func Sides(c search.Candidate) string {
	if c.Solid.Sides == 2 {
		return "double"
	}
	return "single"
}

// Freeform reports whether the outline is cut to the stone, not to a setting.
func Freeform(c search.Candidate) bool { return len(c.Solid.Outline.Polygon) > 0 }

// LowSpare is the spare, in mm, under which a fit carries a mark: what the finest
// calipers of the bench tell apart (common practice, 0.05 mm).
const LowSpare = 0.05

// floor2 rounds down to hundredths; a hair under a hundredth counts as it.
func floor2(v float64) float64 { return math.Floor(v*100+1e-6) / 100 }

// Spare writes a fit's clearance beyond the allowances, in mm, rounded down so
// that it never claims more than there is; under LowSpare a mark follows.
func Spare(clearance float64) string {
	text := fmt.Sprintf("%.2f", floor2(clearance))
	if clearance < LowSpare {
		return text + "!"
	}
	return text
}
