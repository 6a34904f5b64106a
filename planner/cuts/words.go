package cuts

import (
	"fmt"
	"math"
	"strings"

	"cabwright/planner"
	"cabwright/presets"
)

// String says where to scribe: "0.2 mm past corner 6 toward 7, 13.6 from corner 8".
func (m Mark) String() string {
	check := fmt.Sprintf("%.1f from corner %d", m.Check, m.CheckCorner)
	if m.Along < 0.05 {
		return fmt.Sprintf("at corner %d, %s", m.Corner, check)
	}
	toward := m.To
	if m.Corner == m.To {
		toward = m.From
	}
	return fmt.Sprintf("%.1f mm past corner %d toward %d, %s", m.Along, m.Corner, toward, check)
}

// Line says between which marks a cut's line is scribed, "" where it has none.
func (s Step) Line() string {
	if len(s.Marks) != 2 {
		return ""
	}
	at := func(m Mark) string { return strings.TrimPrefix(m.String(), "at ") }
	return fmt.Sprintf("from %s; to %s", at(s.Marks[0]), at(s.Marks[1]))
}

// LeanWords says how a cut leans, by degrees and by how far it comes out aside
// at the base; "" when it is upright.
func (s Step) LeanWords() string {
	lean := s.LeanDeg()
	if lean < 0.5 {
		return ""
	}
	if lean > 80 {
		return "level"
	}
	toward := "the offcut"
	switch {
	case s.Kind == Part:
		toward = stonesOf(s.Foot)
	case s.Normal.Z < 0:
		toward = "the stone"
	}
	degrees := fmt.Sprintf("%.0f degrees", lean)
	if degrees == "1 degrees" {
		degrees = "1 degree"
	}
	// The offset is that over the depth of the cut, measured along the blade.
	return fmt.Sprintf("leaning %s: %.1f mm toward %s at the base", degrees, s.Deep*math.Sin(lean*math.Pi/180), toward)
}

// stonesOf names stones by what they weigh, which tells them apart wherever they are
// listed.
func stonesOf(carats []float64) string {
	if len(carats) == 1 {
		return fmt.Sprintf("the stone of %.2f ct", carats[0])
	}
	shown := make([]string, len(carats))
	for i, c := range carats {
		shown[i] = fmt.Sprintf("%.2f", c)
	}
	return "the stones of " + Names(shown) + " ct"
}

// Task says in a few words what a cut is for.
func (s Step) Task() string {
	switch {
	case s.Kind == Part:
		return "part the stones"
	case s.Kind == Free || len(s.Frees) > 0:
		return "free from " + Names(s.Frees)
	default:
		return "trim"
	}
}

// Names lists marks by their ids: "C1, C2 and P1".
func Names(ids []string) string {
	shown := make([]string, len(ids))
	for i, id := range ids {
		shown[i] = planner.Visible(id)
	}
	if len(shown) < 2 {
		return strings.Join(shown, "")
	}
	return strings.Join(shown[:len(shown)-1], ", ") + " and " + shown[len(shown)-1]
}

// HoldLimit is the length below which a piece is not held by hand at the saw,
// mm (from memory, not seen in print).
const HoldLimit = 12.0

// Warnings says what to mind at a cut: cracks to seal, a piece too small to
// hold, a blade that does not reach through.
func (s Step) Warnings(saw Blade) []string {
	var out []string
	if len(s.SealFirst) > 0 {
		out = append(out, "seal "+Names(s.SealFirst)+" first with thin cyanoacrylate, and disclose it (16 CFR 23.24)")
	}
	if s.Held < HoldLimit {
		out = append(out, fmt.Sprintf("the piece is %.0f mm long: clamp or dop it", s.Held))
	}
	if saw.Depth > 0 && s.Deep > saw.Depth {
		out = append(
			out, fmt.Sprintf("%.0f mm deep, the blade reaches %.0f: turn the piece over and meet the cut", s.Deep, saw.Depth),
		)
	}
	switch {
	case s.Spare < -0.005: // what is 0.00 in figures is none
		out = append(out, fmt.Sprintf("%.2f mm too near to a stone: its skin is cut into", -s.Spare))
	case s.Spare < 0.3:
		// Marks good to 0.3 mm and a blade 2 degrees off use up that much.
		out = append(out, fmt.Sprintf("only %.1f mm to spare: saw on the waste side of the line", math.Max(0, s.Spare)))
	}
	return out
}

// Blade is what Warnings asks of a saw.
type Blade struct {
	Depth float64 // mm that it reaches; 0: not known
}

// BladeOf returns what Warnings asks of a saw of the presets.
func BladeOf(s presets.Saw) Blade { return Blade{Depth: s.Depth} }

// String says it in a sentence.
func (t Thinner) String() string {
	return fmt.Sprintf(
		"A thinner blade would free the stone from %s: %s, kerf %g mm.", planner.Visible(t.ID), planner.Visible(t.Saw.Name),
		t.Saw.Kerf,
	)
}
