package search

import (
	"math"

	"cabwright/planner/search/internal/bounds"
	"cabwright/planner/search/internal/certify"
	"cabwright/planner/search/internal/climbing"
	"cabwright/planner/search/internal/poses"
)

// fineResolution is what a pose within a hair of fitting is certified to once, mm.
const fineResolution = certify.Resolution / 20

// accept tries to turn a pose that the samples like into a fit: it climbs to
// the best pose near by and checks that on the exact geometry. Where the exact
// check finds a point of the skin, between the samples, that keeps less, that
// point joins the samples and the climb goes on. It reports whether the trial now
// fits, and keeps the better of the old pose and the new; stuck tells that a
// sample at the point missed changes nothing.
func accept(p *bounds.Prober, t *trial, at poses.Coord, steps int) (fits, stuck bool) {
	for range 6 {
		at, value := climbing.Climb(p, at, steps, climbing.CloseTrust)
		if value > t.value {
			t.at, t.value = at, value
		}
		if value < 0 || p.Stopped() {
			return t.verdict == Fits, false
		}
		exact := p.Certify(at, math.Inf(1), certify.Resolution)
		if exact.Lower < certify.LeastClearance && exact.Least > 0 {
			exact = p.Certify(at, certify.LeastClearance, fineResolution)
		}
		if exact.Lower >= certify.LeastClearance && (t.verdict != Fits || exact.Lower > t.lower) {
			t.verdict, t.lower, t.at, t.value = Fits, exact.Lower, at, value
			return true, false
		}
		p.AddSample(exact.Worst)
		t.value = min(t.value, exact.Least)
		// Where the tables value even that point too high, a sample there is no help.
		if p.Value(at, math.Inf(-1)) > value-certify.Resolution/10 {
			return t.verdict == Fits, true
		}
	}
	return t.verdict == Fits, false
}

// improve takes up a pose that the samples value above a fit's own: it climbs and
// certifies there, and has a point that the samples missed join them, until these
// and the exact check agree. It reports whether that led to anything: a better
// pose, or a sample that spares the next proof this place.
func improve(p *bounds.Prober, t *trial, at poses.Coord) bool {
	led := false
	for range 6 {
		var value float64
		at, value = climbing.Climb(p, at, climbing.ManySteps, climbing.CloseTrust)
		exact := p.Certify(at, math.Inf(1), certify.Resolution)
		if exact.Lower > t.lower+1e-6 {
			t.at, t.lower, t.value = at, exact.Lower, value
			led = true
		}
		if exact.Least > value-certify.Resolution {
			break
		}
		p.AddSample(exact.Worst)
		// Where the tables value even that point too high, a sample there is no help.
		if p.Value(at, math.Inf(-1)) > value-certify.Resolution/10 {
			break
		}
		led = true
	}
	return led
}
