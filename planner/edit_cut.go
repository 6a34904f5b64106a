package planner

import (
	"fmt"
	"slices"
)

// AddCut adds a saw cut; one without an id is given the first free one.
func AddCut(s Stone, k Cut) (Stone, error) {
	if len(s.Cuts) >= MaxCuts {
		return refuse(s, "cuts", "a stone has at most %d cuts", MaxCuts)
	}
	used := MarkIDs(s)
	switch {
	case k.ID == "":
		k.ID = FreeID(used, "K")
	case used[k.ID]:
		return refuse(s, "cuts", "there is a mark or cut %s already", Visible(k.ID))
	}
	return putCut(s, len(s.Cuts), k)
}

// ReplaceCut changes the cut with an id; its unknown keys stay with it.
func ReplaceCut(s Stone, id string, k Cut) (Stone, error) {
	i := slices.IndexFunc(s.Cuts, func(o Cut) bool { return o.ID == id })
	if i < 0 {
		return refuse(s, "cuts", "there is no cut %s", Visible(id))
	}
	k.ID, k.Unknown = id, s.Cuts[i].Unknown
	return putCut(s, i, k)
}

func putCut(s Stone, i int, k Cut) (Stone, error) {
	var c checker
	c.cut(fmt.Sprintf("cuts[%d]", i), k)
	if err := c.first(); err != nil {
		return s, err
	}
	s.Cuts = put(s.Cuts, i, k)
	return s, nil
}

// DeleteCut takes away the cut with an id.
func DeleteCut(s Stone, id string) (Stone, error) {
	i := slices.IndexFunc(s.Cuts, func(o Cut) bool { return o.ID == id })
	if i < 0 {
		return refuse(s, "cuts", "there is no cut %s", Visible(id))
	}
	s.Cuts = without(s.Cuts, i)
	return s, nil
}

// SetCost says what the stone cost; nil: not said. Keys of the cost and of its
// lot that are not known here stay.
func SetCost(s Stone, cost *Cost) (Stone, error) {
	if cost == nil {
		s.Cost = nil
		return s, nil
	}
	next := *cost
	if cost.Lot != nil {
		lot := *cost.Lot
		next.Lot = &lot
	}
	if s.Cost != nil {
		next.Unknown = s.Cost.Unknown
		if next.Lot != nil && s.Cost.Lot != nil {
			next.Lot.Unknown = s.Cost.Lot.Unknown
		}
	}
	var c checker
	c.cost(&next)
	if err := c.first(); err != nil {
		return s, err
	}
	s.Cost = &next
	return s, nil
}
