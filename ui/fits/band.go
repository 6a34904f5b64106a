package fits

import (
	"fmt"
	"strings"

	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

// bandLines say what the weight band of a fit rests on, and what the fit weighs as
// the cutter's own finished stones came out; none while the rough is not known.
func bandLines(s *view.State, f search.Fit, width int) []string {
	var lines []string
	if r := rough(s); r != nil {
		g := planner.GravityOf(s.Stone(), s.Presets, r.Volume())
		words := "band: " + g.Basis + fmt.Sprintf("; %g mm off or on", planner.DimensionTolerance)
		if len(words) > width {
			words = g.Words()
		}
		if len(words) > width {
			words, _, _ = strings.Cut(words, ",")
		}
		lines = append(lines, s.Style.Paint(style.Faint, view.Fit(words, min(len(words), width))))
	}
	if own := s.Folder.Own; own != nil {
		b := own.Band(f.Carat)
		words := fmt.Sprintf("yours: %.2f to %.2f ct", b.Low, b.High)
		of, change := own.Short()
		if full := words + ", " + of + ", " + change; len(full) <= width {
			words = full
		}
		lines = append(lines, s.Style.Paint(style.Text, view.Fit(words, min(len(words), width))))
	}
	return lines
}
