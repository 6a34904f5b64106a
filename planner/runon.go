package planner

import "cabwright/geometry"

// RunOn carries a crack's path on straight by the given length at both ends:
// where the crack is likely to run next.
func RunOn(path []geometry.Vec2, by float64) []geometry.Vec2 {
	n := len(path)
	if by <= 0 || n < 2 {
		return path
	}
	first, last := path[0].Sub(path[1]), path[n-1].Sub(path[n-2])
	out := []geometry.Vec2{path[0].Add(first.Scale(by / first.Norm()))}
	out = append(out, path...)
	return append(out, path[n-1].Add(last.Scale(by/last.Norm())))
}
