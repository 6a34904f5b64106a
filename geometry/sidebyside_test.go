package geometry

import (
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestSideBySideDoesAllAndRaisesAPanicInTheCaller(t *testing.T) {
	var sum atomic.Int64
	SideBySide(0, func(int) { t.Error("nothing was asked for") })
	SideBySide(100, func(i int) { sum.Add(int64(i)) })
	require.EqualValues(t, 4950, sum.Load())
	defer func() {
		p, ok := recover().(Panic)
		require.True(t, ok, "no panic in the caller's goroutine")
		require.Equal(t, "broken 3", p.String())
		require.Contains(t, string(p.Stack), "sidebyside_test.go")
	}()
	SideBySide(5, func(i int) {
		if i == 3 {
			panic("broken 3")
		}
	})
	t.Error("the panic was swallowed")
}
