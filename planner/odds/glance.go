package odds

import (
	"container/heap"
	"math"

	"cabwright/geometry"
	"cabwright/planner/search"
)

// glance tells at once about which odds a solid has at a pose: from how its marks grow
// towards its skin, to about a hundredth of a millimetre. Each goroutine has its own.
type glance struct {
	judge  *Judge
	skin   *skin
	fit    search.Candidate
	screen *search.Screen // made when room is asked for
	pose   search.Pose
	placed []geometry.Vec3 // the middles of the skin's first cells
	upTo   []float64       // by slice
	open   cellQueue
}

// openCell is a part of the skin that a mark may touch earlier than known.
type openCell struct {
	bound float64 // not before this
	cell  int32
}

type cellQueue []openCell

func (q cellQueue) Len() int           { return len(q) }
func (q cellQueue) Less(i, k int) bool { return q[i].bound < q[k].bound }
func (q cellQueue) Swap(i, k int)      { q[i], q[k] = q[k], q[i] }
func (q *cellQueue) Push(x any)        { *q = append(*q, x.(openCell)) }
func (q *cellQueue) Pop() any {
	old := *q
	c := old[len(old)-1]
	*q = old[:len(old)-1]
	return c
}

func (j *Judge) newGlance(c search.Candidate) *glance {
	g := &glance{judge: j, skin: newSkin(c.Solid), fit: c, upTo: make([]float64, runOnSlices)}
	g.placed = make([]geometry.Vec3, g.skin.roots)
	return g
}

// lay puts the solid at a pose.
func (g *glance) lay(at search.Pose) {
	g.pose = at
	for i := range g.placed {
		g.placed[i] = at.Place(g.skin.cells[i].at)
	}
}

// room is about how much more than its allowance the pose keeps of the skin and the sure
// marks, mm; below stop it may be any value below stop.
func (g *glance) room(stop float64) float64 {
	if g.screen == nil {
		g.screen = search.NewScreen(g.fit)
	}
	g.screen.Lay(g.pose)
	return g.screen.About(g.judge.sure, stop)
}

// firm returns by how much, mm of its depth or height, a sure mark is in the way; 0: none is.
func (g *glance) firm(margin float64) (lacks float64) {
	for i := range g.judge.firm {
		m := &g.judge.firm[i]
		if v, _ := g.first(m, 0, margin); v <= m.worst {
			lacks += math.Max(1e-9, math.Min(mostLacking, m.worst-v))
		}
	}
	return lacks
}

// factor returns about the odds that one question leaves, and by how much, mm, it lacks
// the least.
func (g *glance) factor(k int, margin float64) (factor, lacks float64) {
	q, grown := &g.judge.questions[k], &g.judge.growths[k]
	upTo := g.upTo[:len(q.slices)]
	for s := int32(len(upTo)) - 1; s >= 0; {
		// What decides for a run-on does so for all from where on it is there.
		v, from := g.first(grown, s, margin)
		for ; s >= from; s-- {
			upTo[s] = v
		}
	}
	return q.leaves(upTo, grown.worst)
}

// first returns the value at which a mark first touches the solid, at the slices of the
// run-on up to one, and the first of these of which that is so. A cell of the skin is
// untouched while its middle keeps as much more as the cell reaches; it is divided where
// that says much less than the middle itself, as where a mark grazes the stone. From the
// first point touched the way is downhill.
func (g *glance) first(m *growth, slice int32, margin float64) (value float64, from int32) {
	value = math.Inf(1)
	if at, is := m.witness(); is && g.skin.holds(g.pose.Local(at)) {
		value, from = m.contact(at, margin, slice)
	}
	g.open = g.open[:0]
	decides := int32(-1)
	ask := func(cell int32, at geometry.Vec3) {
		reach := g.skin.cells[cell].reach
		bound, _ := m.contact(at, reach+margin, slice)
		if bound > m.worst || bound >= value {
			return
		}
		v, s := m.contact(at, margin, slice)
		if v < value {
			value, from, decides = v, s, cell
		}
		if v-bound > steep*reach && reach > leastCell {
			g.open = append(g.open, openCell{bound, cell})
		}
	}
	for i, at := range g.placed {
		ask(int32(i), at)
	}
	heap.Init(&g.open)
	for len(g.open) > 0 && g.open[0].bound < value {
		cell := heap.Pop(&g.open).(openCell).cell
		parts := g.skin.partsOf(cell)
		for i := parts; i < parts+4; i++ {
			n := len(g.open)
			ask(i, g.pose.Place(g.skin.cells[i].at))
			if len(g.open) > n {
				heap.Fix(&g.open, n)
			}
		}
	}
	if decides < 0 {
		return value, from
	}
	return g.downhill(m, slice, margin, decides, value, from)
}

// Where a number changes by more than steep times the way over a cell, its middle tells
// little of the rest; but not of a cell that reaches no further than the least, mm.
const (
	steep     = 1.5
	leastCell = 0.04
)

// downhill looks about a cell for the place that a mark touches first: a compass search.
func (g *glance) downhill(
	m *growth, slice int32, margin float64, cell int32, value float64, from int32,
) (float64, int32) {
	c := &g.skin.cells[cell]
	u, v, du, dv := c.u, c.v, c.halfU, c.halfV
	for range 5 {
		for _, d := range [4][2]float64{{du, 0}, {-du, 0}, {0, dv}, {0, -dv}} {
			nu, nv := u+d[0], math.Max(0, math.Min(3, v+d[1]))
			if at, s := m.contact(g.pose.Place(g.skin.at(nu, nv)), margin, slice); at < value {
				value, from, u, v = at, s, nu, nv
			}
		}
		du, dv = du/2, dv/2
	}
	return value, from
}
