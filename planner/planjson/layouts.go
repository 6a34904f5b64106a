package planjson

import (
	"math"

	"cabwright/planner"
	"cabwright/planner/cuts"
)

type layout struct {
	Rank   int          `json:"rank"`
	Carat  measured     `json:"carat"`
	Fits   []laidFit    `json:"fits"`
	Pieces []uncutPiece `json:"pieces"`
	Cuts   []cut        `json:"cuts"`
}

type laidFit struct {
	fit
	Piece text `json:"piece"`
}

type uncutPiece struct {
	Piece  text     `json:"piece"`
	Volume measured `json:"volume_mm3"`
	Lumps  int      `json:"lumps"`
}

type cut struct {
	Order     int       `json:"order"`
	Piece     text      `json:"piece"`
	Kind      text      `json:"kind"`
	Point     vec3      `json:"point_mm"`
	Normal    vec3      `json:"normal"`
	Kerf      exact     `json:"kerf_mm"`
	SealFirst []text    `json:"seal_first"`
	Frees     []text    `json:"frees"`
	OffcutCt  measured  `json:"offcut_ct"`
	KerfCt    measured  `json:"kerf_ct"`
	Spare     *measured `json:"spare_mm"` // null: no stone on either side
	Across    measured  `json:"across_mm"`
	Marks     []mark    `json:"marks"`
}

type mark struct {
	Edge        [2]int   `json:"edge"`
	Corner      int      `json:"corner"`
	Along       measured `json:"mm"`
	CheckCorner int      `json:"check_corner"`
	Check       measured `json:"check_mm"`
}

// Layouts returns the member that lists several stones of one rough and the saw
// cuts to them, best first. sg is the specific gravity that weights are taken
// with.
func Layouts(layouts []cuts.Layout, sg float64) Member {
	m := Member{name: "layouts"}
	for i, l := range layouts {
		m.items = append(m.items, layoutOf(i+1, l, sg))
	}
	return m
}

func layoutOf(rank int, l cuts.Layout, sg float64) layout {
	out := layout{Rank: rank, Carat: measured(l.Carat()), Fits: []laidFit{}, Pieces: []uncutPiece{}, Cuts: []cut{}}
	for i, f := range l.Fits {
		out.Fits = append(out.Fits, laidFit{fitOf(i+1, f.Fit), text(f.Piece)})
	}
	for _, p := range l.Pieces {
		out.Pieces = append(out.Pieces, uncutPiece{text(p.Name), measured(p.Volume), p.Lumps})
	}
	for i, s := range l.Steps {
		c := cut{
			Order: i + 1, Piece: text(s.Piece), Kind: text(s.Kind), Point: vector(s.Point), Normal: vector(s.Normal),
			Kerf: exact(s.Kerf), SealFirst: texts(s.SealFirst), Frees: texts(s.Frees),
			OffcutCt: measured(planner.Carat(s.Offcut, sg)), KerfCt: measured(planner.Carat(s.KerfLost, sg)),
			Across: measured(s.Across), Marks: []mark{},
		}
		if !math.IsNaN(s.Spare) {
			spare := measured(math.Floor(s.Spare*1e4) / 1e4)
			c.Spare = &spare
		}
		for _, m := range s.Marks {
			c.Marks = append(c.Marks, mark{[2]int{m.From, m.To}, m.Corner, measured(m.Along), m.CheckCorner, measured(m.Check)})
		}
		out.Cuts = append(out.Cuts, c)
	}
	return out
}
