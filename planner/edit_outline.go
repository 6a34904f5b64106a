package planner

import (
	"slices"

	"cabwright/geometry"
)

// SetOutline gives the whole outline: a simple polygon with an area.
func SetOutline(s Stone, corners []geometry.Vec2) (Stone, error) {
	var c checker
	c.outline("outline", corners)
	if err := c.first(); err != nil {
		return s, err
	}
	s.Outline = slices.Clone(corners)
	return s, nil
}

// MoveCorner puts corner i of the outline at a place.
func MoveCorner(s Stone, i int, to geometry.Vec2) (Stone, error) {
	if i < 0 || i >= len(s.Outline) {
		return no(s, "outline", i, len(s.Outline))
	}
	return SetOutline(s, with(s.Outline, i, to))
}

// AddCorner puts a new corner on edge i, between corner i and the next one.
func AddCorner(s Stone, edge int, at geometry.Vec2) (Stone, error) {
	if edge < 0 || edge >= len(s.Outline) {
		return no(s, "outline", edge, len(s.Outline))
	}
	return SetOutline(s, inserted(s.Outline, edge+1, at))
}

// SplitEdge puts a new corner in the middle of edge i.
func SplitEdge(s Stone, edge int) (Stone, error) {
	if edge < 0 || edge >= len(s.Outline) {
		return no(s, "outline", edge, len(s.Outline))
	}
	a, b := s.Outline[edge], s.Outline[(edge+1)%len(s.Outline)]
	return AddCorner(s, edge, tidy2(a.Add(b).Scale(0.5)))
}

// DeleteCorner takes corner i away.
func DeleteCorner(s Stone, i int) (Stone, error) {
	switch {
	case i < 0 || i >= len(s.Outline):
		return no(s, "outline", i, len(s.Outline))
	case len(s.Outline) <= 3:
		return refuse(s, "outline", "an outline keeps at least 3 corners")
	}
	return SetOutline(s, without(s.Outline, i))
}
