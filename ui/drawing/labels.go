package drawing

import (
	"math"
	"sort"

	"github.com/charmbracelet/x/ansi"

	"cabwright/geometry"
	"cabwright/ui/canvas"
)

// How much a label matters: where two want one place, the greater gets it.
const (
	figureMatters  = iota // thickness of a section
	readingMatters        // height of a reading
	cornerMatters         // number of a corner
	zoneMatters
	markMatters   // a crack or a pocket
	limitMatters  // a mark that limits the fit
	endMatters    // the ends of a section line
	sawMatters    // number of a saw cut
	chosenMatters // what is selected
)

// label is words that want a place near one of some points.
type label struct {
	text    string
	class   canvas.Class
	matters int
	near    []geometry.Vec2
	over    bool                     // it may lie on the point itself, and best does
	marked  bool                     // the point bears a mark already, which the label may touch
	within  func(geometry.Vec2) bool // the middle of the words must lie in this; nil: anywhere
	only    bool                     // it lies on the point or nowhere
	dot     bool                     // where there is no room for it a dot stands for it
}

// labels places words on a drawing so that none touches another.
type labels struct {
	c       *canvas.Canvas
	waiting []label
	touched map[[2]int]bool // marks that a label stands beside
}

// add asks for a place for a label. Points outside the canvas do not count.
func (l *labels) add(w label) {
	if w.text != "" {
		l.waiting = append(l.waiting, w)
	}
}

// place writes the labels, those that matter most first. One that finds no room
// beside its points is left out, or a dot stands for it.
func (l *labels) place() {
	sort.SliceStable(l.waiting, func(i, j int) bool { return l.waiting[i].matters > l.waiting[j].matters })
	for _, w := range l.waiting {
		if col, row, ok := l.best(w); ok {
			l.write(w, col, row)
			continue
		}
		if !w.dot {
			continue
		}
		for _, p := range w.near {
			if col, row, ok := l.c.CellOf(p); ok && l.free(col, row, 1, -1) {
				l.c.Put(p, canvas.CornerMark, w.class)
				break
			}
		}
	}
}

// write writes a label. The mark it touches, if any, is its own from now on.
func (l *labels) write(w label, col, row int) {
	for _, x := range []int{col - 1, col + ansi.StringWidth(w.text)} {
		if l.c.Written(x, row) {
			if l.touched == nil {
				l.touched = map[[2]int]bool{}
			}
			l.touched[[2]int{x, row}] = true
		}
	}
	l.c.Text(col, row, w.text, w.class)
}

// best returns the cheapest place for a label.
func (l *labels) best(w label) (col, row int, ok bool) {
	n := ansi.StringWidth(w.text)
	least := math.Inf(1)
	for k, p := range w.near {
		c, r, inside := l.c.CellOf(p)
		if !inside {
			continue
		}
		for i, at := range around(c, r, n, w) {
			own := -1
			if w.marked && at[1] == r && !l.touched[[2]int{c, r}] {
				own = c
			}
			// Further places and later points cost a little; every cell with a line
			// in it that would be covered costs more.
			cost := float64(i)*0.15 + float64(k)*0.5
			if cost >= least || !l.free(at[0], at[1], n, own) {
				continue
			}
			if w.within != nil && !w.within(l.c.At(at[0]+n/2, at[1])) {
				continue
			}
			if cost += l.covered(at[0], at[1], n); cost < least {
				least, col, row, ok = cost, at[0], at[1], true
			}
		}
	}
	return col, row, ok
}

// around returns the places for words of n cells about a cell, best first.
func around(c, r, n int, w label) [][2]int {
	if w.only {
		return [][2]int{{c - n/2, r}}
	}
	gap := 2 // a cell stays free beside what the words are about
	if w.marked {
		gap = 1
	}
	out := make([][2]int, 0, 12)
	if w.over {
		out = append(out, [2]int{c - n/2, r})
	}
	out = append(out, [2]int{c + gap, r}, [2]int{c - gap - n + 1, r})
	for _, up := range []int{1, 2} {
		out = append(out, [2]int{c - n/2, r - up}, [2]int{c - n/2, r + up},
			[2]int{c + 1, r - up}, [2]int{c - n, r - up}, [2]int{c + 1, r + up}, [2]int{c - n, r + up})
	}
	return append(out, [2]int{c + gap + 1, r}, [2]int{c - gap - n, r})
}

// free reports whether words of n cells from (col, row) on find room inside the
// canvas with no other sign in their cells or right beside them. The sign in
// column own of that row, if it is one, may touch them.
func (l *labels) free(col, row, n, own int) bool {
	width, height := l.c.Size()
	if col < 0 || row < 0 || col+n > width || row >= height {
		return false
	}
	for x := col - 1; x <= col+n; x++ {
		if l.c.Written(x, row) && !(x == own && l.alone(x, row, col)) {
			return false
		}
		if class, drawn := l.c.Drawn(x, row); drawn && class == canvas.Scale {
			return false
		}
	}
	return true
}

// alone reports whether a mark has nothing written on the side away from words
// that begin in column col: else it would read as theirs and another's.
func (l *labels) alone(x, row, col int) bool {
	beyond := x - 1
	if x > col {
		beyond = x + 1
	}
	return l.c.Marked(x, row) && !l.c.Written(beyond, row)
}

// covered returns what it costs to cover the lines in so many cells: the grid
// nothing, the rough's edge and what a fit keeps free some, all else more.
func (l *labels) covered(col, row, n int) float64 {
	cost := 0.0
	for x := col; x < col+n; x++ {
		switch class, drawn := l.c.Drawn(x, row); {
		case !drawn || class == canvas.Grid:
		case class == canvas.Allowance || class == canvas.Edge || class == canvas.RunOn:
			cost += 0.4
		default:
			cost++
		}
	}
	return cost
}
