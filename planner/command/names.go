package command

import (
	"fmt"
	"math"
	"strings"

	"cabwright/planner"
	"cabwright/planner/search"
)

// outlineName is "oval 14x10"; a freeform's sizes are rounded to 0.1 mm.
func outlineName(c search.Candidate) string {
	o := c.Solid.Outline
	if o.Shape == freeform {
		return fmt.Sprintf("%s %.1fx%.1f", o.Shape, o.Length, o.Width)
	}
	if o.Length == o.Width {
		return fmt.Sprintf("%s %g", o.Shape, o.Length)
	}
	return fmt.Sprintf("%s %gx%g", o.Shape, o.Length, o.Width)
}

// domeName is the dome's height and its style, cut short: "3.6 med.".
func domeName(c search.Candidate) string {
	style := []rune(planner.Visible(c.DomeStyle))
	if len(style) > 4 {
		style = append(style[:3:3], '.')
	}
	return fmt.Sprintf("%.1f %s", c.Solid.Dome, string(style))
}

// weight is a weight in carats with as many digits as mean something: a
// planned stone's is not known to a hundredth of ten carats.
func weight(ct float64) string {
	if ct >= 10 {
		return fmt.Sprintf("%.1f", ct)
	}
	return fmt.Sprintf("%.2f", ct)
}

// backName is the back's depth, or "flat".
func backName(c search.Candidate) string {
	if c.Solid.BackDepth() == 0 {
		return "flat"
	}
	return fmt.Sprintf("%.1f", c.Solid.BackDepth())
}

// named is a candidate in a few words.
func named(c search.Candidate) string {
	return fmt.Sprintf("%s, dome %s, %s", outlineName(c), domeName(c), c.Face)
}

// described is a fit in a sentence.
func described(f search.Fit) string {
	c := f.Solid
	back := "flat back"
	if c.BackDepth() > 0 {
		back = fmt.Sprintf("back domed %.1f mm", c.BackDepth())
	}
	s := fmt.Sprintf("%s mm, %.1f mm high (wall %.1f, %s dome %.1f, %s), dome out of the %s",
		outlineName(f.Candidate), c.Height(), c.Wall, planner.Visible(f.DomeStyle), c.Dome, back, f.Face)
	if tilt := tiltDeg(f.Pose); tilt >= 0.05 {
		return s + fmt.Sprintf(", tilted %.1f degrees.", tilt)
	}
	return s + ", level."
}

// tiltDeg is the angle in degrees between the dome's axis and the vertical.
func tiltDeg(p search.Pose) float64 {
	w := p.Axes.W
	return math.Atan2(math.Hypot(w.X, w.Y), math.Abs(w.Z)) * 180 / math.Pi
}

// limits lists what holds a fit, by the names the stone file gives.
func limits(ids []string) string {
	shown := make([]string, len(ids))
	for i, id := range ids {
		shown[i] = planner.Visible(id)
	}
	return strings.Join(shown, " ")
}

// floor2 rounds down to 0.01: a clearance is never shown larger than it is.
func floor2(x float64) float64 { return math.Floor(x*100) / 100 }
