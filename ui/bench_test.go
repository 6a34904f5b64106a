//go:build unix

package ui

import (
	"context"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/creack/pty"
	"github.com/stretchr/testify/require"

	"cabwright/planner"
	"cabwright/planner/search"
)

// firstFrame starts the program on a terminal that answers no question about its
// colours and returns how long it takes until the first frame is out.
func firstFrame(t testing.TB, file string) time.Duration {
	cmd := exec.Command(os.Args[0], file)
	home := t.TempDir()
	cmd.Env = []string{"HOME=" + home, "TERM=xterm-256color", childEnv + "=1"}
	begun := time.Now()
	tty, err := pty.StartWithSize(cmd, &pty.Winsize{Cols: 80, Rows: 24})
	require.NoError(t, err)
	defer func() {
		cmd.Process.Kill()
		cmd.Wait()
		tty.Close()
	}()
	var seen strings.Builder
	buf := make([]byte, 32<<10)
	for !strings.Contains(seen.String(), "The rough") {
		n, err := tty.Read(buf)
		require.NoError(t, err)
		seen.Write(buf[:n])
	}
	require.NotContains(t, seen.String(), "\x1b]11;?", "the terminal was asked for its background")
	return time.Since(begun)
}

// The first frame comes out with no question to the terminal before it: the
// library's own waits 5 s for an answer.
func TestFirstFrameWaitsForNoAnswer(t *testing.T) {
	t.Logf("first frame after %v", firstFrame(t, stoneFile(t, "nodule.stone")))
}

func BenchmarkFirstFrame(b *testing.B) {
	file := stoneFile(b, "nodule.stone")
	for range b.N {
		firstFrame(b, file)
	}
}

// An edit and the frame that shows it, in each view, while a search takes one of
// the processors: it must stay under 16 ms.
func BenchmarkEditToFrame(b *testing.B) {
	for _, size := range [][2]int{{80, 24}, {160, 50}} {
		for i, name := range []string{"outline", "marks", "fits", "section"} {
			b.Run(name+map[int]string{80: "-80x24", 160: "-160x50"}[size[0]], func(b *testing.B) {
				m := settled(b, "nodule.stone", size[0], size[1])
				m.open(i)
				m.s.Selected.Kind, m.s.Selected.Index = 1, 0
				ctx, cancel := context.WithCancel(context.Background())
				defer cancel()
				go spin(ctx)
				b.ResetTimer()
				for n := range b.N {
					x := -14 + float64(n%2)/10
					require.NoError(b, m.s.Do("Move corner 1", func(st planner.Stone) (planner.Stone, error) {
						at := st.Outline[0]
						at.X = x
						return planner.MoveCorner(st, 0, at)
					}))
					m.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("[")})
					m.View()
				}
			})
		}
	}
}

// spin keeps a processor busy as a search does.
func spin(ctx context.Context) {
	for x := 1.0; ctx.Err() == nil; x += 1 / x {
		_ = search.Plan{Progress: x}
	}
}

// The binary of the tests itself must not ask the terminal either, whatever it is
// told to do.
func TestImportingAsksTheTerminalNothing(t *testing.T) {
	cmd := exec.Command(os.Args[0], "-test.run=^$")
	cmd.Env = []string{"TERM=xterm-256color", "HOME=" + t.TempDir()}
	tty, err := pty.StartWithSize(cmd, &pty.Winsize{Cols: 80, Rows: 24})
	require.NoError(t, err)
	defer tty.Close()
	out := make([]byte, 4096)
	n, _ := tty.Read(out)
	require.NotContains(t, string(out[:n]), "\x1b]", "the terminal was asked for its colours")
	cmd.Wait()
}
