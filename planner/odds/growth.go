package odds

import (
	"math"
	"slices"

	"cabwright/geometry"
	"cabwright/planner"
)

// growth is what one question asks about as a number that grows from harmless to worst:
// a depth, a run-on, the height of a top, minus the height of a bottom; of a mark that
// may not be there the depth or height that it has.
type growth struct {
	growing
	worst float64
}

// layDoubt is by how much, mm, a mark in closed form may stray from the exact one unseen.
const layDoubt = 0.003

// growthOf lays the mark of a question out to grow.
func (j *Judge) growthOf(q question) growth {
	a := j.stone.Allowances
	if i := slices.IndexFunc(j.stone.Cracks, func(k planner.Crack) bool { return k.ID == q.ID }); i >= 0 {
		k := j.stone.Cracks[i]
		allowance := a.Crack
		if k.Sealed {
			allowance = a.SealedCrack
		}
		return j.crackGrowth(q, k, allowance-fine+layDoubt)
	}
	i := slices.IndexFunc(j.stone.Pockets, func(p planner.Pocket) bool { return p.ID == q.ID })
	return j.pocketGrowth(q, j.stone.Pockets[i], a.Pocket-fine+layDoubt)
}

// beyondFaces is by how much, mm, a mark that goes right through is taken to reach beyond
// the faces, which are not level.
const beyondFaces = 5

func (j *Judge) crackGrowth(q question, k planner.Crack, within float64) growth {
	l := newLayer(j.rough, k, within)
	low, high := j.rough.Heights()
	deep := k.Depth
	if k.Through {
		deep = high - low + beyondFaces
	}
	if q.What == RunOn {
		for i := range len(k.Path) - 1 {
			// In the way however short the run-on is; the more so the further in.
			l.deepening(k.Path[i], k.Path[i+1], deep, -deep, 0)
		}
		if to := planner.RunOn(k.Path, q.Range.Most); len(to) > len(k.Path) {
			l.lengthening(to[1], to[0], deep)
			l.lengthening(to[len(to)-2], to[len(to)-1], deep)
		}
		return growth{l.out, q.Range.Most}
	}
	if q.What == Depth {
		deep = q.Range.Most
	}
	var before []geometry.Vec2
	for s, part := range q.slices {
		runOn := k.RunOn
		if !math.IsNaN(part.runOn) {
			runOn = part.runOn
		}
		path := planner.RunOn(k.Path, runOn)
		if s == 0 {
			for i := range len(path) - 1 {
				l.deepening(path[i], path[i+1], deep, 0, 0)
			}
		} else {
			l.deepening(path[0], before[0], deep, 0, s)
			l.deepening(before[len(before)-1], path[len(path)-1], deep, 0, s)
		}
		before = path
	}
	return growth{l.out, deep}
}

func (j *Judge) pocketGrowth(q question, p planner.Pocket, within float64) growth {
	poly := geometry.CounterClockwise(p.Outline)
	low, high := j.rough.Heights()
	at := noBox()
	for _, c := range poly {
		at.add(geometry.Vec3{X: c.X, Y: c.Y, Z: low - beyondFaces}, within)
		at.add(geometry.Vec3{X: c.X, Y: c.Y, Z: high + beyondFaces}, within)
	}
	switch p.Face {
	case planner.Top, planner.Base:
		c := &pit{rough: j.rough, face: p.Face, poly: poly, sign: 1, within: within, slope: j.slopeUnder(p), at: at}
		if p.Face == planner.Base {
			c.sign = -1
		}
		if q.What == Depth {
			return growth{c, q.Range.Most}
		}
		return growth{c, p.Depth}
	case planner.Inside:
		c := &hidden{poly: poly, low: p.Low, high: p.High, bottom: q.What == Bottom, within: within, at: at}
		switch q.What {
		case Top:
			return growth{c, q.Range.Most}
		case Bottom:
			return growth{c, -q.Range.Least}
		}
		return growth{c, p.High}
	default:
		low, high = low-beyondFaces, high+beyondFaces
		return growth{&hidden{poly: poly, low: low, high: high, within: within, at: at}, high}
	}
}

// slopeUnder is how much longer than the way straight off it the way straight down from
// the face is, about, where a pocket is.
func (j *Judge) slopeUnder(p planner.Pocket) float64 {
	const step = 0.1
	lo, hi := geometry.Bounds(p.Outline)
	at := lo.Add(hi).Scale(0.5)
	rise := func(dx, dy float64) float64 {
		return (j.rough.Height(p.Face, at.X+dx, at.Y+dy) - j.rough.Height(p.Face, at.X-dx, at.Y-dy)) / (2 * step)
	}
	return math.Hypot(1, math.Hypot(rise(step, 0), rise(0, step)))
}

// mostLacking is the most, mm, that counts as lacking: far from anything.
const mostLacking = 10

// leaves returns the odds that a question leaves where a mark may grow up to a value of
// each slice, and how much, mm, that lacks the least there is, on average.
func (q *question) leaves(upTo []float64, worst float64) (factor, lacks float64) {
	share := 0.0
	for s, part := range q.slices {
		switch v := upTo[s]; {
		case v > worst:
			share += part.weight
		case q.What == There:
			lacks += part.weight * math.Min(mostLacking, worst-v)
		case q.What == Bottom:
			share += part.weight * (1 - q.Range.Below(-v))
			lacks += part.weight * math.Min(mostLacking, math.Max(0, -v-q.Range.Most))
		default:
			share += part.weight * q.Range.Below(v)
			lacks += part.weight * math.Min(mostLacking, math.Max(0, q.Range.Least-v))
		}
	}
	return 1 - q.Chance + q.Chance*math.Min(1, share), lacks
}
