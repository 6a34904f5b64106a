//go:build !race

package planner

// slower is how much longer a timed test may take: no longer.
const slower = 1
