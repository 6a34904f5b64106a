package search

import (
	"math"

	"cabwright/geometry/field"
	"cabwright/geometry/solid"
)

// leastClearance is the certified clearance that a fit must have, mm: what is left of
// it after the pose and the clearance itself are rounded in a plan is not below zero
// (see planjson: nine digits for the pose, four for the clearance).
const leastClearance = 1e-6

// fineResolution is what a pose within a hair of fitting is certified to once, mm.
const fineResolution = resolution / 20

// accept tries to turn a pose that the samples like into a fit: it climbs to
// the best pose near by and checks that on the exact geometry. Where the exact
// check finds a point of the skin, between the samples, that keeps less, that
// point joins the samples and the climb goes on. It reports whether the trial now
// fits, and keeps the better of the old pose and the new; stuck tells that a
// sample at the point missed changes nothing.
func accept(p *prober, t *trial, at coord, steps int) (fits, stuck bool) {
	for range 6 {
		at, value := climb(p, at, steps, closeTrust)
		if value > t.value {
			t.at, t.value = at, value
		}
		if value < 0 || p.stopped() {
			return t.verdict == Fits, false
		}
		exact := certifyAt(p, at, math.Inf(1), resolution)
		if exact.lower < leastClearance && exact.least > 0 {
			exact = certifyAt(p, at, leastClearance, fineResolution)
		}
		if exact.lower >= leastClearance && (t.verdict != Fits || exact.lower > t.lower) {
			t.verdict, t.lower, t.at, t.value = Fits, exact.lower, at, value
			return true, false
		}
		p.model.add(exact.worst, 0)
		p.fit()
		t.value = min(t.value, exact.least)
		// Where the tables value even that point too high, a sample there is no help.
		if p.value(at, math.Inf(-1)) > value-resolution/10 {
			return t.verdict == Fits, true
		}
	}
	return t.verdict == Fits, false
}

// improve takes up a pose that the samples value above a fit's own: it climbs and
// certifies there, and has a point that the samples missed join them, until these
// and the exact check agree. It reports whether that led to anything: a better
// pose, or a sample that spares the next proof this place.
func improve(p *prober, t *trial, at coord) bool {
	led := false
	for range 6 {
		var value float64
		at, value = climb(p, at, manySteps, closeTrust)
		exact := certifyAt(p, at, math.Inf(1), resolution)
		if exact.lower > t.lower+1e-6 {
			t.at, t.lower, t.value = at, exact.lower, value
			led = true
		}
		if exact.least > value-resolution {
			break
		}
		p.model.add(exact.worst, 0)
		p.fit()
		// Where the tables value even that point too high, a sample there is no help.
		if p.value(at, math.Inf(-1)) > value-resolution/10 {
			break
		}
		led = true
	}
	return led
}

// certifyAt checks a pose on the exact geometry, down to the resolution, mm, or until
// it stands above enough.
func certifyAt(p *prober, at coord, enough, resolution float64) certified {
	p.value(at, math.Inf(-1))
	start := p.model.samples[p.lowest].at
	if p.model.flip {
		start.Y, start.Z = -start.Y, -start.Z
	}
	start.Z += p.model.pivot
	return certify(p.field, p.model.solid, p.model.pose(at), start, enough, resolution)
}

// limitsOf names the obstacles whose clearance from the posed solid is within the
// tolerance of the least, each certified by itself, in the field's order.
func limitsOf(f *field.Field, names []string, c solid.Cabochon, pose Pose, least, tolerance float64) []string {
	var out []string
	clearances := make([]float64, len(names))
	for k := range names {
		clearances[k] = certifyOnly(f, k, c, pose, least+tolerance+resolution).least
		least = min(least, clearances[k])
	}
	for k, d := range clearances {
		if d <= least+tolerance {
			out = append(out, names[k])
		}
	}
	return out
}
