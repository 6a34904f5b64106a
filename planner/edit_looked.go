package planner

import (
	"fmt"
	"slices"
)

// LookedTo takes down that somebody has looked at a mark as deep as mm from its face
// and that it was still there: its depth is no less, so that this is the least from
// then on, and it is there for certain. What was likely or most and is less moves up to
// it. The error says that there is no such mark, that it has no depth or no unsure one,
// or that so much was known before.
func LookedTo(s Stone, id string, mm float64) (Stone, error) {
	look := func(r *Range, depth *float64) (*Range, error) {
		if r == nil {
			return nil, fmt.Errorf("the depth of %s is taken as known: first say how unsure it is", Visible(id))
		}
		if mm <= r.Least {
			return nil, fmt.Errorf("%s was known to be %g mm deep at the least", Visible(id), r.Least)
		}
		now := *r
		now.Least = mm
		*depth = max(*depth, mm)
		if !now.Open {
			now.Most = max(now.Most, mm)
		}
		if !now.Open && now.Most == now.Least {
			return nil, nil // it is known now
		}
		return &now, nil
	}
	if i := slices.IndexFunc(s.Cracks, func(k Crack) bool { return k.ID == id }); i >= 0 {
		k := s.Cracks[i]
		depth := k.Depth
		var err error
		if k.DepthRange, err = look(k.DepthRange, &depth); err != nil {
			return s, err
		}
		if !k.Through {
			k.Depth = depth
		}
		k.Chance = nil
		return ReplaceCrack(s, id, k)
	}
	if i := slices.IndexFunc(s.Pockets, func(p Pocket) bool { return p.ID == id }); i >= 0 {
		p := s.Pockets[i]
		if p.Face != Top && p.Face != Base {
			return s, fmt.Errorf("pocket %s goes in from no face: change its heights", Visible(id))
		}
		var err error
		if p.DepthRange, err = look(p.DepthRange, &p.Depth); err != nil {
			return s, err
		}
		p.Chance = nil
		return ReplacePocket(s, id, p)
	}
	return noMark(s, id)
}
