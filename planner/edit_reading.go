package planner

import (
	"fmt"

	"cabwright/geometry"
)

// Readings returns the readings of a face.
func (s Stone) Readings(f Face) []geometry.Vec3 {
	if f == Base {
		return s.Base
	}
	return s.Top
}

func (s Stone) withReadings(f Face, readings []geometry.Vec3) Stone {
	if f == Base {
		s.Base = readings
	} else {
		s.Top = readings
	}
	return s
}

// AddReading adds a height read at a spot of a face.
func AddReading(s Stone, f Face, r geometry.Vec3) (Stone, error) {
	old := s.Readings(f)
	if len(old) >= MaxReadings {
		return refuse(s, string(f), "a face has at most %d readings", MaxReadings)
	}
	return setReadings(s, f, inserted(old, len(old), r), len(old))
}

// SetReading changes reading i of a face.
func SetReading(s Stone, f Face, i int, r geometry.Vec3) (Stone, error) {
	old := s.Readings(f)
	if i < 0 || i >= len(old) {
		return no(s, string(f), i, len(old))
	}
	return setReadings(s, f, with(old, i, r), i)
}

// DeleteReading takes reading i of a face away.
func DeleteReading(s Stone, f Face, i int) (Stone, error) {
	old := s.Readings(f)
	if i < 0 || i >= len(old) {
		return no(s, string(f), i, len(old))
	}
	return s.withReadings(f, without(old, i)), nil
}

// setReadings checks the one reading that is new.
func setReadings(s Stone, f Face, readings []geometry.Vec3, i int) (Stone, error) {
	place := fmt.Sprintf("%s[%d]", f, i)
	var c checker
	if r := readings[i]; !c.reach(place, r.X, r.Y, r.Z) {
		return s, c.first()
	}
	for j, other := range readings {
		if j != i && other.XY().Sub(readings[i].XY()).Norm() <= sameSpot {
			return refuse(s, place, "lies at the same spot as %s[%d]", f, j)
		}
	}
	return s.withReadings(f, readings), nil
}
