//go:build unix

package ui

import (
	"bytes"
	"fmt"
	"os"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// worked returns the processor time that the program has used so far, from
// /proc/PID/stat (proc(5): fields 14 and 15, in hundredths of a second), 0 where
// the system has no such file. What takes no more of it than it should is no
// slower for the other work that the machine has to do.
func (s *session) worked() time.Duration {
	stat, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", s.cmd.Process.Pid))
	if err != nil {
		return 0
	}
	fields := strings.Fields(string(stat[bytes.LastIndexByte(stat, ')')+1:])) // from the third on
	ticks := 0
	for _, f := range fields[11:13] {
		n, err := strconv.Atoi(f)
		require.NoError(s.t, err)
		ticks += n
	}
	return time.Duration(ticks) * 10 * time.Millisecond
}

// While the real search takes every processor it can get, an edit shows at once
// and the list does not go empty.
func TestAnEditShowsAtOnceWhileTheRealSearchRuns(t *testing.T) {
	s := start(t, 80, 24, stoneFile(t, "one-crack.stone"), realEnv+"=1")
	s.keys("3")
	s.until("the first fits are there", func() bool {
		return strings.Contains(s.screen(), "fit: all") && !strings.Contains(s.screen(), " 0 fit: all")
	})
	s.keys("1", "<tab>")
	s.waits("Corner 1")
	var worst time.Duration
	for i := range 10 {
		begun := s.worked()
		s.keys("<right>")
		s.waits(fmt.Sprintf("%.2f, -2.20", -14+0.5*float64(i+1)))
		worst = max(worst, s.worked()-begun)
	}
	s.keys("3")
	s.waits("fit: all")
	require.NotContains(t, s.screen(), " 0 fit: all", "the list went empty")
	t.Logf("an edit was on the screen after at most %v of work", worst)
	// The library puts out a frame every 16.7 ms, the emulator is asked every 2 ms
	// and the search holds every processor: a tenth of a second of each is still at once.
	require.Less(t, worst, slower*150*time.Millisecond*time.Duration(runtime.NumCPU()))
	s.keys("<ctrl+c>")
	require.Equal(t, 0, s.wait())
}
