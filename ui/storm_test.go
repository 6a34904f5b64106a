//go:build unix

package ui

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"github.com/creack/pty"
	"github.com/stretchr/testify/require"
)

// A thousand sizes in a row, from one cell up; then the screen is that of a session
// that kept its size. A screen noted before the storm might be half drawn.
func TestResizeStorm(t *testing.T) {
	t.Parallel()
	s := start(t, 80, 24, stoneFile(t, "nodule.stone"))
	s.waits("all decided")
	quietSession := start(t, 80, 24, stoneFile(t, "nodule.stone"))
	random := rand.New(rand.NewPCG(1, 2))
	for range 1000 {
		s.resize(1+random.IntN(300), 1+random.IntN(80))
		time.Sleep(300 * time.Microsecond)
	}
	s.resize(80, 24)
	quietSession.waits("all decided")
	s.until("the screen is as without a storm", func() bool { return s.screen() == quietSession.screen() })
	s.keys("q")
	require.Equal(t, 0, s.wait())
	s.restored()
}

func (s *session) resize(cols, rows int) {
	s.t.Helper()
	s.mu.Lock()
	s.term.Resize(cols, rows)
	s.mu.Unlock()
	require.NoError(s.t, pty.Setsize(s.tty, &pty.Winsize{Cols: uint16(cols), Rows: uint16(rows)}))
}

// A corner dragged over 20,000 motions, as fast as the terminal takes them, ends
// where it was let go: one edit, no key that nobody pressed, and no lag.
func TestLongDragOnTheScreen(t *testing.T) {
	s := start(t, 80, 24, stoneFile(t, "nodule.stone"))
	s.waits("all decided")
	col, row := s.find("•4")
	var stream strings.Builder
	fmt.Fprintf(&stream, "\x1b[<0;%d;%dM", col+1, row+1)
	const motions = 20_000
	for i := range motions {
		fmt.Fprintf(&stream, "\x1b[<32;%d;%dM", 25+i%11, 20+i%3)
	}
	fmt.Fprintf(&stream, "\x1b[<32;%d;%dM\x1b[<0;%d;%dm", 31, 22, 31, 22)
	s.send(stream.String())
	sent := s.worked()
	s.waits("Moved corner 4,")
	lag := s.worked() - sent
	s.keys("u")
	s.waits("Undone: Move corner 4.")
	s.keys("u")
	s.waits("Undo: nothing has been done yet")
	t.Logf("%d motions: the drawing was up to date %v of work after the last", motions, lag)
	require.Less(t, lag, slower*time.Second)
}
