//go:build race

package ui

// slower is how many times as long as usual a test may wait: the race detector
// slows everything down that much.
const slower = 5
