// Package stopwatch measures work by the processor time it takes, so that a
// test of speed holds on a busy machine as well. Only tests import it.
package stopwatch
