package ui

import (
	"math"

	"github.com/charmbracelet/x/ansi"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/presets"
	"cabwright/ui/style"
	"cabwright/ui/widget"
)

// askDetails asks for what belongs to the whole stone.
func (m *Model) askDetails() {
	s := m.s.Stone()
	names, at := materialNames(m.s.Presets, s.Material)
	a := s.Allowances
	mm := func(label string, v float64) *widget.Field {
		return (&widget.Field{Label: label, Kind: widget.Length, Max: 20, Step: 0.1}).WithNumber(v)
	}
	optional := func(f *widget.Field, v float64, blank string) *widget.Field {
		f.Optional = blank
		if v != 0 {
			f.WithNumber(v)
		}
		return f
	}
	var notes []string
	if r := m.s.Rough; r != nil && m.s.RoughOf == m.s.Revision() {
		area := math.Abs(geometry.Area(s.Outline))
		if remark := planner.WeightRemark(r.Volume(), area, planner.UsualGravity(s, m.s.Presets), s.ScaleCt); remark != "" {
			notes = []string{remark}
		}
	}
	m.s.Ask(&widget.Form{
		Title: "The stone",
		Notes: notes,
		Fields: []*widget.Field{
			(&widget.Field{Label: "Name", Kind: widget.Words}).With(s.Name),
			(&widget.Field{Label: "Material", Kind: widget.Choose, Choices: names}).With(names[at]),
			optional(
				&widget.Field{Label: "Specific gravity", Kind: widget.Plain, Min: 0.5, Max: 10, Step: 0.01},
				s.SG,
				"the material's typical one",
			),
			optional(&widget.Field{Label: "Weight on the scale", Kind: widget.Carat, Max: 1e6}, s.ScaleCt, "not weighed"),
			mm("Keep from the skin", a.Skin), mm("Keep from a crack", a.Crack),
			mm("Keep from a sealed crack", a.SealedCrack), mm("Keep from a pocket", a.Pocket),
		},
		Done: func(f *widget.Form) error {
			return m.s.Do("Change the stone's details", func(s planner.Stone) (planner.Stone, error) {
				return detailed(s, f, m.s.Presets.Materials[f.Choice(1)].Key, m.s.Presets)
			})
		},
	})
}

// detailed returns the stone with the details of a form.
func detailed(s planner.Stone, f *widget.Form, material string, set *presets.Set) (planner.Stone, error) {
	edits := []func(planner.Stone) (planner.Stone, error){
		func(s planner.Stone) (planner.Stone, error) { return planner.SetName(s, f.Text(0)) },
		func(s planner.Stone) (planner.Stone, error) { return planner.SetMaterial(s, material, set) },
		func(s planner.Stone) (planner.Stone, error) { return planner.SetSG(s, f.Number(2)) },
		func(s planner.Stone) (planner.Stone, error) { return planner.SetScaleWeight(s, f.Number(3)) },
		func(s planner.Stone) (planner.Stone, error) {
			return planner.SetAllowances(
				s,
				planner.Allowances{Skin: f.Number(4), Crack: f.Number(5), SealedCrack: f.Number(6), Pocket: f.Number(7)},
			)
		},
	}
	out := s
	for i, edit := range edits {
		next, err := edit(out)
		if err != nil {
			return s, widget.Wrong{Field: i, Err: err}
		}
		out = next
	}
	return out, nil
}

// materialNames returns the names to choose from and the index of a material's.
func materialNames(set *presets.Set, key string) (names []string, at int) {
	for i, m := range set.Materials {
		names = append(names, m.Name)
		if m.Key == key {
			at = i
		}
	}
	return names, at
}

// hintLines are the three lines for the first time.
func (m *Model) hintLines(width int) []string {
	first := "An empty stone: go round it with arrows or mouse, enter or click, c closes."
	if m.cfg.Demo {
		first = "A demo stone, your own copy to try things on: " + planner.Visible(m.keeper.path)
	}
	out := []string{
		first,
		"1 sketch the outline, 2 mark cracks and pockets, 3 see what fits, 4 cut it.",
		"The bottom line shows what can be done now, ? finds all actions, u undoes.",
	}
	for i := range out {
		out[i] = m.s.Style.Paint(style.Key, "│ ") + ansi.Truncate(out[i], max(0, width-2), "…")
	}
	return out
}
