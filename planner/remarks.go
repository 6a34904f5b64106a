package planner

import (
	"fmt"
	"math"

	"cabwright/geometry"
	"cabwright/presets"
)

// What is remarked on: enough to be a slip of the keyboard or the caliper, more
// than a natural stone does by itself. The second and third are the stone
// file's own.
const (
	farOutside  = 0.25 // of the outline's width: a reading taken that far out is not of this stone
	farOutsideM = 2.0  // mm, at least
	oddHeight   = 1.0  // mm from what the other readings say, and
	oddShare    = 1.0 / 3
	steepDeg    = 60.0
)

// OnScale is the place of the remark that weights as drawn and on the scale
// differ.
const OnScale = "scale_ct"

// Remarks returns what is worth a second look in a stone that is good, in the
// order of the stone file's keys: its weight as drawn and on the scale, and
// readings that do not go with the others.
func Remarks(s Stone, r *Rough, set *presets.Set) []Warning {
	var out []Warning
	area := math.Abs(geometry.Area(s.Outline))
	if text := WeightRemark(r.Volume(), area, UsualGravity(s, set), s.ScaleCt); text != "" {
		out = append(out, Warning{Place: OnScale, What: text})
	}
	for _, f := range []Face{Top, Base} {
		out = append(out, strayReadings(s, f)...)
		out = append(out, oddReadings(s, r, f)...)
		out = append(out, steepFace(s, f)...)
	}
	return out
}

// about makes a remark on a reading of a face.
func about(f Face, i int, r geometry.Vec3, format string, args ...any) Warning {
	spot := r.XY()
	return Warning{Place: at(string(f), i), What: fmt.Sprintf(format, args...), At: &spot}
}

func strayReadings(s Stone, f Face) (out []Warning) {
	far := max(farOutsideM, farOutside*Extent(s.Outline).Width)
	for i, p := range s.Readings(f) {
		if geometry.InPolygon(s.Outline, p.XY()) {
			continue
		}
		d := math.Inf(1)
		for k, a := range s.Outline {
			d = min(d, geometry.ToSegment(p.XY(), a, s.Outline[(k+1)%len(s.Outline)]))
		}
		if d > far {
			out = append(out, about(f, i, p, "was read %.1f mm outside the outline: check its x and y, or move the outline", d))
		}
	}
	return out
}

// oddReadings finds the readings that lie far from the surface through all the
// others, cut off level as that one would be. Beyond the other readings a thin
// plate only guesses: there a reading is odd when it also lies far outside their
// heights.
func oddReadings(s Stone, r *Rough, f Face) (out []Warning) {
	readings := s.Readings(f)
	says := geometry.WithoutEach(readings)
	if says == nil {
		return nil
	}
	thick, _ := r.Thickness()
	limit := max(oddHeight, oddShare*thick)
	others := make([]geometry.Vec2, 0, len(readings))
	for i, p := range readings {
		low, high := math.Inf(1), math.Inf(-1)
		others = others[:0]
		for j, q := range readings {
			if j != i {
				low, high = min(low, q.Z), max(high, q.Z)
				others = append(others, q.XY())
			}
		}
		there := min(says[i], high)
		if f == Base {
			there = max(says[i], low)
		}
		off := math.Abs(p.Z - there)
		if !geometry.InPolygon(geometry.ConvexHull(others), p.XY()) {
			off = max(0, min(low, there)-p.Z, p.Z-max(high, there))
		}
		if !(off > limit) { // also when the others make no surface
			continue
		}
		way := "higher"
		if p.Z < there {
			way = "lower"
		}
		const odd = "%g mm is %.1f mm %s than the other readings say there: measure it again, or take one beside it"
		out = append(out, about(f, i, p, odd, p.Z, math.Abs(p.Z-there), way))
	}
	return out
}

// steepFace finds the steepest way from one reading of a face to another, if it
// is too steep to be a face.
func steepFace(s Stone, f Face) []Warning {
	readings := s.Readings(f)
	steepest, first, second := math.Tan(steepDeg*math.Pi/180), -1, -1
	for j, q := range readings {
		for i, p := range readings[:j] {
			if slope := math.Abs(q.Z-p.Z) / q.XY().Sub(p.XY()).Norm(); slope > steepest {
				steepest, first, second = slope, i, j
			}
		}
	}
	if first < 0 {
		return nil
	}
	p, q := readings[first], readings[second]
	const steep = "the %s changes by %.1f mm within %.1f mm of %s, steeper than %g degrees: " +
		"measure both again, or draw the outline inside the drop"
	rise, run := math.Abs(q.Z-p.Z), q.XY().Sub(p.XY()).Norm()
	return []Warning{about(f, second, q, steep, f, rise, run, at(string(f), first), steepDeg)}
}
