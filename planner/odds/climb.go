package odds

import (
	"context"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"slices"

	"cabwright/geometry"
	"cabwright/planner/search"
)

// How a best place is looked for. The steps are what trials needed until climbs
// from other starts ended within 0.05 of the same odds; they halve from broad to
// fine, as the odds have many ridges and no slope where a mark is out of the way.
const (
	broadStep  = 1.5  // mm: a step as long as the widest first guess is off
	fineStep   = 0.02 // mm: the grid of the limits
	firstSteps = 60   // from each of the best starts
	lastSteps  = 240  // from the best of those
	bestStarts = 6
)

// Best looks for the place of one solid with the best odds. It starts from poses
// of the plans at hand, settles each on the stone with its marks at several depths
// and goes on in random local steps on the exact odds, with a fixed seed: the same
// question gets the same answer. tilt is the largest allowed, degrees. It reports
// false when no start keeps the skin and the sure marks clear.
func (j *Judge) Best(ctx context.Context, f search.Fit, starts []search.Pose, tilt float64) (Place, bool) {
	c := j.newClimber(f, tilt)
	var found []spot
	for _, pose := range c.spread(ctx, starts) {
		if s, ok := c.judgeAt(pose, 0); ok {
			found = append(found, s)
		}
	}
	if len(found) == 0 {
		return Place{}, false
	}
	sortSpots(found)
	found = found[:min(bestStarts, len(found))]
	for i := range found {
		found[i] = c.walk(ctx, found[i], firstSteps)
	}
	sortSpots(found)
	best := c.walk(ctx, found[0], lastSteps)
	if f.Pose != best.pose {
		kept := j.sure.Clearance(f.Solid, best.pose)
		f.Pose, f.Clearance, f.LimitedBy, f.Proved = best.pose, kept.Clearance, kept.LimitedBy, false
		f.Colour = search.ColourShare(j.rough, j.stone, f.Candidate, f.Pose)
	}
	return j.Place(f)
}

// spot is a pose on the way, with its odds, and the score that it is climbed by: the
// product of the factors, each a little larger, so that of two places without odds
// the one that fails by fewer marks is better.
type spot struct {
	pose  search.Pose
	odds  float64
	score float64
}

func sortSpots(s []spot) {
	slices.SortStableFunc(s, func(a, b spot) int {
		switch {
		case a.score > b.score:
			return -1
		case a.score < b.score:
			return 1
		}
		return 0
	})
}

// climber looks for the best place of one solid.
type climber struct {
	judge *Judge
	fit   search.Fit
	tilt  float64 // largest, radians
	arm   float64 // mm: what a turn of one radian moves
	rng   *rand.Rand
	gauge *gauge
	order []int // questions, the one that failed last first
}

func (j *Judge) newClimber(f search.Fit, tilt float64) *climber {
	c := &climber{judge: j, fit: f, tilt: tilt * math.Pi / 180, gauge: j.newGauge(f.Candidate)}
	c.rng = rand.New(rand.NewPCG(1, seedOf(f.Candidate)))
	c.arm = math.Max(1, f.Solid.Outline.Length/2)
	for k := range j.questions {
		c.order = append(c.order, k)
	}
	return c
}

// settleLevels are the depths of the marks at which starts are settled: deep ones,
// as the marks at their likely depth are what the plan's own poses are best for.
var settleLevels = []float64{1, 0.8, 0.6, 0.3, 0}

// spread returns the starts and where they settle with the marks at several
// depths.
func (c *climber) spread(ctx context.Context, starts []search.Pose) []search.Pose {
	out := slices.Clone(starts)
	for _, level := range settleLevels {
		site := c.judge.levelSite(level)
		for _, s := range starts {
			if ctx.Err() != nil {
				return out
			}
			settled, _ := site.Improve(c.fit.Candidate, s, c.tilt*180/math.Pi)
			out = append(out, settled)
		}
	}
	return append(out, c.wide(ctx, starts)...)
}

// wideStarts is how many poses at random about each start are settled as well, every
// other one turned by half: places that no settling from the start itself leads to.
const wideStarts = 6

// wide returns where poses about the starts settle, with the marks at about their likely
// depth.
func (c *climber) wide(ctx context.Context, starts []search.Pose) (out []search.Pose) {
	site := c.judge.levelSite(0.5)
	for _, s := range starts {
		for n := range wideStarts {
			if ctx.Err() != nil {
				return out
			}
			about := s
			about.Axes = geometry.RotZ(math.Pi * float64(n%2)).Mul(s.Axes)
			settled, _ := site.Improve(c.fit.Candidate, c.moved(about, broadStep/2), c.tilt*180/math.Pi)
			out = append(out, settled)
		}
	}
	return out
}

