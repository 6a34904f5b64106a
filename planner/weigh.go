package planner

import (
	"fmt"

	"cabwright/presets"
)

// SGDoubt is by how much a specific gravity that was measured may be off
// (common practice: weighing in water on a 0.01 ct scale repeats to about
// that).
const SGDoubt = 0.02

// ScaleDoubt is the share by which the specific gravity that follows from the
// scale weight and the drawn volume may be off: a volume from caliper readings
// is seldom nearer than that.
const ScaleDoubt = 0.05

// Gravity is the specific gravity that weights are taken with, and what it may
// be.
type Gravity struct {
	Low, Likely, High float64
	Basis             string // what it rests on, in words
	Short             string // the same in two words: "as given", "by material", "by scale"
}

// Words says the range and what it rests on in a few words: "SG 1.81 to 1.85, as
// given".
func (g Gravity) Words() string { return fmt.Sprintf("SG %.2f to %.2f, %s", g.Low, g.High, g.Short) }

// GravityOf returns the specific gravity of a stone whose rough has a volume in
// mm3 as drawn. It is the stone's own where that is given. Otherwise it is the
// material's, whose range a scale weight narrows to what it can be within
// ScaleDoubt of the scale weight over the drawn volume, if that overlaps the
// range; the likely one is then the typical one, or the end of the narrowed
// range that is nearest to it. A material that is not in the presets counts as
// their default one.
func GravityOf(s Stone, set *presets.Set, volume float64) Gravity {
	if s.SG > 0 {
		return Gravity{Low: max(0, s.SG-SGDoubt), Likely: s.SG, High: s.SG + SGDoubt,
			Basis: fmt.Sprintf("SG %.2f as given, %.2f off or on", s.SG, SGDoubt), Short: "as given"}
	}
	m := materialOf(s, set)
	g := Gravity{Low: m.SG.Low, Likely: m.SG.Typical, High: m.SG.High,
		Basis: fmt.Sprintf("the material's SG, %.2f to %.2f", m.SG.Low, m.SG.High), Short: "by material"}
	if !(s.ScaleCt > 0 && volume > 0) {
		return g
	}
	scale := s.ScaleCt * 200 / volume
	low, high := scale*(1-ScaleDoubt), scale*(1+ScaleDoubt)
	if low > g.High || high < g.Low {
		g.Basis += "; the scale weight is far from that"
		return g
	}
	if low <= g.Low && high >= g.High {
		return g
	}
	g.Low, g.High = max(g.Low, low), min(g.High, high)
	g.Likely = min(max(g.Likely, g.Low), g.High)
	g.Short = "by scale"
	g.Basis = fmt.Sprintf("SG %.2f to %.2f: the material's, narrowed by the scale weight", g.Low, g.High)
	return g
}

// UsualGravity returns the specific gravity that a stone should have by what is
// said of it, before it is held against the scale: its own, or its material's
// typical one.
func UsualGravity(s Stone, set *presets.Set) float64 {
	if s.SG > 0 {
		return s.SG
	}
	return materialOf(s, set).SG.Typical
}

func materialOf(s Stone, set *presets.Set) presets.Material {
	m, known := set.Material(s.Material)
	if !known {
		m, _ = set.Material(set.Defaults.Material)
	}
	return m
}

// Lost returns the share, 0 to 1, of the rough's weight that a finished stone of
// a weight leaves behind: of the scale weight where there is one, else of what
// the rough weighs as drawn. from is that weight. ok is false when the rough
// weighs nothing.
func Lost(carat float64, s Stone, drawnCt float64) (share, from float64, ok bool) {
	from = drawnCt
	if s.ScaleCt > 0 {
		from = s.ScaleCt
	}
	if !(from > 0) {
		return 0, 0, false
	}
	return 1 - carat/from, from, true
}
