package marks

import (
	"fmt"

	"cabwright/planner"
	"cabwright/planner/odds"
	"cabwright/ui/drawing"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

// describe is a mark's line in the list.
func describe(st planner.Stone, t view.Selection) string {
	switch t.Kind {
	case view.Crack:
		return describeCrack(st.Cracks[t.Index])
	case view.Pocket:
		return describePocket(st.Pockets[t.Index])
	default:
		return describeZone(st.Colour[t.Index])
	}
}

func describeCrack(k planner.Crack) string {
	kind := "crack"
	if k.Sealed {
		kind = "sealed crack"
	}
	depth := drawing.Ranged(k.Depth, k.DepthRange) + " mm deep"
	switch {
	case k.Through && k.DepthRange != nil:
		depth = fmt.Sprintf("right through or from %.1f mm deep", k.DepthRange.Least)
	case k.Through:
		depth = "right through"
	}
	out := fmt.Sprintf("%-3s %s, %s, %s%s", k.ID, kind, k.Face, depth, chanceWords(k.Chance))
	if k.Lean > 0 {
		out += fmt.Sprintf(", leans %.0f° toward %.0f°", k.Lean, k.Toward)
	}
	if k.RunOn > 0 || k.RunOnRange != nil {
		out += fmt.Sprintf(", may run on %s mm", drawing.Ranged(k.RunOn, k.RunOnRange))
	}
	return out
}

func describePocket(p planner.Pocket) string {
	out := fmt.Sprintf("%-3s pocket, ", p.ID)
	switch p.Face {
	case planner.Through:
		out += "right through"
	case planner.Inside:
		low, high := drawing.Ranged(p.Low, p.BottomRange), drawing.Ranged(p.High, p.TopRange)
		out += fmt.Sprintf("inside, heights %s to %s mm", low, high)
	default:
		out += fmt.Sprintf("%s, %s mm deep", p.Face, drawing.Ranged(p.Depth, p.DepthRange))
	}
	return out + chanceWords(p.Chance)
}

// chanceWords says how likely a mark is there at all; nothing where it is there.
func chanceWords(chance *float64) string {
	if chance == nil {
		return ""
	}
	return ", " + odds.Percent(*chance) + " that it is there"
}

func describeZone(z planner.Zone) string {
	out := fmt.Sprintf("%-3s colour, %s, grade %g", z.ID, z.Face, z.Grade)
	if z.Pattern != "" {
		out += ", " + z.Pattern
	}
	if z.Depth > 0 {
		out += fmt.Sprintf(", %.1f mm deep", z.Depth)
	}
	return out
}

// roleOf is the colour of a mark's line: that of its drawing.
func roleOf(st planner.Stone, t view.Selection) style.Role {
	switch {
	case t.Kind == view.Crack && st.Cracks[t.Index].Sealed:
		return style.Sealed
	case t.Kind == view.Crack:
		return style.Crack
	case t.Kind == view.Pocket:
		return style.Pocket
	default:
		return style.Zone
	}
}
