package search

import (
	"context"
	"math"
	"runtime"
	"time"

	"cabwright/geometry"
	"cabwright/geometry/field"
	"cabwright/geometry/outline"
	"cabwright/planner"
	"cabwright/planner/search/internal/bounds"
	"cabwright/planner/search/internal/climbing"
	"cabwright/planner/search/internal/obstacles"
	"cabwright/planner/search/internal/poses"
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
	r := newRun(ctx, stone, rough, set, opt.filled())
	r.start, r.emit = start, emit
	r.all()
	return r.plan(), nil
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

// run is one search over all faces. Its work is done in waves of tasks (see wave):
// between two waves nothing runs, and what was found is shared then.
type run struct {
	ctx      context.Context
	stone    planner.Stone
	set      *presets.Set
	opt      Options
	tiltMax  float64 // radians
	budget   budgets
	field    *field.Field
	names    []string // of the obstacles, by index
	want     float64  // mm: a solid that can keep no more is ruled out
	sizes    int      // calibrated outlines asked about
	inside   *containment
	trials   []*trial // of all faces, heaviest first; freeforms are added as they are found
	siblings map[sibling][]*trial
	deep     []geometry.Vec3 // places with the most clearance, spread out
	boxes    int             // of poses bounded so far
	kept     int             // open boxes of the proofs that wait
	most     float64         // mm3 that no level freeform has more than; 0: not known yet
	pools    map[planner.Face]*climbing.Pool
	ended    map[faceAndBack][]spotOf // where the level freeforms ended that leaning ones begin from

	report   report
	start    time.Time
	emit     func(Plan)
	last     time.Time // of the last snapshot
	stage    string
	done     float64 // share of the whole
	answered bool
}

// sibling names the trials of which only the fullest that fits is reported.
type sibling struct {
	face  planner.Face
	size  int
	sides int
}

func newRun(ctx context.Context, stone planner.Stone, rough *planner.Rough, set *presets.Set, opt Options) *run {
	f, names := obstacles.Build(stone, rough, opt.Cuts)
	if ctx.Err() == nil {
		f.Prepare(opt.Workers)
	}
	r := &run{
		ctx: ctx, stone: stone, set: set, opt: opt, tiltMax: opt.TiltMaxDeg * math.Pi / 180, field: f, names: names,
		want: -min(touching, f.LeastAllowance()), budget: budgetsFor(opt),
	}
	r.report = newReport(stone, rough, set)
	r.report.field, r.report.names, r.report.tolerance = f, names, opt.Tolerance
	outlines := sizes(set, opt)
	r.sizes = len(outlines)
	r.inside = newContainment(outlines)
	r.ask(outlines)
	if ctx.Err() == nil {
		r.deep = f.Deepest(climbing.MostDeep, climbing.DeepApart)
	}
	return r
}

// ask makes the trials of all outlines on all faces, of which nothing is known yet.
func (r *run) ask(outlines []outline.Outline) {
	r.trials, r.siblings, r.pools = nil, map[sibling][]*trial{}, map[planner.Face]*climbing.Pool{}
	for _, face := range r.opt.Faces {
		r.pools[face] = &climbing.Pool{}
		for _, t := range trialsFor(r.set, outlines, face, r.opt) {
			r.trials = append(r.trials, t)
			k := sibling{face, t.size, t.Solid.Sides}
			r.siblings[k] = append(r.siblings[k], t)
		}
	}
	heaviestFirst(r.trials)
}

// wave does n tasks beside each other, no more of them at once than there are
// workers, and returns when all are done. Which tasks a wave has must not depend on
// how many workers there are, and no task may look at what another one changes: the
// plan is then the same on any machine.
func (r *run) wave(n int, task func(i int)) {
	if r.ctx.Err() != nil {
		return
	}
	workers := min(n, r.opt.Workers)
	if workers <= 1 {
		for i := range n {
			if r.ctx.Err() == nil {
				task(i)
			}
		}
		return
	}
	next := make(chan int, n)
	for i := range n {
		next <- i
	}
	close(next)
	geometry.SideBySide(workers, func(int) {
		for i := range next {
			if r.ctx.Err() == nil {
				task(i)
			}
		}
	})
}

// waveSize is how many tasks a wave has: enough that workers seldom wait for the last
// one, few enough that what one finds soon spares others. While fits are looked for, which
// are wanted soon, it has fewer, and the first one, of which some fit is wanted at once, has
// no more than there are processors on most machines.
const (
	waveSize  = 16
	findWave  = 8
	firstWave = 2
)

// inWaves does a task for each trial that is still wanted when its wave begins, and
// calls after for every one of the wave in order once the wave is over.
func (r *run) inWaves(trials []*trial, wanted func(*trial) bool, task, after func(*trial)) {
	for i := 0; i < len(trials) && r.ctx.Err() == nil; {
		var group []*trial
		for ; i < len(trials) && len(group) < waveSize; i++ {
			if wanted(trials[i]) {
				group = append(group, trials[i])
			}
		}
		r.wave(len(group), func(k int) { task(group[k]) })
		for _, t := range group {
			after(t)
		}
		r.tell()
	}
}

func (r *run) prober(t *trial, tiltMax float64) *bounds.Prober {
	if t.model == nil {
		t.model = poses.NewModel(t.Solid, t.Face == planner.Base)
	}
	p := bounds.NewProber(r.field, t.model, tiltMax)
	p.Ctx = r.ctx
	return p
}

// best returns the volume of the heaviest calibrated fit, 0 without one.
func (r *run) best() float64 { return r.nth(1) }

// nth returns the volume of the n-th heaviest fit, calibrated ones only; 0 if there
// are fewer.
func (r *run) nth(n int) float64 {
	for _, t := range r.trials {
		if t.size >= 0 && t.fits() {
			if n--; n == 0 {
				return t.volume
			}
		}
	}
	return 0
}

// reason says why the search ended.
func (r *run) reason() StopReason {
	if r.ctx.Err() != nil {
		return Cancelled
	}
	for _, t := range r.trials {
		if t.open() {
			return Budget
		}
	}
	return Complete
}
