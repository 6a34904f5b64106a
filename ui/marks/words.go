package marks

import (
	"fmt"

	"cabwright/planner"
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
	depth := fmt.Sprintf("%.1f mm deep", k.Depth)
	if k.Through {
		depth = "right through"
	}
	out := fmt.Sprintf("%-3s %s, %s, %s%s", k.ID, kind, k.Face, depth, unsureWords(k.DepthRange, k.Chance))
	if k.Lean > 0 {
		out += fmt.Sprintf(", leans %.0f° toward %.0f°", k.Lean, k.Toward)
	}
	if k.RunOn > 0 {
		out += fmt.Sprintf(", may run on %.1f mm", k.RunOn)
	}
	return out
}

func describePocket(p planner.Pocket) string {
	out := fmt.Sprintf("%-3s pocket, ", p.ID)
	switch p.Face {
	case planner.Through:
		return out + "right through" + unsureWords(nil, p.Chance)
	case planner.Inside:
		return out + fmt.Sprintf("inside, heights %.1f to %.1f mm", p.Low, p.High) + unsureWords(nil, p.Chance)
	}
	return out + fmt.Sprintf("%s, %.1f mm deep", p.Face, p.Depth) + unsureWords(p.DepthRange, p.Chance)
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
