package search

import (
	"math"
	"sync"

	"cabwright/geometry/field"
	"cabwright/geometry/solid"
	"cabwright/planner"
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
	f, names := buildField(stone, rough, opt.Cuts)
	s := &Site{field: f, names: names}
	s.ready()
	return s, nil
}

// With returns the same rough with other marks: cracks, pockets and their allowances
// are the given stone's, outline, readings, skin and cuts stay. It costs little, as
// the tables of the faces are shared.
func (s *Site) With(stone planner.Stone) *Site {
	f := s.field.Fresh()
	return &Site{field: f, names: addMarks(f, stone)}
}

// Clearance measures a pose.
func (s *Site) Clearance(body solid.Cabochon, pose Pose) Reading {
	s.ready()
	m := newModel(body, pose.Axes.W.Z < 0)
	return s.reading(m, m.coordOf(pose))
}

func (s *Site) reading(m *model, at coord) Reading {
	return Reading{
		Clearance: s.clearance(m, at),
		LimitedBy: limitsOf(s.field, s.names, m.solid, m.pose(at), math.Inf(1), defaultTolerance),
	}
}

func (s *Site) clearance(m *model, at coord) float64 {
	p := newProber(s.field, m, 0)
	exact := certifyAt(p, at, math.Inf(1), resolution)
	if exact.least < 0 {
		return min(exact.least, p.value(at, math.Inf(-1)))
	}
	return exact.lower
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
	m := newModel(c.Solid, pose.Axes.W.Z < 0)
	p := newProber(s.field, m, tiltMaxDeg*math.Pi/180)
	from := m.coordOf(pose)
	before := s.clearance(m, from)
	at := within(from, p.tiltMax)
	for range 4 {
		at, _ = climb(p, at, manySteps, closeTrust)
		exact := certifyAt(p, at, math.Inf(1), resolution)
		if exact.least > p.value(at, math.Inf(-1))-resolution {
			break
		}
		m.add(exact.worst, 0)
		p.fit()
	}
	if after := s.clearance(m, at); after > before {
		return m.pose(at), after
	}
	return pose, before
}
