package command

import (
	"fmt"
	"strings"

	"cabwright/planner"
	"cabwright/presets"
)

// presetTables are the tables that can be shown, in this order.
var presetTables = []presetTable{
	{
		name: "materials", about: "kinds of rough: SG, hardness, what harms them", member: "materials",
		count: func(s *presets.Set) int { return len(s.Materials) }, text: materialsText,
		rows: each(func(s *presets.Set) []presets.Material { return s.Materials }, func(m presets.Material) any {
			return materialRow{m.Key, m.Name, []float64{m.SG.Low, m.SG.Typical, m.SG.High},
				[]float64{m.MohsLow, m.MohsHigh}, m.Porous, m.Sensitive, m.Source}
		}),
	},
	{
		name: "sizes", about: "calibrated outlines, length x width", member: "sizes",
		count: func(s *presets.Set) int { return len(s.Sizes) }, text: sizesText,
		rows: each(func(s *presets.Set) []presets.Size { return s.Sizes }, func(z presets.Size) any {
			return sizeRow{z.Shape, z.Length, z.Width, z.Source}
		}),
	},
	{
		name: "domes", about: "dome heights, as a share of the width", member: "dome_styles",
		count: func(s *presets.Set) int { return len(s.DomeStyles) }, text: domesText,
		rows: each(func(s *presets.Set) []presets.DomeStyle { return s.DomeStyles }, func(d presets.DomeStyle) any {
			return domeRow{d.Key, d.Name, d.HeightByWidth, d.Source}
		}),
	},
	{
		name: "backs", about: "how far a back is domed", member: "back_styles",
		count: func(s *presets.Set) int { return len(s.BackStyles) }, text: backsText,
		rows: each(func(s *presets.Set) []presets.BackStyle { return s.BackStyles }, func(k presets.BackStyle) any {
			return backRow{k.Key, k.Name, k.OfHeight, k.OfDome, k.Source}
		}),
	},
	{
		name: "walls", about: "height and lean of the bezel wall", member: "walls",
		count: func(s *presets.Set) int { return len(s.Walls) }, text: wallsText,
		rows: each(func(s *presets.Set) []presets.Wall { return s.Walls }, func(w presets.Wall) any {
			return wallRow{w.Key, w.Name, w.Height, w.LeanDeg, w.Source}
		}),
	},
	{
		name: "saws", about: "blades and their kerfs", member: "saws",
		count: func(s *presets.Set) int { return len(s.Saws) }, text: sawsText,
		rows: each(func(s *presets.Set) []presets.Saw { return s.Saws }, func(w presets.Saw) any {
			return sawRow{w.Key, w.Name, w.Kerf, w.Depth, w.Source}
		}),
	},
	{
		name: "wheels", about: "grinding steps and what each leaves on a side", member: "wheels",
		count: func(s *presets.Set) int { return len(s.Wheels) }, text: wheelsText,
		rows: each(func(s *presets.Set) []presets.Wheel { return s.Wheels }, func(w presets.Wheel) any {
			return wheelRow{w.Key, w.Name, w.Left, w.Source}
		}),
	},
	priceTable,
	roughPriceTable,
}

// The rows with the names that a presets file gives them.
type (
	materialRow struct {
		Key       string    `json:"key"`
		Name      string    `json:"name"`
		SG        []float64 `json:"sg"`
		Mohs      []float64 `json:"mohs"`
		Porous    bool      `json:"porous"`
		Sensitive []string  `json:"sensitive,omitempty"`
		Source    string    `json:"source"`
	}
	sizeRow struct {
		Shape  string  `json:"shape"`
		Length float64 `json:"length_mm"`
		Width  float64 `json:"width_mm"`
		Source string  `json:"source"`
	}
	domeRow struct {
		Key    string  `json:"key"`
		Name   string  `json:"name"`
		Height float64 `json:"height_by_width"`
		Source string  `json:"source"`
	}
	backRow struct {
		Key      string  `json:"key"`
		Name     string  `json:"name"`
		OfHeight float64 `json:"of_height"`
		OfDome   float64 `json:"of_dome"`
		Source   string  `json:"source"`
	}
	wallRow struct {
		Key    string  `json:"key"`
		Name   string  `json:"name"`
		Height float64 `json:"height_mm"`
		Lean   float64 `json:"lean_deg"`
		Source string  `json:"source"`
	}
	sawRow struct {
		Key    string  `json:"key"`
		Name   string  `json:"name"`
		Kerf   float64 `json:"kerf_mm"`
		Depth  float64 `json:"depth_mm"` // 0: not known
		Source string  `json:"source"`
	}
	wheelRow struct {
		Key    string  `json:"key"`
		Name   string  `json:"name"`
		Left   float64 `json:"left_mm"`
		Source string  `json:"source"`
	}
)

