package geometry

import "math"

// Turn returns the exact sign of the turn from a over b to c: 1 when c lies to
// the left of the line from a to b, -1 to the right, 0 on it. The coordinates
// are finite and, where not zero, far above the smallest doubles.
//
// The plain determinant decides unless it is smaller than its rounding error,
// (3 + 16 u) u times the sum of the two products' sizes (Shewchuk 1997,
// "Adaptive precision floating-point arithmetic", orient2d's bound A); then the
// six products are summed without error.
func Turn(a, b, c Vec2) int {
	left, right := (a.X-c.X)*(b.Y-c.Y), (a.Y-c.Y)*(b.X-c.X)
	det := left - right
	const u = 1.0 / (1 << 53)
	if math.Abs(det) > (3+16*u)*u*(math.Abs(left)+math.Abs(right)) {
		return sign(det)
	}
	return exactTurn(a, b, c)
}

// exactTurn sums ax by - ay bx + bx cy - by cx + cx ay - cy ax exactly, as an
// expansion whose parts do not overlap; its sign is that of its largest part.
func exactTurn(a, b, c Vec2) int {
	var parts [12]float64
	n := 0
	for _, f := range [...][2]float64{{a.X, b.Y}, {-a.Y, b.X}, {b.X, c.Y}, {-b.Y, c.X}, {c.X, a.Y}, {-c.Y, a.X}} {
		product := f[0] * f[1]
		rest := math.FMA(f[0], f[1], -product) // product + rest is exact
		for _, term := range [...]float64{rest, product} {
			sum := term
			for i := range parts[:n] { // grow the expansion (Shewchuk, theorem 10)
				sum, parts[i] = twoSum(sum, parts[i])
			}
			parts[n] = sum
			n++
		}
	}
	for n--; n >= 0; n-- {
		if parts[n] != 0 {
			return sign(parts[n])
		}
	}
	return 0
}

// twoSum returns a + b rounded and what the rounding left out (Knuth).
func twoSum(a, b float64) (sum, rest float64) {
	sum = a + b
	back := sum - a
	return sum, (a - (sum - back)) + (b - back)
}

func sign(v float64) int {
	switch {
	case v > 0:
		return 1
	case v < 0:
		return -1
	}
	return 0
}
