package geometry

import (
	"cmp"
	"slices"
)

// ConvexHull returns the corners of the hull counter-clockwise, none of them
// between two others on a line (Andrew's monotone chain, 1979).
func ConvexHull(points []Vec2) []Vec2 {
	sorted := slices.Clone(points)
	slices.SortFunc(sorted, func(a, b Vec2) int { return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y)) })
	sorted = slices.Compact(sorted)
	if len(sorted) < 3 {
		return sorted
	}
	half := func(points []Vec2) []Vec2 {
		var chain []Vec2
		for _, p := range points {
			for len(chain) >= 2 && Turn(chain[len(chain)-2], chain[len(chain)-1], p) <= 0 {
				chain = chain[:len(chain)-1]
			}
			chain = append(chain, p)
		}
		return chain[:len(chain)-1]
	}
	lower := half(sorted)
	slices.Reverse(sorted)
	return append(lower, half(sorted)...)
}
