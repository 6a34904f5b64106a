package planner

import (
	"errors"
	"fmt"

	"cabwright/geometry"
)

// ReadThickness takes a thickness read with calipers at a spot, in mm: the face
// that moves gets a reading there, so far from the other one. A face that has no
// reading yet lies level at 0. A reading of that face at the same spot gives way.
func ReadThickness(s Stone, at geometry.Vec2, thick float64, moves Face) (Stone, error) {
	if err := aThickness(thick); err != nil {
		return s, err
	}
	still := moves.other()
	z, err := heightOf(s, still, at)
	if err != nil {
		return s, err
	}
	if len(s.Readings(still)) == 0 {
		if s, err = AddReading(s, still, geometry.Vec3{X: at.X, Y: at.Y, Z: z}); err != nil {
			return s, err
		}
	}
	if moves == Base {
		thick = -thick
	}
	return PutReading(s, moves, geometry.Vec3{X: at.X, Y: at.Y, Z: tidy(z + thick)})
}

// PutReading adds a reading of a face, in the place of the one at the same spot
// if there is one.
func PutReading(s Stone, f Face, r geometry.Vec3) (Stone, error) {
	for i, old := range s.Readings(f) {
		if old.XY().Sub(r.XY()).Norm() <= sameSpot {
			return SetReading(s, f, i, r)
		}
	}
	return AddReading(s, f, r)
}

func aThickness(v float64) error {
	if !(v >= sameSpot && v <= maxReach) {
		return fmt.Errorf("%v mm is no thickness", v)
	}
	return nil
}

// heightOf returns the height of a face at a spot, 0 where nothing was read yet.
func heightOf(s Stone, f Face, at geometry.Vec2) (float64, error) {
	readings := s.Readings(f)
	if len(readings) == 0 {
		return 0, nil
	}
	for _, r := range readings {
		if r.XY().Sub(at).Norm() <= sameSpot {
			return r.Z, nil
		}
	}
	sheet, err := geometry.FitThinPlate(readings)
	if err != nil {
		return 0, fmt.Errorf("%s: %w", f, err)
	}
	z := sheet.At(at.X, at.Y)
	lowest, highest := readings[0].Z, readings[0].Z
	for _, r := range readings {
		lowest, highest = min(lowest, r.Z), max(highest, r.Z)
	}
	if f == Base {
		return max(z, lowest), nil
	}
	return min(z, highest), nil
}

// Rounding says how a stone is rounded that is known by its thickness alone.
type Rounding int

// The ways: level on the table, the top taking all the rounding, or as round
// below as above.
const (
	FlatBase Rounding = iota
	BothRound
)

// SetThicknesses gives the stone readings from two thicknesses, in mm: the
// greatest, in the middle, and that of the rim all round, which a rounded nodule
// has thin. They take the place of the readings there are.
func SetThicknesses(s Stone, middle, rim float64, round Rounding) (Stone, error) {
	if len(s.Outline) < 3 {
		return s, errors.New("there is no outline yet")
	}
	if err := errors.Join(aThickness(middle), aThickness(rim)); err != nil {
		return s, err
	}
	if rim > middle {
		return s, fmt.Errorf("the rim, %v mm, is thicker than the greatest thickness, %v mm", rim, middle)
	}
	out := s
	out.Top, out.Base = nil, nil
	put := func(at geometry.Vec2, thick float64) error {
		low := 0.0
		if round == BothRound {
			low = (middle - thick) / 2
		}
		var err error
		if out, err = PutReading(out, Base, geometry.Vec3{X: at.X, Y: at.Y, Z: tidy(low)}); err != nil {
			return err
		}
		out, err = PutReading(out, Top, geometry.Vec3{X: at.X, Y: at.Y, Z: tidy(low + thick)})
		return err
	}
	centre := Extent(s.Outline).Centre
	if err := put(tidy2(centre), middle); err != nil {
		return s, err
	}
	for _, p := range rimSpots(s.Outline) {
		if err := put(p, rim); err != nil {
			return s, err
		}
	}
	return out, nil
}

// RimThickness gives the rim the same thickness all round, in mm: one face gets
// readings along the outline, so far from the other; its readings elsewhere stay.
func RimThickness(s Stone, thick float64, moves Face) (Stone, error) {
	if len(s.Outline) < 3 {
		return s, errors.New("there is no outline yet")
	}
	out := s
	for _, p := range rimSpots(s.Outline) {
		next, err := ReadThickness(out, p, thick, moves)
		if err != nil {
			return s, err
		}
		out = next
	}
	return out, nil
}

// mostRimSpots is how many readings the rim gets: every few millimetres on a stone
// of 30 mm, as many as one would take.
const mostRimSpots = 24

// rimSpots returns the spots along an outline where a rim's thickness holds: its
// corners, of very many some that are spread over them, of few the middles of the
// edges too.
func rimSpots(outline []geometry.Vec2) []geometry.Vec2 {
	var out []geometry.Vec2
	n := len(outline)
	step := (n + mostRimSpots - 1) / mostRimSpots
	for i := 0; i < n; i += step {
		out = append(out, tidy2(outline[i]))
		if 2*n <= mostRimSpots {
			out = append(out, tidy2(outline[i].Add(outline[(i+1)%n]).Scale(0.5)))
		}
	}
	return out
}

// ScaleThickness stretches the stone's heights about the lowest reading of the
// base until its greatest thickness is that of the calipers, in mm. Heights of
// inside pockets and of cuts go with it; depths, which were measured, stay.
func ScaleThickness(s Stone, most float64) (Stone, error) {
	if err := aThickness(most); err != nil {
		return s, err
	}
	rough, err := NewRough(s)
	if err != nil {
		return s, err
	}
	now, _ := rough.Thickness()
	share, floor := most/now, rough.BaseLevel
	scale := func(z float64) float64 { return tidy(floor + (z-floor)*share) }
	ranged := func(r *Range) *Range {
		if r == nil {
			return nil
		}
		return &Range{Least: scale(r.Least), Most: scale(r.Most), Open: r.Open}
	}
	readings := func(r geometry.Vec3) geometry.Vec3 { return geometry.Vec3{X: r.X, Y: r.Y, Z: scale(r.Z)} }
	s.Top, s.Base = mapped(s.Top, readings), mapped(s.Base, readings)
	s.Pockets = mapped(s.Pockets, func(p Pocket) Pocket {
		if p.Face == Inside {
			p.Low, p.High = scale(p.Low), scale(p.High)
			p.TopRange, p.BottomRange = ranged(p.TopRange), ranged(p.BottomRange)
		}
		return p
	})
	s.Cuts = mapped(s.Cuts, func(k Cut) Cut {
		k.Point.Z = scale(k.Point.Z)
		n := geometry.Vec3{X: k.Normal.X * share, Y: k.Normal.Y * share, Z: k.Normal.Z}
		n = n.Scale(k.Normal.Norm() / n.Norm())
		k.Normal = geometry.Vec3{X: tidy(n.X), Y: tidy(n.Y), Z: tidy(n.Z)}
		return k
	})
	return s, nil
}
