package stopwatch_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"cabwright/planner/stopwatch"
)

// Work counts and waiting does not.
func TestWorkCountsAndWaitingDoesNot(t *testing.T) {
	worked := stopwatch.Took(func() {
		x := 1.0
		for end := stopwatch.Used() + 50*time.Millisecond; stopwatch.Used() < end; x += 1 / x {
		}
	})
	waited := stopwatch.Took(func() { time.Sleep(50 * time.Millisecond) })
	require.GreaterOrEqual(t, worked, 50*time.Millisecond)
	require.Less(t, waited, 25*time.Millisecond)
}
