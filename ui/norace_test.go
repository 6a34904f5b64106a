//go:build !race

package ui

// slower is how many times as long as usual a test may wait.
const slower = 1
