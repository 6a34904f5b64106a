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
	sure      *search.Site // the skin and the sure marks

	mu     sync.Mutex
	levels map[float64]*search.Site // all marks, at one level of their spread
	sites  map[siteKey]*search.Site // with one mark alone, at one value
}

// siteKey names a mark by its question, and its value and run-on by their bits:
// NaN, for none, would be unlike itself.
type siteKey struct {
	question     int
	value, runOn uint64
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
	thickest, _ := rough.Thickness()
	j := &Judge{
		stone:     s,
		rough:     rough,
		thickness: thickest,
		sites:     map[siteKey]*search.Site{},
		levels:    map[float64]*search.Site{},
	}
	j.unsure = Of(s, j.thickness)
	j.questions = questions(j.unsure)
	if j.sure, err = search.Open(sure(s, j.unsure)); err != nil {
		return nil, err
	}
	return j, nil
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

// site returns the rough with the mark of one question alone; nil when nothing is
// left of the mark.
func (j *Judge) site(k int, value, runOn float64) *search.Site {
	key := siteKey{k, math.Float64bits(value), math.Float64bits(runOn)}
	j.mu.Lock()
	defer j.mu.Unlock()
	if s, known := j.sites[key]; known {
		return s
	}
	if len(j.sites) >= maxSites {
		clear(j.sites)
	}
	stone, left := alone(j.stone, j.questions[k].Unsure, value, runOn)
	var s *search.Site
	if left {
		s = j.sure.With(stone)
	}
	j.sites[key] = s
	return s
}

// Place judges a fit where it lies. It reports false when that breaks the skin's
// allowance or a sure mark's.
func (j *Judge) Place(f search.Fit) (Place, bool) {
	if !j.keepsSure(f.Solid, f.Pose) {
		return Place{}, false
	}
	p := Place{Fit: f, Limits: make([]Limit, len(j.questions))}
	for k, q := range j.questions {
		p.Limits[k] = q.limit(j.reaches(k, f.Solid, f.Pose))
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

// keeps asks whether the mark of a question, alone and at a value, keeps its
// allowance from a placed solid.
func (j *Judge) keeps(k int, value, runOn float64, c solid.Cabochon, at search.Pose) bool {
	s := j.site(k, value, runOn)
	return s == nil || s.KeepsMarks(c, at, fine)
}

// reaches finds how much of each slice of a question a placed solid allows. One
// slice's run-on holds the one's before, so what it allows can only be less.
func (j *Judge) reaches(k int, c solid.Cabochon, at search.Pose) []reach {
	q := j.questions[k]
	out := make([]reach, len(q.slices))
	for i := len(out) - 1; i >= 0; i-- {
		if i+1 < len(out) && out[i+1].all {
			out[i] = out[i+1]
			continue
		}
		out[i] = q.find(func(value float64) bool { return j.keeps(k, value, q.slices[i].runOn, c, at) })
	}
	return out
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
