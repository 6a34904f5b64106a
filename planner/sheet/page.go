package sheet

import "cabwright/geometry"

// Page is one sheet of paper. Coordinates are millimetres from its upper left
// corner, y downwards.
type Page struct {
	Width, Height float64
	items         []item
}

// item is something drawn: a path, a text, or a clip around others.
type item interface{}

// path is a line or an area.
type path struct {
	points []geometry.Vec2
	closed bool
	pen    pen
	fill   float64 // grey, 0 black to 1 white; below 0: none
}

// pen is how a line is drawn.
type pen struct {
	width float64 // mm; 0: not at all
	grey  float64
	dash  []float64 // lengths on and off, mm; nil: solid
}

// align is where a text's anchor is.
type align int

const (
	left align = iota
	centre
	right
)

// text is one line of text.
type text struct {
	at     geometry.Vec2 // of the baseline's anchor
	size   float64       // of the font, mm
	bold   bool
	align  align
	grey   float64
	string string
}

// clip shows only what of some items lies in a rectangle.
type clip struct {
	low, high geometry.Vec2
	items     []item
}

// noFill is the fill of a path that is only a line.
const noFill = -1

// moved returns items in new places: each point p becomes scale p + by, axis
// for axis. Sizes of text and widths of lines stay.
func moved(items []item, scale, by geometry.Vec2) []item {
	at := func(p geometry.Vec2) geometry.Vec2 {
		return geometry.Vec2{X: scale.X*p.X + by.X, Y: scale.Y*p.Y + by.Y}
	}
	out := make([]item, len(items))
	for i, it := range items {
		switch it := it.(type) {
		case path:
			points := make([]geometry.Vec2, len(it.points))
			for k, p := range it.points {
				points[k] = at(p)
			}
			it.points = points
			out[i] = it
		case text:
			it.at = at(it.at)
			out[i] = it
		case clip:
			out[i] = clip{at(it.low), at(it.high), moved(it.items, scale, by)}
		}
	}
	return out
}

// line is a straight line.
func line(a, b geometry.Vec2, p pen) path {
	return path{points: []geometry.Vec2{a, b}, pen: p, fill: noFill}
}

// rectangle is the outline of an upright rectangle.
func rectangle(low, high geometry.Vec2, p pen) path {
	return path{
		points: []geometry.Vec2{low, {X: high.X, Y: low.Y}, high, {X: low.X, Y: high.Y}},
		closed: true,
		pen:    p,
		fill:   noFill,
	}
}

func at(x, y float64) geometry.Vec2 { return geometry.Vec2{X: x, Y: y} }
