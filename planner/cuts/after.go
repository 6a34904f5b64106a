package cuts

import (
	"math"

	"cabwright/geometry/solid"
	"cabwright/presets"
)

// Target is what the caliper shows when a step of the workshop is done.
type Target struct {
	Step                  string // the step's name
	Left                  float64
	Length, Width, Height float64 // mm
}

// Targets returns the measures to work down to, step by step: what a step
// leaves on a side is on both ends of each measure.
func Targets(c solid.Cabochon, wheels []presets.Wheel) []Target {
	var out []Target
	for _, w := range wheels {
		more := 2 * w.Left
		out = append(out, Target{
			Step: w.Name, Left: w.Left,
			Length: c.Outline.Length + more, Width: c.Outline.Width + more, Height: c.Height() + more,
		})
	}
	return out
}

// Bevel is one of the flats that are ground round a dome before it is rounded.
// It touches the dome all round and nowhere cuts it.
type Bevel struct {
	Foot, Head float64 // heights over the girdle between which it runs, mm
	AcrossDeg  float64 // its angle to the girdle plane over the width
	AlongDeg   float64 // and over the length
}

// Bevels returns two bevels for a low dome, three for one higher than a
// quarter of the width. Over a half width a, the dome is the ellipse
//
//	x = a cos t, w = wall + dome sin t,
//
// so that the flat touching it at t is inclined by atan(dome cos t / (a sin t)),
// and those touching at s and t meet at the height wall + dome sin((s + t)/2) /
// cos((s - t)/2). The first begins on the upright side, t = 0, the last ends on
// the table, t = 90 degrees. Heights are the same all round, angles are not.
func Bevels(c solid.Cabochon) []Bevel {
	n := 2
	if c.Dome > 0.25*c.Outline.Width {
		n = 3
	}
	if c.Dome <= 0 {
		return nil
	}
	touch := make([]float64, 0, n+2)
	touch = append(touch, 0)
	for i := range n {
		touch = append(touch, (float64(i)+0.5)/float64(n)*math.Pi/2)
	}
	touch = append(touch, math.Pi/2)
	meet := func(s, t float64) float64 { return c.Wall + c.Dome*math.Sin((s+t)/2)/math.Cos((s-t)/2) }
	angle := func(half, t float64) float64 {
		return math.Atan2(c.Dome*math.Cos(t), half*c.RimRatio()*math.Sin(t)) * 180 / math.Pi
	}
	var out []Bevel
	for i := 1; i <= n; i++ {
		out = append(out, Bevel{
			Foot: meet(touch[i-1], touch[i]), Head: meet(touch[i], touch[i+1]),
			AcrossDeg: angle(c.Outline.Width/2, touch[i]), AlongDeg: angle(c.Outline.Length/2, touch[i]),
		})
	}
	return out
}
