package stopwatch

import "time"

// Took returns the processor time, of all goroutines, that the program uses
// while do runs.
func Took(do func()) time.Duration {
	start := Used()
	do()
	return Used() - start
}
