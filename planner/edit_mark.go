package planner

import (
	"fmt"
	"slices"

	"cabwright/geometry"
)

// AddCrack adds a crack; one without an id is given the first free one.
func AddCrack(s Stone, k Crack) (Stone, error) {
	id, err := newID(s, "C", k.ID)
	if err != nil {
		return s, err
	}
	k.ID = id
	return putCrack(s, len(s.Cracks), k)
}

// ReplaceCrack changes the crack with an id; its unknown keys stay with it.
func ReplaceCrack(s Stone, id string, k Crack) (Stone, error) {
	i := slices.IndexFunc(s.Cracks, func(o Crack) bool { return o.ID == id })
	if i < 0 {
		return noMark(s, id)
	}
	k.ID, k.Unknown = id, s.Cracks[i].Unknown
	return putCrack(s, i, k)
}

func putCrack(s Stone, i int, k Crack) (Stone, error) {
	var c checker
	c.crack(fmt.Sprintf("cracks[%d]", i), k)
	if err := c.first(); err != nil {
		return s, err
	}
	k.Path = slices.Clone(k.Path)
	k.DepthRange, k.RunOnRange, k.Chance = own(k.DepthRange), own(k.RunOnRange), own(k.Chance)
	s.Cracks = put(s.Cracks, i, k)
	return s, nil
}

// AddPocket adds a pocket; one without an id is given the first free one.
func AddPocket(s Stone, p Pocket) (Stone, error) {
	id, err := newID(s, "P", p.ID)
	if err != nil {
		return s, err
	}
	p.ID = id
	return putPocket(s, len(s.Pockets), p)
}

// ReplacePocket changes the pocket with an id; its unknown keys stay with it.
func ReplacePocket(s Stone, id string, p Pocket) (Stone, error) {
	i := slices.IndexFunc(s.Pockets, func(o Pocket) bool { return o.ID == id })
	if i < 0 {
		return noMark(s, id)
	}
	p.ID, p.Unknown = id, s.Pockets[i].Unknown
	return putPocket(s, i, p)
}

// putPocket lets go what is said of heights or of a depth that a pocket on its
// face does not have.
func putPocket(s Stone, i int, p Pocket) (Stone, error) {
	p.DepthRange, p.TopRange, p.BottomRange = own(p.DepthRange), own(p.TopRange), own(p.BottomRange)
	p.Chance = own(p.Chance)
	if p.Face == Through || p.Face == Inside {
		p.DepthRange = nil
	}
	if p.Face != Inside {
		p.TopRange, p.BottomRange = nil, nil
	}
	var c checker
	c.pocket(fmt.Sprintf("pockets[%d]", i), p)
	if err := c.first(); err != nil {
		return s, err
	}
	p.Outline = slices.Clone(p.Outline)
	s.Pockets = put(s.Pockets, i, p)
	return s, nil
}

// AddZone adds a colour zone; one without an id is given the first free one.
func AddZone(s Stone, z Zone) (Stone, error) {
	id, err := newID(s, "Z", z.ID)
	if err != nil {
		return s, err
	}
	z.ID = id
	return putZone(s, len(s.Colour), z)
}

// ReplaceZone changes the colour zone with an id; its unknown keys stay with it.
func ReplaceZone(s Stone, id string, z Zone) (Stone, error) {
	i := slices.IndexFunc(s.Colour, func(o Zone) bool { return o.ID == id })
	if i < 0 {
		return noMark(s, id)
	}
	z.ID, z.Unknown = id, s.Colour[i].Unknown
	return putZone(s, i, z)
}

func putZone(s Stone, i int, z Zone) (Stone, error) {
	var c checker
	c.zone(fmt.Sprintf("colour[%d]", i), z)
	if err := c.first(); err != nil {
		return s, err
	}
	z.Outline = slices.Clone(z.Outline)
	s.Colour = put(s.Colour, i, z)
	return s, nil
}

// own returns a pointer to a copy, or nil for nil.
func own[E any](p *E) *E {
	if p == nil {
		return nil
	}
	return new(*p)
}

// put returns a copy of a list with v at i, which may be just behind its end.
func put[E any](list []E, i int, v E) []E {
	if i == len(list) {
		return inserted(list, i, v)
	}
	return with(list, i, v)
}

// DeleteMark takes away the crack, pocket or colour zone with an id.
func DeleteMark(s Stone, id string) (Stone, error) {
	if i := slices.IndexFunc(s.Cracks, func(k Crack) bool { return k.ID == id }); i >= 0 {
		s.Cracks = without(s.Cracks, i)
		return s, nil
	}
	if i := slices.IndexFunc(s.Pockets, func(p Pocket) bool { return p.ID == id }); i >= 0 {
		s.Pockets = without(s.Pockets, i)
		return s, nil
	}
	if i := slices.IndexFunc(s.Colour, func(z Zone) bool { return z.ID == id }); i >= 0 {
		s.Colour = without(s.Colour, i)
		return s, nil
	}
	return noMark(s, id)
}

// MoveMark moves the crack, pocket or colour zone with an id in plan.
func MoveMark(s Stone, id string, by geometry.Vec2) (Stone, error) {
	moved := func(points []geometry.Vec2) []geometry.Vec2 {
		return mapped(points, func(p geometry.Vec2) geometry.Vec2 { return tidy2(p.Add(by)) })
	}
	for i, k := range s.Cracks {
		if k.ID == id {
			k.Path = moved(k.Path)
			return putCrack(s, i, k)
		}
	}
	for i, p := range s.Pockets {
		if p.ID == id {
			p.Outline = moved(p.Outline)
			return putPocket(s, i, p)
		}
	}
	for i, z := range s.Colour {
		if z.ID == id {
			z.Outline = moved(z.Outline)
			return putZone(s, i, z)
		}
	}
	return noMark(s, id)
}

func noMark(s Stone, id string) (Stone, error) {
	return refuse(s, "marks", "there is no mark %s", Visible(id))
}

// newID returns the id for a new mark.
func newID(s Stone, letter, id string) (string, error) {
	used := MarkIDs(s)
	switch {
	case len(s.Cracks)+len(s.Pockets)+len(s.Colour) >= MaxMarks:
		return "", Problem{Place: "marks", What: fmt.Sprintf("a stone has at most %d marks", MaxMarks)}
	case id == "":
		return FreeID(used, letter), nil
	case used[id]:
		return "", Problem{Place: "marks", What: fmt.Sprintf("there is a mark %s already", Visible(id))}
	}
	return id, nil
}
