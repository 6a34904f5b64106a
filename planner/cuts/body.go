package cuts

import (
	"math"
	"sync"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/presets"
)

// Body is a rough made ready to be cut. It is safe for use by several
// goroutines.
type Body struct {
	Stone planner.Stone
	Rough *planner.Rough
	SG    float64

	step    float64 // of the lattice, mm
	columns []column
	index   [][]int // of the lattice's columns by row; -1: none
	rim     []column
	sheets  []sheet
	hollows []hollow
}

// column is what of the rough lies over one place.
type column struct{ x, y, low, high float64 }

// latticeStep is how finely a rough is looked at where no closed form is at
// hand, mm: lumps, the reach of a piece, what lies in it. An offcut of 1 mm3
// has dozens of columns. Larger roughs take a coarser one, some 20,000 columns.
const (
	latticeStep = 0.2
	latticeMost = 20000
	rimStep     = 0.1
)

// NewBody makes a stone ready. The error is planner.NewRough's.
func NewBody(s planner.Stone, set *presets.Set) (*Body, error) {
	rough, err := planner.NewRough(s)
	if err != nil {
		return nil, err
	}
	b := &Body{Stone: s, Rough: rough, SG: planner.GravityOf(s, set, rough.Volume()).Likely}
	b.lay(math.Max(latticeStep, math.Sqrt(geometry.Area(rough.Outline)/latticeMost)))
	b.layRim()
	low, high := rough.Heights()
	for _, c := range s.Cracks {
		sheet := newSheet(c, rough, high-low)
		sheet.stretches = sync.OnceValue(func() []stretch { return b.stretchesOf(&sheet) })
		b.sheets = append(b.sheets, sheet)
	}
	for _, p := range s.Pockets {
		b.hollows = append(b.hollows, hollow{p.ID, sync.OnceValue(func() []column { return b.columnsOf(&p) })})
	}
	return b, nil
}

// lay fills the lattice with columns.
func (b *Body) lay(step float64) {
	lo, hi := geometry.Bounds(b.Rough.Outline)
	b.step = step
	var buf []float64
	for y := lo.Y + b.step/2; y < hi.Y; y += b.step {
		row := make([]int, int((hi.X-lo.X)/b.step)+1)
		for i := range row {
			row[i] = -1
		}
		buf = geometry.Crossings(b.Rough.Outline, y, buf)
		for k := 0; k+1 < len(buf); k += 2 {
			for i := int(math.Ceil((buf[k] - lo.X) / b.step)); i < len(row); i++ {
				x := lo.X + float64(i)*b.step
				if x > buf[k+1] {
					break
				}
				if c := b.at(x, y); c.high > c.low {
					row[i] = len(b.columns)
					b.columns = append(b.columns, c)
				}
			}
		}
		b.index = append(b.index, row)
	}
}

// layRim fills the rim with columns.
func (b *Body) layRim() {
	n := len(b.Rough.Outline)
	for i, p := range b.Rough.Outline {
		q := b.Rough.Outline[(i+1)%n]
		parts := math.Ceil(q.Sub(p).Norm()/math.Max(rimStep, b.step/2)) + 1
		for k := 0.0; k < parts; k++ {
			at := p.Add(q.Sub(p).Scale(k / parts))
			if c := b.at(at.X, at.Y); c.high > c.low {
				b.rim = append(b.rim, c)
			}
		}
	}
}

func (b *Body) at(x, y float64) column {
	return column{x: x, y: y, low: b.Rough.Base(x, y), high: b.Rough.Top(x, y)}
}

// volumeOf is the volume of the part of the rough within the sides, from the
// lattice: for choosing, to about a hundredth. Volumes gives the exact ones.
func (b *Body) volumeOf(sides []half) float64 {
	sum := 0.0
	for i := range b.columns {
		if low, high := clipAll(&b.columns[i], sides); high > low {
			sum += high - low
		}
	}
	return sum * b.step * b.step
}

// sparse returns every ninth column of a piece: for comparing many cuts of it.
func (b *Body) sparse(sides []half) []column {
	var out []column
	for y := 1; y < len(b.index); y += 3 {
		for x := 1; x < len(b.index[y]); x += 3 {
			if i := b.index[y][x]; i >= 0 {
				c := b.columns[i]
				if c.low, c.high = clipAll(&c, sides); c.high > c.low {
					out = append(out, c)
				}
			}
		}
	}
	return out
}

// roughlyBeyond is volumeOf the part of a sparse piece on one side more.
func (b *Body) roughlyBeyond(piece []column, h half) float64 {
	sum := 0.0
	for i := range piece {
		c := &piece[i]
		if low, high := h.clip(c.x, c.y, c.low, c.high); high > low {
			sum += high - low
		}
	}
	return sum * 9 * b.step * b.step
}

// roughly is volumeOf from every ninth column.
func (b *Body) roughly(sides []half) float64 {
	sum := 0.0
	for _, c := range b.sparse(sides) {
		sum += c.high - c.low
	}
	return sum * 9 * b.step * b.step
}

func clipAll(c *column, sides []half) (low, high float64) {
	low, high = c.low, c.high
	for _, h := range sides {
		if low, high = h.clip(c.x, c.y, low, high); high <= low {
			return low, low
		}
	}
	return low, high
}

// Extent returns the least and the largest n . p over the points p of a piece,
// both infinite when there are none.
func (b *Body) extent(sides []half, n geometry.Vec3) (least, most float64) {
	least, most = math.Inf(1), math.Inf(-1)
	see := func(c *column) {
		low, high := clipAll(c, sides)
		if high <= low {
			return
		}
		flat := n.X*c.x + n.Y*c.y
		least = min(least, flat+min(n.Z*low, n.Z*high))
		most = max(most, flat+max(n.Z*low, n.Z*high))
	}
	for i := range b.columns {
		see(&b.columns[i])
	}
	for i := range b.rim {
		see(&b.rim[i])
	}
	for _, p := range b.corners(sides) {
		// A hair inside, so that the side it lies on does not cut it off.
		c := b.at(p.X, p.Y)
		see(&c)
	}
	return least, most
}

// corners returns where the upright sides meet the outline, and a hair beside
// that: corners of the piece in plan.
func (b *Body) corners(sides []half) []geometry.Vec2 {
	var out []geometry.Vec2
	n := len(b.Rough.Outline)
	for _, h := range sides {
		if math.Abs(h.normal.Z) >= upright {
			continue
		}
		in := h.normal.XY()
		for i, p := range b.Rough.Outline {
			q := b.Rough.Outline[(i+1)%n]
			from, to := in.Dot(p)-h.from, in.Dot(q)-h.from
			if (from > 0) == (to > 0) {
				continue
			}
			const hair = 1e-9
			out = append(out, p.Add(q.Sub(p).Scale(from/(from-to))).Add(in.Scale(hair)))
		}
	}
	return out
}

// span is the length of a piece in a direction; 0 when nothing is left.
func (b *Body) span(sides []half, n geometry.Vec3) float64 {
	least, most := b.extent(sides, n)
	return math.Max(0, most-least)
}
