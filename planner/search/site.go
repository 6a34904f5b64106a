package search

import (
	"math"
	"sync"

	"cabwright/geometry/field"
	"cabwright/geometry/solid"
	"cabwright/planner"
	"cabwright/planner/search/internal/bounds"
	"cabwright/planner/search/internal/certify"
	"cabwright/planner/search/internal/climbing"
	"cabwright/planner/search/internal/obstacles"
	"cabwright/planner/search/internal/poses"
)

// Site is a stone made ready for questions about single poses: what a fit that
// is moved by hand is asked about. It is safe for use by several goroutines.
type Site struct {
	field *field.Field
	names []string
	grid  sync.Once // fills the field's coarse grid, which not every question needs
}

// ready fills the coarse grid, once.
func (s *Site) ready() { s.grid.Do(func() { s.field.Prepare(1) }) }

// Reading is the live answer for one pose of one solid.
type Reading struct {
	Clearance float64  // mm, from below (see field.Field.Lower); negative when an allowance is broken
	LimitedBy []string // obstacles within the tolerance of the least
}

// Open makes a stone ready. The error is planner.NewRough's.
func Open(stone planner.Stone) (*Site, error) { return OpenWith(stone, Options{}) }

// OpenWith is Open for a stone with the saw cuts of the options.
func OpenWith(stone planner.Stone, opt Options) (*Site, error) {
	rough, err := planner.NewRough(stone)
	if err != nil {
		return nil, err
	}
	f, names := obstacles.Build(stone, rough, opt.Cuts)
	s := &Site{field: f, names: names}
	s.ready()
	return s, nil
}

// With returns the same rough with other marks: cracks, pockets and their allowances
// are the given stone's, outline, readings, skin and cuts stay. It costs little, as
// the tables of the faces are shared.
func (s *Site) With(stone planner.Stone) *Site {
	f := s.field.Fresh()
	return &Site{field: f, names: obstacles.AddMarks(f, stone)}
}

// Clearance measures a pose.
func (s *Site) Clearance(body solid.Cabochon, pose Pose) Reading {
	s.ready()
	m := poses.NewModel(body, pose.Axes.W.Z < 0)
	return s.reading(m, m.CoordOf(pose))
}

func (s *Site) reading(m *poses.Model, at poses.Coord) Reading {
	return Reading{
		Clearance: s.clearance(m, at),
		LimitedBy: certify.Limits(s.field, s.names, m.Solid, m.Pose(at), math.Inf(1), defaultTolerance),
	}
}

func (s *Site) clearance(m *poses.Model, at poses.Coord) float64 {
	p := bounds.NewProber(s.field, m, 0)
	exact := p.Certify(at, math.Inf(1), certify.Resolution)
	if exact.Least < 0 {
		return min(exact.Least, p.Value(at, math.Inf(-1)))
	}
	return exact.Lower
}

// Settle moves a pose to the best clearance near by, with a tilt of at most
// tiltMaxDeg, and returns it with its reading; the pose itself when none near by
// is better.
func (s *Site) Settle(c Candidate, pose Pose, tiltMaxDeg float64) (Pose, Reading) {
	at, _ := s.Improve(c, pose, tiltMaxDeg)
	return at, s.Clearance(c.Solid, at)
}

// Improve is Settle with the clearance alone, which takes half the time: what holds
// it is not named.
func (s *Site) Improve(c Candidate, pose Pose, tiltMaxDeg float64) (Pose, float64) {
	s.ready()
	m := poses.NewModel(c.Solid, pose.Axes.W.Z < 0)
	p := bounds.NewProber(s.field, m, tiltMaxDeg*math.Pi/180)
	from := m.CoordOf(pose)
	before := s.clearance(m, from)
	at := poses.Within(from, p.TiltMax)
	for range 4 {
		at, _ = climbing.Climb(p, at, climbing.ManySteps, climbing.CloseTrust)
		exact := p.Certify(at, math.Inf(1), certify.Resolution)
		if exact.Least > p.Value(at, math.Inf(-1))-certify.Resolution {
			break
		}
		p.AddSample(exact.Worst)
	}
	if after := s.clearance(m, at); after > before {
		return m.Pose(at), after
	}
	return pose, before
}
