package odds

import (
	"cmp"
	"math"
	"slices"

	"cabwright/planner/search"
)

// sought is one solid that a better place is worth looking for.
type sought struct {
	key     key
	fit     search.Fit // as it is in the best of the plans
	judged  *Place     // the best of the places known
	odds    float64    // of that
	starts  []search.Pose
	planned *Planned
}

// key tells solids apart, whatever the face.
type key struct {
	shape               string
	length, width       float64
	wall, dome, back    float64
	sides               int
	polygonX, polygonUV float64
}

func keyOf(f search.Fit) key {
	c := f.Solid
	k := key{
		shape:  c.Outline.Shape,
		length: c.Outline.Length,
		width:  c.Outline.Width,
		wall:   c.Wall,
		dome:   c.Dome,
		back:   c.BackDepth(),
		sides:  c.Sides,
	}
	for i, p := range c.Outline.Polygon {
		k.polygonX += p.X
		k.polygonUV += float64(i+1) * p.X * p.Y
	}
	return k
}

// worthwhile picks the solids that a better place is worth looking for: heavier than
// the heaviest sure one, and of those the ones of most promise. A place moved a little
// often has far better odds, so the odds known count by their square root only.
func (a *asking) worthwhile() []sought {
	sure := 0.0
	for _, f := range a.sure {
		sure = max(sure, f.Carat)
	}
	sure = max(sure, BestSure(a.own))
	byKey := map[key]*sought{}
	var order []key
	add := func(p Place, ok, planned bool) {
		k := keyOf(p.Fit)
		s := byKey[k]
		if s == nil {
			s = &sought{key: k, fit: p.Fit, odds: -1}
			byKey[k] = s
			order = append(order, k)
		}
		if s.fit.Face == p.Face {
			s.starts = append(s.starts, p.Pose)
		}
		if planned && s.planned == nil {
			s.planned = &Planned{p.Pose, p.Odds}
		}
		if ok && p.Odds > s.odds {
			if p.Face != s.fit.Face {
				s.starts = []search.Pose{p.Pose}
			}
			s.fit, s.judged, s.odds = p.Fit, &p, p.Odds
		}
	}
	for _, p := range a.own {
		if p.Carat > sure {
			add(p, true, true)
		}
	}
	for _, p := range a.known {
		if p.Carat > sure {
			add(p, true, false)
		}
	}
	heavy := slices.DeleteFunc(slices.Clone(a.least), func(f search.Fit) bool { return f.Carat <= sure })
	for _, p := range a.judge.Places(heavy) {
		add(p, true, false)
	}
	var out []sought
	for _, k := range order {
		out = append(out, *byKey[k])
	}
	promise := func(s sought) float64 { return Expected(math.Sqrt(math.Max(0, s.odds)), s.fit.Carat, 0.8*sure) }
	slices.SortStableFunc(out, func(x, y sought) int { return cmp.Compare(promise(y), promise(x)) })
	return out[:min(len(out), placesSought)]
}

// eachOnce returns the first place of each solid.
func eachOnce(places []Place) []Place {
	seen := map[key]bool{}
	return slices.DeleteFunc(places, func(p Place) bool {
		k := keyOf(p.Fit)
		again := seen[k]
		seen[k] = true
		return again
	})
}
