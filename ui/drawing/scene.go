package drawing

import (
	"strings"

	"github.com/charmbracelet/x/ansi"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/ui/canvas"
	"cabwright/ui/style"
)

// Scene is what there is to draw. Only Stone is needed.
type Scene struct {
	Stone planner.Stone
	Rough *planner.Rough // its surfaces; nil while they are not known
	Face  planner.Face   // the face looked at: Base is the stone turned over, else the top
	Fit   *search.Fit    // the cabochon in it, nil for none
	Also  []search.Fit   // the other stones of a layout
	Ghost *search.Fit    // a fit to show faintly, nil for none
	Saw   []SawCut
	Ticks []Tick // how far unsure marks may go before they spoil the fit

	// Nearest remembers where Fit is nearest to the skin; it may be nil.
	Nearest *LastNearest

	Palette *style.Palette // what the ground is painted with; nil for lines alone

	Line      *Cut // where a section runs, nil for none
	WholeLine bool // draw it from end to end, not only its ends

	Over    func(*canvas.Canvas) // draws what else there is, under the words; may be nil
	Spots   []Spot               // single places to mark
	Caption string               // words in the upper left corner; what follows a ; goes where there is no room

	Chosen   string // id of the mark to bring out, "" for none
	Corners  bool   // show the outline's corners
	Readings bool   // show the readings of the face looked at
	Names    bool   // write the marks' ids beside them
	Bare     bool   // leave out grid, scale bar, figures and the dots in colour zones, for a small drawing
}

// Spot is a place with a mark, and words beside it if there is room.
type Spot struct {
	At    geometry.Vec2
	Mark  canvas.Mark
	Class canvas.Class
	Text  string
}

// face returns the face looked at.
func (s Scene) face() planner.Face {
	if s.Face == planner.Base {
		return planner.Base
	}
	return planner.Top
}

// Window returns the view that shows the whole stone on a canvas of so many
// cells; the base is mirrored, as it is seen with the stone turned over.
func (s Scene) Window(width, height, margin int) canvas.View {
	pts := s.Stone.Outline
	if len(pts) == 0 {
		pts = s.loose()
	}
	v := canvas.FitTo(pts, width, height, margin)
	v.Mirror = s.face() == planner.Base
	return v
}

// loose returns the places of everything but the outline, for a stone that has
// none yet.
func (s Scene) loose() []geometry.Vec2 {
	var pts []geometry.Vec2
	for _, readings := range [][]geometry.Vec3{s.Stone.Top, s.Stone.Base} {
		for _, r := range readings {
			pts = append(pts, r.XY())
		}
	}
	for _, c := range s.Stone.Cracks {
		pts = append(pts, c.Path...)
	}
	for _, p := range s.Stone.Pockets {
		pts = append(pts, p.Outline...)
	}
	return pts
}

// limits reports whether the mark or surface of that name limits the fit.
func (s Scene) limits(name string) bool {
	if s.Fit == nil {
		return false
	}
	for _, l := range s.Fit.LimitedBy {
		if l == name {
			return true
		}
	}
	return false
}

// class returns the class a mark is drawn in: its own, or that of what is chosen.
func (s Scene) class(id string, own canvas.Class) canvas.Class {
	switch {
	case s.Chosen != "" && s.Chosen == id:
		return canvas.Chosen
	default:
		return own
	}
}

// titleClass returns the class a mark's name is written in.
func (s Scene) titleClass(id string, own canvas.Class) canvas.Class {
	if s.limits(id) && s.Chosen != id {
		return canvas.Limit
	}
	return s.class(id, own)
}

// title returns what is written beside a mark. The sign before it says without
// colour that the mark is chosen or limits the fit; a ? that it may not be there.
func (s Scene) title(id string) string {
	name := planner.Visible(id)
	const longest = 8 // cells; a longer name would hide the drawing
	if n := []rune(name); len(n) > longest {
		name = string(n[:longest-1]) + "…"
	}
	if s.doubtful(id) {
		name += "?"
	}
	switch {
	case s.Chosen != "" && s.Chosen == id:
		return canvas.ChosenMark.Sign + name
	case s.limits(id):
		return canvas.LimitMark.Sign + name
	default:
		return name
	}
}

// doubtful reports whether a mark may not be there at all.
func (s Scene) doubtful(id string) bool {
	for _, k := range s.Stone.Cracks {
		if k.ID == id {
			return doubtful(k.Chance)
		}
	}
	for _, p := range s.Stone.Pockets {
		if p.ID == id {
			return doubtful(p.Chance)
		}
	}
	return false
}

// caption writes as many parts of the caption as there is room for.
func (s Scene) caption(c *canvas.Canvas) {
	width, _ := c.Size()
	words := s.Caption
	for ansi.StringWidth(words) > width-2 {
		cut := strings.LastIndex(words, ";")
		if cut < 0 {
			return
		}
		words = words[:cut]
	}
	c.Text(1, 0, words, canvas.Label)
}
