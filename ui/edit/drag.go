package edit

import (
	"cabwright/geometry"
	"cabwright/ui/view"
)

// NoEdge is the Edge of a drag that pulls no corner out of one.
const NoEdge = -1

// Drag is the mouse moving something with its button down. Until it is let go
// the stone stays as it is and only the drawing shows where it would go.
type Drag struct {
	Thing    view.Selection // nothing: the window is moved over the stone
	Edge     int            // the edge a new corner is pulled out of, or NoEdge
	From, To geometry.Vec2
	Moved    bool
	col, row int
}

// Press begins a drag at a point.
func Press(m view.Mouse, p geometry.Vec2) *Drag {
	return &Drag{Edge: NoEdge, From: p, To: p, col: m.Col, row: m.Row}
}

// Moves reports whether a drag, which may be nil, has moved a thing or an edge.
func (d *Drag) Moves() bool { return d != nil && d.Moved && d.holds() }

func (d *Drag) holds() bool { return d.Thing.Kind != view.Nothing || d.Edge != NoEdge }

// Follow takes the pointer at p: what is held goes with it, and with nothing held
// the window moves over the stone.
func (d *Drag) Follow(s *view.State, w Window, m view.Mouse, p geometry.Vec2) {
	if d == nil || m.Col == d.col && m.Row == d.row && !d.Moved {
		return
	}
	d.Moved = true
	if !d.holds() {
		s.Pan(float64(d.col-m.Col), float64(d.row-m.Row), w.Cols, w.Rows)
		d.col, d.row = m.Col, m.Row
		return
	}
	d.To, s.Cursor = p, p
}
