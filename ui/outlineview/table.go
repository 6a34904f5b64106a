package outlineview

import (
	"cmp"
	"errors"
	"fmt"
	"strings"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/ui/edit"
	"cabwright/ui/view"
	"cabwright/ui/widget"
)

// column is what a column of a table of readings holds.
type column int

const (
	noColumn column = iota
	columnX
	columnY
	columnTop
	columnBase
	columnThick
)

// columnNames are the heads that a table can have.
var columnNames = map[string]column{
	"x": columnX, "y": columnY, "top": columnTop, "base": columnBase, "thick": columnThick, "thickness": columnThick,
	"height": columnTop, "z": columnTop,
}

// table reads rows of readings, typed or pasted from a spreadsheet.
type table struct {
	columns []column // as the last row of names said; nil: x, y, top, base
	rows    int
}

// reading is one row: a place and what was read there; nil is an empty cell.
type reading struct {
	at               geometry.Vec2
	top, base, thick *float64
}

// heads takes a row of names as the heads of the columns; false when it is none.
func (t *table) heads(cells []string) bool {
	var out []column
	named := 0
	for _, c := range cells {
		k := columnNames[strings.ToLower(strings.Fields(c + " -")[0])]
		if k != noColumn {
			named++
		}
		out = append(out, k)
	}
	if named < 3 {
		return false
	}
	t.columns = out
	return true
}

// label asks for the next row, by the heads it has.
func (t *table) label() string {
	names := []string{"x", "y", "top", "base"}
	if t.columns != nil {
		names = nil
		for _, c := range t.columns {
			names = append(names, [...]string{"…", "x", "y", "top", "base", "thickness"}[c])
		}
	}
	return fmt.Sprintf("Row %d: %s", t.rows+1, strings.Join(names, ", "))
}

// read reads a row of figures.
func (t *table) read(cells []string) (reading, error) {
	columns := t.columns
	if columns == nil {
		columns = []column{columnX, columnY, columnTop, columnBase}
	}
	var r reading
	seen := map[column]bool{}
	for i, c := range cells {
		if c == "" || c == "-" || i >= len(columns) || columns[i] == noColumn {
			continue
		}
		k := columns[i]
		if rest, ok := strings.CutPrefix(c, "="); ok {
			k, c = columnThick, rest
		}
		mm, err := widget.Millimetres(c)
		if err != nil {
			return r, err
		}
		if mm > edit.Reach || mm < -edit.Reach {
			return r, fmt.Errorf("%g mm is more than %d mm away", mm, edit.Reach)
		}
		seen[k] = true
		switch k {
		case columnX:
			r.at.X = mm
		case columnY:
			r.at.Y = mm
		case columnTop:
			r.top = &mm
		case columnBase:
			r.base = &mm
		case columnThick:
			r.thick = &mm
		}
	}
	switch {
	case !seen[columnX] || !seen[columnY] || !(seen[columnTop] || seen[columnBase] || seen[columnThick]):
		return r, errors.New("type x, y and a height: 3 4 8.2 for the top, 3 4 - 0.4 for the base, 3 4 =7.8 for a thickness")
	case seen[columnThick] && seen[columnTop] && seen[columnBase]:
		return r, errors.New("top, base and thickness at once: leave one of them out")
	}
	return r, nil
}

// put puts a row's readings into a stone; moves is the face that a thickness
// moves where neither height is given.
func (r reading) put(s planner.Stone, moves planner.Face) (planner.Stone, error) {
	for _, f := range []struct {
		face planner.Face
		z    *float64
	}{{planner.Top, r.top}, {planner.Base, r.base}} {
		if f.z == nil {
			continue
		}
		next, err := planner.PutReading(s, f.face, geometry.Vec3{X: r.at.X, Y: r.at.Y, Z: *f.z})
		if err != nil {
			return s, err
		}
		s = next
	}
	switch {
	case r.thick == nil:
		return s, nil
	case r.top != nil:
		moves = planner.Base
	case r.base != nil:
		moves = planner.Top
	case moves == "":
		moves = planner.Top
	}
	return planner.ReadThickness(s, r.at, *r.thick, moves)
}

// askTable asks for readings one a line.
func (v *View) askTable(s *view.State) {
	t := &table{}
	field := &widget.Field{Label: t.label(), Kind: widget.TableRow, Optional: "ends it"}
	s.Ask(&widget.Form{
		Title: "Readings, one a line, typed or pasted from a spreadsheet",
		Notes: []string{
			"3 4 8.2 reads the top, 3 4 - 0.4 the base, 3 4 8.2 0.4 both, 3 4 =7.8 a thickness.",
			"A row of names, like x y thick, says what the columns below it hold.",
			fmt.Sprintf("A thickness alone moves the %s; v, outside this table, changes that.", cmp.Or(v.moves, planner.Top)),
		},
		Fields: []*widget.Field{field},
		Repeat: true,
		Done: func(f *widget.Form) error {
			if f.Blank(0) {
				return nil
			}
			cells := widget.Cells(f.Text(0))
			if t.heads(cells) {
				field.Label = t.label()
				return nil
			}
			r, err := t.read(cells)
			if err == nil {
				err = s.Continue("Read a table", func(st planner.Stone) (planner.Stone, error) { return r.put(st, v.moves) })
			}
			if err != nil {
				return widget.Wrong{Field: 0, Err: err}
			}
			t.rows++
			s.Cursor = r.at
			field.Label = t.label()
			return nil
		},
	})
}
