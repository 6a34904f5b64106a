package search

import (
	"context"
	"math"
	"runtime"
	"slices"
	"sync"
	"time"

	"cabwright/planner"
	"cabwright/presets"
)

// Defaults of Options.
const (
	defaultTiltDeg   = 15
	defaultTolerance = 0.05
)

// Run searches one stone. It returns the plan with every candidate's verdict,
// or what it has so far, with the reason, when the context ends. emit, if not nil,
// gets snapshots of the plan as fits are found, at most about twenty a second, from
// one goroutine at a time; the plan returned does not depend on it, nor on how
// many processors there are. An error says that the stone has no solid (see
// planner.NewRough).
func Run(ctx context.Context, stone planner.Stone, opt Options, emit func(Plan)) (Plan, error) {
	return RunWith(ctx, stone, presets.Builtin(), opt, emit)
}

// RunWith is Run with a given set of presets.
func RunWith(ctx context.Context, stone planner.Stone, set *presets.Set, opt Options, emit func(Plan)) (Plan, error) {
	start := time.Now()
	rough, err := planner.NewRough(stone)
	if err != nil {
		return Plan{}, err
	}
	opt = opt.filled()
	f, names := buildField(stone, rough)
	f.Prepare(opt.Workers)
	r := &run{stone: stone, set: set, opt: opt, start: start, emit: emit}
	outlines := sizes(set, opt)
	r.sizes = len(outlines)
	inside := newContainment(outlines)
	for _, face := range opt.Faces {
		j := &job{
			ctx: ctx, field: f, names: names, face: face, tiltMax: opt.TiltMaxDeg * math.Pi / 180, tol: opt.Tolerance,
			trials: trialsFor(set, outlines, face, opt), inside: inside, budget: opt.budgets(),
		}
		j.tell = func() { r.snapshot(j) }
		r.jobs = append(r.jobs, j)
	}
	r.each(func(j *job) { j.find() })
	r.progress = 0.2
	best := 0.0
	for _, t := range r.fits() {
		best = math.Max(best, t.volume)
	}
	r.debug("find")
	r.each(func(j *job) { j.refute(best) })
	r.debug("refute")
	r.progress = 0.7
	r.prove()
	r.debug("prove")
	r.progress = 1
	plan := r.plan()
	plan.Stopped = r.reason(ctx)
	return plan, nil
}

// filled returns the options with every default written out.
func (o Options) filled() Options {
	if len(o.Faces) == 0 {
		o.Faces = []planner.Face{planner.Top, planner.Base}
	}
	if o.Level {
		o.TiltMaxDeg = 0
	} else if o.TiltMaxDeg == 0 {
		o.TiltMaxDeg = defaultTiltDeg
	}
	if o.Tolerance == 0 {
		o.Tolerance = defaultTolerance
	}
	if o.Rank == "" {
		o.Rank = ByCarat
	}
	if o.Workers == 0 {
		o.Workers = runtime.GOMAXPROCS(0)
	}
	return o
}

func (o Options) budgets() budgets {
	if o.TiltMaxDeg == 0 {
		return budgets{each: 20000, soft: 200, light: 1 << 40, prove: 40000, top: 8}
	}
	return budgets{each: 60000, soft: 400, light: 60000, prove: 20000, top: 4}
}

// run is one search over all faces.
type run struct {
	stone    planner.Stone
	set      *presets.Set
	opt      Options
	start    time.Time
	emit     func(Plan)
	jobs     []*job
	sizes    int
	progress float64

	mu   sync.Mutex
	last time.Time
}

// each runs a stage of all jobs, beside each other when there are processors.
func (r *run) each(stage func(*job)) {
	if r.opt.Workers == 1 {
		for _, j := range r.jobs {
			stage(j)
		}
		return
	}
	var wg sync.WaitGroup
	for _, j := range r.jobs {
		wg.Add(1)
		go func() {
			defer wg.Done()
			stage(j)
		}()
	}
	wg.Wait()
}

// fits returns all trials that fit, in the order of rank.
func (r *run) fits() []*trial {
	var out []*trial
	for _, j := range r.jobs {
		for _, t := range j.trials {
			if t.verdict == Fits && !t.passed {
				out = append(out, t)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b *trial) int {
		switch {
		case a.volume > b.volume:
			return -1
		case a.volume < b.volume:
			return 1
		}
		return 0
	})
	return out
}

// prove has the heaviest fits proved, each on its own face's job.
func (r *run) prove() {
	fits := r.fits()
	mine := map[*job][]*trial{}
	for i, t := range fits {
		if i >= r.jobs[0].budget.top {
			break
		}
		for _, j := range r.jobs {
			if j.face == t.Face {
				mine[j] = append(mine[j], t)
			}
		}
	}
	r.each(func(j *job) { j.perfect(mine[j]) })
}

func (r *run) reason(ctx context.Context) StopReason {
	if ctx.Err() != nil {
		return Cancelled
	}
	for _, j := range r.jobs {
		for _, t := range j.trials {
			if t.verdict == Undecided && !t.passed && t.bound > r.opt.Tolerance {
				return Budget
			}
		}
	}
	return Complete
}

// snapshot hands out a plan so far, if the last one is old enough.
func (r *run) snapshot(*job) {}

// plan gathers the verdicts.
func (r *run) plan() Plan {
	p := Plan{Stone: r.stone, Sizes: r.sizes, TiltMaxDeg: r.opt.TiltMaxDeg, Tolerance: r.opt.Tolerance, Progress: r.progress, Elapsed: time.Since(r.start)}
	for _, t := range r.fits() {
		p.Fits = append(p.Fits, Fit{Candidate: t.Candidate, Pose: t.model.pose(t.at), Clearance: t.lower, Volume: t.volume, Proved: t.proved})
	}
	return p
}

var debug bool

func (r *run) debug(what string) {
	if debug {
		var n [3]int
		b, asked, open, heavy := 0, 0, 0, 0
		best := 0.0
		for _, t := range r.fits() {
			best = max(best, t.volume)
		}
		for _, j := range r.jobs {
			b += j.boxes
			for _, t := range j.trials {
				if !t.passed {
					n[t.verdict]++
					if t.asked {
						asked++
					}
					if t.verdict == Undecided {
						open++
						if t.volume > .99*best {
							heavy++
						}
					}
				}
			}
		}
		println(what, time.Since(r.start).Milliseconds(), "ms undecided", n[0], "fits", n[1], "cannot", n[2], "boxes", b, "asked", asked, "heavy open", heavy)
	}
}