// each turns every row of a table into what is printed of it.
func each[R any](rows func(*presets.Set) []R, print func(R) any) func(*presets.Set) []any {
	return func(s *presets.Set) []any {
		var out []any
		for _, r := range rows(s) {
			out = append(out, print(r))
		}
		return out
	}
}

// listing is a table with a header, flush right in the columns named.
func listing(right []int, head ...string) *table {
	t := &table{right: map[int]bool{}}
	for _, i := range right {
		t.right[i] = true
	}
	t.add(head...)
	return t
}

func materialsText(s *presets.Set) string {
	t := listing([]int{2}, "material", "SG low-high", "typical", "Mohs", "harmed by, source")
	for _, m := range s.Materials {
		about := strings.Join(m.Sensitive, ", ")
		if m.Porous {
			about = strings.TrimPrefix(about+", porous", ", ")
		}
		if about != "" {
			about += "; "
		}
		t.add(planner.Visible(m.Key), fmt.Sprintf("%.2f-%.2f", m.SG.Low, m.SG.High), fmt.Sprintf("%.2f", m.SG.Typical),
			span(m.MohsLow, m.MohsHigh), planner.Visible(about+m.Source))
	}
	return t.String()
}

// span is "5-6.5", or one number when both are the same.
func span(low, high float64) string {
	if low == high {
		return fmt.Sprintf("%g", low)
	}
	return fmt.Sprintf("%g-%g", low, high)
}

// sizesText gives a paragraph to each shape and source: there are over a
// hundred sizes.
func sizesText(s *presets.Set) string {
	type group struct{ shape, source string }
	var order []group
	sizes := map[group][]string{}
	for _, z := range s.Sizes {
		g := group{z.Shape, z.Source}
		if sizes[g] == nil {
			order = append(order, g)
		}
		size := fmt.Sprintf("%gx%g", z.Length, z.Width)
		if z.Length == z.Width {
			size = fmt.Sprintf("%g", z.Length)
		}
		sizes[g] = append(sizes[g], size)
	}
	t := listing(nil, "outline", "mm (source)")
	for _, g := range order {
		t.add(planner.Visible(g.shape), strings.Join(sizes[g], " ")+" ("+planner.Visible(g.source)+")")
	}
	return t.String()
}

func domesText(s *presets.Set) string {
	t := listing([]int{1}, "dome", "of width", "name", "source")
	for _, d := range s.DomeStyles {
		t.add(
			planner.Visible(d.Key), fmt.Sprintf("%.2f", d.HeightByWidth), planner.Visible(d.Name), planner.Visible(d.Source),
		)
	}
	return t.String()
}

func backsText(s *presets.Set) string {
	t := listing([]int{1, 2}, "back", "of height", "of dome", "name", "source")
	for _, k := range s.BackStyles {
		t.add(planner.Visible(k.Key), fmt.Sprintf("%.2f", k.OfHeight), fmt.Sprintf("%.2f", k.OfDome),
			planner.Visible(k.Name), planner.Visible(k.Source))
	}
	return t.String()
}

func wallsText(s *presets.Set) string {
	t := listing([]int{1, 2}, "wall", "mm high", "degrees in", "source")
	for _, w := range s.Walls {
		t.add(planner.Visible(w.Key), fmt.Sprintf("%g", w.Height), fmt.Sprintf("%g", w.LeanDeg), planner.Visible(w.Source))
	}
	return t.String()
}

func sawsText(s *presets.Set) string {
	t := listing([]int{1, 2}, "saw", "kerf, mm", "depth, mm", "name", "source")
	for _, w := range s.Saws {
		t.add(
			planner.Visible(w.Key), fmt.Sprintf("%g", w.Kerf), depthText(w.Depth), planner.Visible(w.Name),
			planner.Visible(w.Source),
		)
	}
	return t.String()
}

// depthText is a blade's reach, "-" where it is not known.
func depthText(mm float64) string {
	if mm == 0 {
		return "-"
	}
	return fmt.Sprintf("%g", mm)
}

func wheelsText(s *presets.Set) string {
	t := listing([]int{1}, "wheel", "left, mm", "name", "source")
	for _, w := range s.Wheels {
		t.add(planner.Visible(w.Key), fmt.Sprintf("%g", w.Left), planner.Visible(w.Name), planner.Visible(w.Source))
	}
	return t.String()
}
