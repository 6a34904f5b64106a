//go:build race

package planner

// slower is how much longer a timed test may take under the race detector,
// which slows a program 2 to 20 times (https://go.dev/doc/articles/race_detector).
const slower = 20
