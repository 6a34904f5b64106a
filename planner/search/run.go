package search

import (
	"context"
	"math"
	"runtime"
	"slices"
	"sync"
	"time"

	"cabwright/geometry"
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
	f, names := buildField(stone, rough, opt.Cuts)
	f.Prepare(opt.Workers)
	r := &run{stone: stone, set: set, opt: opt, start: start, emit: emit, shown: map[*job]report{}, share: map[*job]float64{}}
	outlines := sizes(set, opt)
	r.sizes = len(outlines)
	inside := newContainment(outlines)
	slots := make(chan struct{}, opt.Workers)
	for _, face := range opt.Faces {
		j := &job{
			ctx: ctx, field: f, names: names, face: face, tiltMax: opt.TiltMaxDeg * math.Pi / 180, tol: opt.Tolerance,
			trials: trialsFor(set, outlines, face, opt), inside: inside, budget: opt.budgets(), slots: slots,
		}
		j.tell = func(share float64) { r.told(j, share) }
		j.report = r.reporter(rough)
		r.jobs = append(r.jobs, j)
	}
	r.stage(0, 0.2, func(j *job) { j.find() })
	best := 0.0
	for _, t := range r.fits() {
		best = max(best, t.volume)
	}
	r.stage(0.2, 0.5, func(j *job) { j.refute(best) })
	r.prove()
	if opt.wantsFreeform() {
		r.stage(0.8, 0.2, func(j *job) { j.freeforms(set, opt.CornerRadius) })
	}
	plan := r.gather(1)
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
	if o.CornerRadius == 0 {
		o.CornerRadius = FreeformRadius
	}
	if o.Rank == "" {
		o.Rank = ByCarat
	}
	if o.Workers <= 0 {
		o.Workers = runtime.GOMAXPROCS(0)
	}
	return o
}

func (o Options) budgets() budgets {
	if o.TiltMaxDeg == 0 {
		return budgets{each: 8000, heavy: 8000, soft: 200, light: 1 << 40, prove: 40000, top: 8}
	}
	return budgets{each: 40000, heavy: 2000, soft: 300, level: 2500, light: 100000, prove: 60000, top: 3}
}

// run is one search over all faces.
type run struct {
	stone planner.Stone
	set   *presets.Set
	opt   Options
	start time.Time
	emit  func(Plan)
	jobs  []*job
	sizes int

	mu          sync.Mutex
	shown       map[*job]report
	last        time.Time
	begun, span float64 // of the stage that runs, as shares of the whole
	share       map[*job]float64
}

// stage runs a stage of all jobs, beside each other when there are processors. It
// takes the given share of the whole.
func (r *run) stage(begun, span float64, stage func(*job)) {
	r.begun, r.span = begun, span
	clear(r.share)
	if r.opt.Workers == 1 {
		for _, j := range r.jobs {
			stage(j)
		}
		return
	}
	geometry.SideBySide(len(r.jobs), func(i int) { stage(r.jobs[i]) })
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
	r.stage(0.7, 0.1, func(j *job) { j.perfect(mine[j]) })
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
