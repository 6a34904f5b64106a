package odds

import (
	"context"
	"math"
	"slices"

	"cabwright/geometry"
	"cabwright/planner/search"
)

// How a best place is looked for. The steps are what trials needed until climbs
// from other starts ended within 0.05 of the same odds; they grow finer from broad to
// fine, as the odds have many ridges and no slope where a mark is out of the way.
const (
	broadStep  = 1.5  // mm: a step as long as the widest first guess is off
	fineStep   = 0.02 // mm: the grid of the limits
	wideStarts = 80   // poses at random about the starts
)

// rounds are how many steps are made from how many of the best spots, the first steps of
// which are how broad, mm.
var rounds = []struct {
	spots, steps int
	broad        float64
}{{24, 25, broadStep / 2}, {6, 50, broadStep / 2}, {2, 120, broadStep / 4}}

// slight odds are not worth the last round.
const slight = 0.02

// Best looks for the place of one solid with the best odds. It starts from poses
// of the plans at hand and from others about them, and goes on in random local steps with
// a fixed seed: the same question gets the same answer. Steps are judged at a glance, what
// they end at on the exact shapes. tilt is the largest allowed, degrees. It reports
// false when no start keeps the skin and the sure marks clear.
func (j *Judge) Best(ctx context.Context, f search.Fit, starts []search.Pose, tilt float64) (Place, bool) {
	c := j.newClimber(f, tilt)
	found := c.begin(ctx, starts)
	if len(found) == 0 {
		return Place{}, false
	}
	for n, r := range rounds {
		if n == len(rounds)-1 && found[0].odds < slight {
			break // nobody bets on it, a little better or not
		}
		found = found[:min(r.spots, len(found))]
		for i := range found {
			found[i] = c.walk(ctx, found[i], r.steps, r.broad)
		}
		sortSpots(found)
	}
	return c.confirmed(ctx, found)
}

// confirmed judges what the climbs ended at on the exact shapes and returns the best.
func (c *climber) confirmed(ctx context.Context, found []spot) (best Place, ok bool) {
	j, f := c.judge, c.fit
	for _, s := range found {
		if ok && best.Odds >= s.odds-closeEnough {
			break
		}
		for c.margin = 0; c.margin <= mostDoubt; {
			f.Pose = s.pose
			p, keeps := j.Place(f)
			keeps = keeps && !j.onEdge(p)
			if keeps && (!ok || p.Odds > best.Odds) {
				best, ok = p, true
			}
			if keeps && p.Odds >= s.odds-closeEnough {
				break
			}
			c.margin += roomDoubt
			s = c.walk(ctx, c.into(c.judgeAt(s.pose, math.Inf(-1))), stepsBack, 2*fineStep)
		}
	}
	if ok && best.Pose != c.fit.Pose {
		kept := j.sure.Clearance(f.Solid, best.Pose)
		best.Clearance, best.LimitedBy, best.Proved = kept.Clearance, kept.LimitedBy, false
		best.Colour = search.ColourShare(j.rough, j.stone, f.Candidate, best.Pose)
	}
	return best, ok
}

// closeEnough is by how much odds at a glance may be off.
const closeEnough = 0.01

// stepsBack are made where the exact shapes have less room than was seen, with more margin.
const stepsBack = 30

// The samples of a solid may see some more room than it has, mm: in such steps, and at the
// most, it is asked for as much more.
const (
	roomDoubt = 0.005
	mostDoubt = 0.03
)

// spot is a pose on the way, with its odds, and the score that it is climbed by: the
// product of the factors, each a little larger, so that of two places without odds
// the one that fails by fewer marks is better, or by less. One that breaks the skin has
// the room that it lacks as its score, below 0.
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
	*stepper
	judge  *Judge
	fit    search.Fit
	margin float64 // mm of room that a pose is to have
	glance *glance
	order  []int // questions, the one that failed last first
}

func (j *Judge) newClimber(f search.Fit, tilt float64) *climber {
	c := &climber{stepper: newStepper(f, tilt), judge: j, fit: f, glance: j.newGlance(f.Candidate)}
	for k := range j.questions {
		c.order = append(c.order, k)
	}
	return c
}

// begin returns the spots to climb from: the best of the starts and of poses about them,
// every other one turned by half.
func (c *climber) begin(ctx context.Context, starts []search.Pose) []spot {
	var found []spot
	for _, s := range starts {
		if at := c.into(c.judgeAt(s, math.Inf(-1))); at.score >= 0 {
			found = append(found, at)
		}
	}
	for n := range wideStarts {
		if ctx.Err() != nil {
			break
		}
		about := starts[n%len(starts)]
		about.Axes = geometry.RotZ(math.Pi * float64(n/len(starts)%2)).Mul(about.Axes)
		at := c.into(c.judgeAt(c.moved(about, broadStep), math.Inf(-1)))
		if at.score >= 0 {
			found = append(found, at)
		}
	}
	sortSpots(found)
	return found[:min(rounds[0].spots, len(found))]
}

// A pose that breaks the skin is given so many steps of at most about this size, mm, to
// find room.
const (
	stepsInto = 30
	mostInto  = 0.3
)

// into moves a spot that breaks the skin until it does not, if it can.
func (c *climber) into(s spot) spot {
	if s.score >= 0 {
		s = c.judgeAt(s.pose, math.Inf(-1))
	}
	for n := 0; n < stepsInto && s.score < 0; n++ {
		size := math.Min(mostInto, math.Max(fineStep, -s.score)) * math.Exp2(c.rng.NormFloat64())
		if next := c.judgeAt(c.moved(s.pose, size), s.score); next.score > s.score {
			s = next
		}
	}
	return s
}

// almost is what each factor is larger by in a score: a chance that nobody notices.
const almost = 1e-4

// judgeAt judges a pose, or as much of it as is needed to know that its score is no
// better than the one to beat.
func (c *climber) judgeAt(pose search.Pose, beat float64) spot {
	g := c.glance
	g.lay(pose)
	if room := g.room(c.margin + math.Min(0, beat)); room < c.margin {
		return spot{pose: pose, score: room - c.margin}
	}
	if lacks := g.firm(c.margin); lacks > 0 {
		return spot{pose: pose, score: -lacks / mostLacking}
	}
	s := spot{pose: pose, odds: 1, score: 1}
	for i, k := range c.order {
		factor, lacks := g.factor(k, c.margin)
		s.odds *= factor
		s.score *= (factor + almost/(1+lacks)) / (1 + almost)
		if s.score <= beat {
			c.order = slices.Insert(slices.Delete(c.order, i, i+1), 0, k)
			return s
		}
	}
	return s
}

// walk makes random steps, from a broad size, mm, to a fine one, and takes each that
// betters the score.
func (c *climber) walk(ctx context.Context, at spot, steps int, broad float64) spot {
	for n := range steps {
		if at.odds == 1 || ctx.Err() != nil {
			break
		}
		size := broad * math.Pow(fineStep/broad, float64(n)/float64(steps))
		// Some steps are far longer or shorter than their turn: ridges are of any width.
		size *= math.Exp2(2 * c.rng.NormFloat64())
		if s := c.judgeAt(c.moved(at.pose, math.Min(size, broad)), at.score); s.score > at.score {
			at = s
		}
	}
	return at
}
