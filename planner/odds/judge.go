package odds

import (
	"math"
	"runtime"
	"sync"
	"sync/atomic"

	"cabwright/geometry"
	"cabwright/geometry/solid"
	"cabwright/planner"
	"cabwright/planner/search"
)

// Judge knows one stone with marks that are not sure, and answers what any place in
// it is worth as a bet. It is safe for use by several goroutines.
type Judge struct {
	rough     *planner.Rough
	stone     planner.Stone
	thickness float64
	unsure    []Unsure
	questions []question
	growths   []growth     // of the questions
	firm      []growth     // of the sure marks, as they are
	sure      *search.Site // the skin and the sure marks

	mu     sync.Mutex
	levels map[float64]*search.Site // all marks, at one level of their spread

	sites [][][]atomic.Pointer[search.Site] // with one mark alone, by question, slice and rung
	held  atomic.Int64                      // how many of these there are
}

// fine is by how much, mm, a mark may come nearer than its allowance at a limit: a
// twentieth of the grid, for rounding and so that a limit which is a value of the grid
// exactly is found.
const fine = 0.001

// maxSites bounds the memory that sites take; a spread has some hundred values.
const maxSites = 1000

// NewJudge makes a stone ready. The error is planner.NewRough's.
func NewJudge(s planner.Stone) (*Judge, error) {
	rough, err := planner.NewRough(s)
	if err != nil {
		return nil, err
	}
	j := judgeOf(s, rough)
	if j.sure, err = search.Open(sure(s, j.unsure)); err != nil {
		return nil, err
	}
	return j, nil
}

// judgeOf is a judge that has no site yet.
func judgeOf(s planner.Stone, rough *planner.Rough) *Judge {
	thickest, _ := rough.Thickness()
	j := &Judge{
		stone:     s,
		rough:     rough,
		thickness: thickest,
		levels:    map[float64]*search.Site{},
	}
	j.unsure = Of(s, j.thickness)
	j.questions = questions(j.unsure)
	for _, q := range j.questions {
		rungs := make([][]atomic.Pointer[search.Site], len(q.slices))
		for i := range rungs {
			rungs[i] = make([]atomic.Pointer[search.Site], q.last()+1)
		}
		j.sites = append(j.sites, rungs)
		j.growths = append(j.growths, j.growthOf(q))
	}
	for _, id := range sureMarks(s, j.unsure) {
		j.firm = append(j.firm, j.growthOf(question{Unsure{ID: id, What: There, Chance: 1}, []slice{{1, math.NaN()}}}))
	}
	return j
}

// Unsure returns what is not sure, in the stone's order.
func (j *Judge) Unsure() []Unsure { return j.unsure }

// At returns the stone with every unsure number at a level of its spread: see At.
func (j *Judge) At(level float64) planner.Stone { return At(j.stone, j.thickness, level) }

// levelSite returns the stone with every mark at a level of its spread.
func (j *Judge) levelSite(level float64) *search.Site {
	j.mu.Lock()
	defer j.mu.Unlock()
	if s, known := j.levels[level]; known {
		return s
	}
	s := j.sure.With(j.At(level))
	j.levels[level] = s
	return s
}

// nothing stands for a mark of which nothing is left.
var nothing = &search.Site{}

// site returns the rough with the mark of one question alone, of one slice of its run-on
// and at one rung; nil when nothing is left of the mark.
func (j *Judge) site(k, slice, rung int) *search.Site {
	slot := &j.sites[k][slice][rung]
	s := slot.Load()
	if s == nil {
		q := j.questions[k]
		s = nothing
		if stone, left := alone(j.stone, q.Unsure, q.value(rung), q.slices[slice].runOn); left {
			s = j.sure.With(stone)
		}
		if j.held.Add(1) <= maxSites {
			slot.Store(s)
		}
	}
	if s == nothing {
		return nil
	}
	return s
}

// Place judges a fit where it lies. It reports false when that breaks the skin's
// allowance or a sure mark's.
func (j *Judge) Place(f search.Fit) (Place, bool) {
	if !j.keepsSure(f.Solid, f.Pose) {
		return Place{}, false
	}
	g := j.newGlance(f.Candidate)
	g.lay(f.Pose)
	p := Place{Fit: f, Limits: make([]Limit, len(j.questions))}
	for k, q := range j.questions {
		p.Limits[k] = q.limit(j.reaches(k, f.Solid, f.Pose, j.glanced(g, k)))
	}
	p.settle()
	return p, true
}

// Places judges many fits beside each other; those that break an allowance for
// sure are left out.
func (j *Judge) Places(fits []search.Fit) []Place {
	judged, ok := make([]Place, len(fits)), make([]bool, len(fits))
	abreast(len(fits), func(i int) { judged[i], ok[i] = j.Place(fits[i]) })
	var out []Place
	for i, p := range judged {
		if ok[i] {
			out = append(out, p)
		}
	}
	return out
}

func (j *Judge) keepsSure(c solid.Cabochon, at search.Pose) bool {
	return j.sure.Keeps(c, at)
}

// keeps asks whether the mark of a question, alone, of a slice and at a rung, keeps its
// allowance from a placed solid, or all but a slack of it, mm; below 0 it is to keep more.
func (j *Judge) keeps(k, slice, rung int, c solid.Cabochon, at search.Pose, slack float64) bool {
	s := j.site(k, slice, rung)
	return s == nil || s.KeepsMarks(c, at, slack)
}

// abreast does work in as many goroutines as there are processors.
func abreast(n int, work func(i int)) {
	var next atomic.Int64
	geometry.SideBySide(min(n, runtime.GOMAXPROCS(0)), func(int) {
		for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
			work(i)
		}
	})
}
