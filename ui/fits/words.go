package fits

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/ui/canvas"
	"cabwright/ui/view"
)

// mm writes a size in mm with one decimal at most.
func mm(v float64) string { return strings.TrimSuffix(fmt.Sprintf("%.1f", v), ".0") }

// hundredths writes a length in mm with two decimals at most.
func hundredths(v float64) string { return strconv.FormatFloat(math.Round(v*100)/100+0, 'f', -1, 64) }

// sizeWords names a finished stone's outline: "14 x 10 mm oval".
func sizeWords(c search.Candidate) string {
	o := c.Solid.Outline
	if o.Length == o.Width {
		return fmt.Sprintf("%s mm %s", mm(o.Length), view.Shape(c))
	}
	return fmt.Sprintf("%s x %s mm %s", mm(o.Length), mm(o.Width), view.Shape(c))
}

func faceWords(f planner.Face) string {
	if f == planner.Base {
		return "base up"
	}
	return "top up"
}

func sidesWords(c search.Candidate) string {
	if c.Solid.Sides == 2 {
		return "double-sided"
	}
	return "single-sided"
}

// formWords says how dome and back are shaped: "medium dome, flat back".
func formWords(c search.Candidate) string {
	dome, back := planner.Visible(c.DomeStyle), planner.Visible(c.BackStyle)
	switch {
	case c.Solid.Sides != 2:
		back = "flat back"
	case back == "":
		back = fmt.Sprintf("back %s mm", mm(c.Solid.BackDepth()))
	default:
		back += " back"
	}
	if dome == "" {
		return fmt.Sprintf("dome %s mm, %s", mm(c.Solid.Dome), back)
	}
	return dome + " dome, " + back
}

// limitWords lists what limits a fit; where says which part of the skin.
func limitWords(by []string, where string) string {
	if len(by) == 0 {
		return "nothing near"
	}
	out := make([]string, len(by))
	for i, name := range by {
		out[i] = planner.Visible(name)
		if name == "skin" && where != "" {
			out[i] = "skin (" + where + ")"
		}
	}
	return strings.Join(out, ", ")
}

// narrowLimits is limitWords with no commas, for a narrow list: "held by top skin C1".
func narrowLimits(by []string, where string) string {
	out := []string{"held by"}
	for _, name := range by {
		if name == "skin" && where != "" {
			out = append(out, where)
		}
		out = append(out, planner.Visible(name))
	}
	if len(by) == 0 {
		out = append(out, limitWords(by, where))
	}
	return strings.Join(out, " ")
}

// limitSentence says what limits a fit, by name and kind: "the skin of the top,
// crack C2, pockets P1 and P2".
func limitSentence(stone planner.Stone, by []string, where string) string {
	var skin, cracks, pockets, others []string
	for _, id := range by {
		name := planner.Visible(id)
		switch {
		case id == "skin" && where == "outline":
			skin = append(skin, "the skin at the outline")
		case id == "skin" && where != "":
			skin = append(skin, "the skin of the "+where)
		case id == "skin":
			skin = append(skin, "the skin")
		case slices.ContainsFunc(stone.Cracks, func(k planner.Crack) bool { return k.ID == id }):
			cracks = append(cracks, name)
		case slices.ContainsFunc(stone.Pockets, func(k planner.Pocket) bool { return k.ID == id }):
			pockets = append(pockets, name)
		default:
			others = append(others, name)
		}
	}
	out := append(skin, listed("crack", cracks)...)
	return strings.Join(append(append(out, listed("pocket", pockets)...), others...), ", ")
}

// listed names things of one kind: "cracks C1 and C2"; nothing where there is none.
func listed(kind string, names []string) []string {
	switch n := len(names); n {
	case 0:
		return nil
	case 1:
		return []string{kind + " " + names[0]}
	default:
		return []string{kind + "s " + strings.Join(names[:n-1], ", ") + " and " + names[n-1]}
	}
}

// provedSign and provedWords say whether no pose within the limits is better by
// more than the tolerance.
func provedSign(f search.Fit, glyphs canvas.Mode) string {
	switch {
	case f.Clearance < 0:
		return "!"
	case f.Proved && glyphs == canvas.ASCII:
		return "="
	case f.Proved:
		return "✓"
	default:
		return "~"
	}
}

func provedWords(f search.Fit, tolerance float64) string {
	switch {
	case f.Clearance < 0:
		return "breaks an allowance"
	case f.Proved && tolerance > 0:
		return fmt.Sprintf("best place proved to %g mm", tolerance)
	case f.Proved:
		return "best place proved"
	default:
		return "fits; best place not proved"
	}
}

// caratWords gives the weight with its band.
func caratWords(f search.Fit) string {
	if f.CaratLow > 0 || f.CaratHigh > 0 {
		return fmt.Sprintf("%.2f ct (%.2f to %.2f)", f.Carat, f.CaratLow, f.CaratHigh)
	}
	return fmt.Sprintf("%.2f ct", f.Carat)
}

// loss returns the share, 0 to 1, of the rough's weight that is cut away, and
// that weight in carats: the scale's where there is one; ok is false while the
// rough is not known.
func loss(f search.Fit, stone planner.Stone, rough *planner.Rough) (share, from float64, ok bool) {
	if rough == nil || !(f.Volume > 0) {
		return 0, 0, false
	}
	return planner.Lost(f.Carat, stone, f.Carat*rough.Volume()/f.Volume)
}

// lossWords says how much of the rough's weight is cut away.
func lossWords(f search.Fit, stone planner.Stone, rough *planner.Rough) string {
	share, from, ok := loss(f, stone, rough)
	if !ok {
		return "loss not known yet"
	}
	return fmt.Sprintf("loss %.0f%% of %.1f ct", 100*share, from)
}

// byScale says, behind a loss, that it is counted against the scale.
func byScale(stone planner.Stone) string {
	if stone.ScaleCt > 0 {
		return " (scale)"
	}
	return ""
}

// poseWords says how the fit is tilted and turned, in degrees.
func poseWords(f search.Fit) string {
	tilt, turn := angles(f.Pose)
	return fmt.Sprintf("tilt %.1f°, turned %.0f°", tilt, turn)
}

// angles returns the tilt of a pose's dome axis from the upright and the compass
// direction of its length, both in degrees.
func angles(p search.Pose) (tilt, turn float64) {
	w := math.Min(1, math.Abs(p.Axes.W.Z))
	tilt = math.Acos(w) * 180 / math.Pi
	turn = math.Atan2(p.Axes.U.Y, p.Axes.U.X) * 180 / math.Pi
	return tilt, math.Round(turn*10)/10 + 0 // + 0 turns -0 into 0
}
