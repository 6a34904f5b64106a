package fits

import (
	"fmt"
	"slices"
	"strings"

	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/ui/drawing"
)

// Summary returns a fit as a few lines of plain text, for the clipboard or a
// note: what it is, what it weighs, what it loses, and where it lies in the
// stone. rough may be nil; then what hangs on it is left out.
func Summary(stone planner.Stone, rough *planner.Rough, f search.Fit) string {
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	if name := planner.Visible(stone.Name); name != "" {
		line("%s: %s", name, sizeWords(f.Candidate))
	} else {
		line("%s", sizeWords(f.Candidate))
	}
	line("%s, %s, %s", faceWords(f.Face), sidesWords(f.Candidate), formWords(f.Candidate))
	s := f.Solid
	line("Heights: %s mm in all, dome %s mm, wall %s mm leaning in %s degrees, back %s mm",
		mm(s.Height()), mm(s.Dome), mm(s.Wall), mm(s.WallLeanDeg), mm(s.BackDepth()))
	line("Weight: %s", caratWords(f))
	if _, _, ok := loss(f, stone, rough); ok {
		line("Cut away: %s", lossWords(f, stone, rough)+byScale(stone))
	}
	line("Clearance: %.2f mm, limited by %s", f.Clearance, limitWords(f.LimitedBy, skinPart(nil, rough, stone, f)))
	line("Colour share: %.0f%%", 100*f.Colour)
	line("Place: %s", provedWords(f, 0))
	o := f.Pose.Origin
	line("Girdle centre at x %.2f, y %.2f, z %.2f mm; %s", o.X, o.Y, o.Z, poseWords(f))
	return b.String()
}

// skinPart says which part of the skin is nearest to a fit, when the skin is what
// limits it: "outline", "top" or "base", else nothing. last, which may be nil,
// remembers the answer.
func skinPart(last *drawing.LastNearest, rough *planner.Rough, stone planner.Stone, f search.Fit) string {
	if !slices.Contains(f.LimitedBy, "skin") {
		return ""
	}
	return last.Of(rough, stone, &f).Where
}
