package sawview

import (
	"strings"

	"cabwright/planner/cuts"
	"cabwright/ui/view"
)

// dustCaution goes with every cut that is made dry.
const dustCaution = "Dust harms the lungs: draw it off, wear a respirator"

// Explained says of the chosen cut what to beware of, which a short screen may have
// no room for beside the drawing.
func (v *View) Explained(s *view.State, _ float64) string {
	layout := v.layout(s)
	_, at, chosen := v.chosen(s)
	if !chosen || layout == nil || at >= len(layout.Steps) {
		return s.Waiting()
	}
	step := layout.Steps[at]
	parts := []string{s.Waiting()}
	if v.drySawn(s, step) {
		parts = append(parts, dustCaution, "no wet cut into an open crack")
	}
	saw, _ := s.Presets.Saw(s.Presets.Defaults.Saw)
	for _, w := range step.Warnings(cuts.BladeOf(saw)) {
		parts = append(parts, strings.ToUpper(w[:1])+w[1:])
	}
	return view.Sentence(append(parts, step.LeanWords())...)
}

// drySawn reports whether a cut opens a crack of rough that takes up water: it must
// not be made wet before the crack is sealed.
func (v *View) drySawn(s *view.State, step cuts.Step) bool {
	m, ok := s.Presets.Material(s.Stone().Material)
	return ok && m.Porous && len(step.SealFirst) > 0
}
