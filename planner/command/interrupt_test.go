//go:build unix

package command

import (
	"context"
	"errors"
	"os"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"cabwright/planner"
	"cabwright/planner/search"
)

// A signal ends the search through its context, and the plan says so.
func TestInterruptStopsTheSearch(t *testing.T) {
	a := &app{hooks: Hooks{Search: func(ctx context.Context, s planner.Stone, _ search.Options,
		_ func(search.Plan)) (search.Plan, error) {
		require.NoError(t, syscall.Kill(os.Getpid(), syscall.SIGINT))
		select {
		case <-ctx.Done():
			return search.Plan{Stopped: search.Cancelled}, nil
		case <-time.After(time.Minute):
			return search.Plan{}, errors.New("the context did not end")
		}
	}}}
	plan, err := a.search(context.Background(), planner.Stone{}, search.Options{})
	require.NoError(t, err)
	require.Equal(t, search.Cancelled, plan.Stopped)
}