// almost is what each factor is larger by in a score: a chance that nobody notices.
const almost = 1e-4

// judgeAt returns the odds of a pose, or false as soon as its score is known to be no
// better than the one to beat. The samples are asked first, of each mark in turn, the one
// that failed last before the others: few poses are worth the exact shapes.
func (c *climber) judgeAt(pose search.Pose, beat float64) (spot, bool) {
	j, g := c.judge, c.gauge
	g.lay(pose)
	most := math.Pow(1+almost, float64(len(c.order)))
	for i, k := range c.order {
		if most *= (g.atMost(k) + almost) / (1 + almost); most <= beat {
			c.order = slices.Insert(slices.Delete(c.order, i, i+1), 0, k)
			return spot{}, false
		}
	}
	if g.screen.About(j.sure, -skinDoubt) < -skinDoubt || !j.keepsSure(c.fit.Solid, pose) {
		return spot{}, false
	}
	s := spot{pose: pose, odds: 1, score: 1}
	for _, k := range c.order {
		hoped := g.atMost(k) + almost
		reaches, ok := g.reaches(k, beat*hoped/most-almost)
		if !ok {
			return spot{}, false
		}
		l := j.questions[k].limit(reaches)
		s.odds *= l.Factor
		s.score *= l.Factor + almost
		most *= (l.Factor + almost) / hoped
		if most <= beat {
			return spot{}, false
		}
	}
	return s, true
}

// skinDoubt is by how much the samples may misjudge what a pose keeps of the skin, mm.
const skinDoubt = 0.01

// walk makes random steps, from broad to fine, and takes each that betters the odds.
func (c *climber) walk(ctx context.Context, at spot, steps int) spot {
	for n := range steps {
		if at.odds == 1 || ctx.Err() != nil {
			break
		}
		size := broadStep * math.Pow(fineStep/broadStep, float64(n)/float64(steps))
		// Some steps are far longer or shorter than their turn: ridges are of any width.
		size *= math.Exp2(2 * c.rng.NormFloat64())
		if s, ok := c.judgeAt(c.moved(at.pose, math.Min(size, broadStep)), at.score); ok && s.score > at.score {
			at = s
		}
	}
	return at
}

// moved returns a pose a random step away, of about the given size in mm, with a
// turn and a tilt that move the ends of the stone by as much.
func (c *climber) moved(p search.Pose, size float64) search.Pose {
	g := func() float64 { return size * c.rng.NormFloat64() / math.Sqrt(3) }
	p.Origin = p.Origin.Add(geometry.Vec3{X: g(), Y: g(), Z: g() / 2})
	turn, lean, toward := g()/c.arm, g()/c.arm, c.rng.Float64()*2*math.Pi
	p.Axes = geometry.RotZ(turn).Mul(p.Axes)
	if c.tilt > 0 {
		tilted := geometry.RotZ(toward).Mul(geometry.RotX(lean)).Mul(geometry.RotZ(-toward)).Mul(p.Axes)
		if leanOf(tilted) <= c.tilt {
			p.Axes = tilted
		}
	}
	return p
}

// leanOf is the angle between the dome's axis and the vertical, radians.
func leanOf(axes geometry.Mat3) float64 {
	return math.Atan2(math.Hypot(axes.W.X, axes.W.Y), math.Abs(axes.W.Z))
}

// seedOf makes the walk of each solid its own.
func seedOf(c search.Candidate) uint64 {
	h := fnv.New64a()
	o := c.Solid.Outline
	for _, v := range []float64{o.Length, o.Width, c.Solid.Height(), c.Solid.BackDepth()} {
		var b [8]byte
		for i := range b {
			b[i] = byte(math.Float64bits(v) >> (8 * i))
		}
		h.Write(b[:])
	}
	h.Write([]byte(o.Shape + string(c.Face)))
	return h.Sum64()
}

// Moved returns how far the middle of a stone lies from where it was, mm, and by
// how many degrees it is turned or tilted.
func Moved(from, to search.Pose) (mm, degrees float64) {
	mm = to.Origin.Sub(from.Origin).Norm()
	trace := from.Axes.U.Dot(to.Axes.U) + from.Axes.V.Dot(to.Axes.V) + from.Axes.W.Dot(to.Axes.W)
	return mm, math.Acos(math.Max(-1, math.Min(1, (trace-1)/2))) * 180 / math.Pi
}
