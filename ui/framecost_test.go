//go:build unix

package ui

import (
	"fmt"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/require"

	"cabwright/planner/stonefile"
	"cabwright/presets"
)

// inColour returns the workbench on a demo stone as settled does, in 24-bit colour
// on a dark ground.
func inColour(t testing.TB, name string, cols, rows int) *Model {
	t.Helper()
	doc, err := stonefile.Read(filepath.Join("..", "testdata", "stones", name), presets.Builtin())
	require.NoError(t, err)
	env := map[string]string{"TERM": "xterm", "COLORTERM": "truecolor", "COLORFGBG": "15;0"}
	cfg := Config{Getenv: func(k string) string { return env[k] }, Presets: presets.Builtin(), Search: fakeSearch}
	m := newWorkbench(cfg, doc.Stone, &memoryStore{path: name})
	m.Update(tea.WindowSizeMsg{Width: cols, Height: rows})
	settle(t, m)
	return m
}

// spent returns the processor time this process has taken.
func spent(t testing.TB) time.Duration {
	var use syscall.Rusage
	require.NoError(t, syscall.Getrusage(syscall.RUSAGE_SELF, &use))
	return time.Duration(use.Utime.Nano() + use.Stime.Nano())
}

// BenchmarkFrame is the processor time of a whole painted screen, in each view:
// it is to stay under 4 ms at 160x50 and under 30 ms at 500x200.
func BenchmarkFrame(b *testing.B) {
	for _, size := range [][2]int{{80, 24}, {160, 50}, {500, 200}} {
		for i, name := range []string{"outline", "marks", "fits", "section", "saw", "worth", "diary"} {
			b.Run(fmt.Sprintf("%s-%dx%d", name, size[0], size[1]), func(b *testing.B) {
				m := inColour(b, "nodule.stone", size[0], size[1])
				m.open(i)
				settle(b, m)
				b.ResetTimer()
				before := spent(b)
				for range b.N {
					m.View()
				}
				b.ReportMetric(float64((spent(b)-before).Microseconds())/1000/float64(b.N), "cpu-ms/op")
			})
		}
	}
}

// BenchmarkMovedCut is the processor time from a key that moves a saw cut to the painted
// screen, with the cut's spare as it is then: it is to stay under 16 ms.
func BenchmarkMovedCut(b *testing.B) {
	for _, name := range []string{"nodule", "one-crack", "nugget", "hard/boulder"} {
		b.Run(name, func(b *testing.B) {
			m := inColour(b, name+".stone", 160, 50)
			m.open(4)
			settle(b, m)
			press(b, m, "a")
			require.NotEmpty(b, m.s.Stone().Cuts)
			before := spent(b)
			for n := range b.N {
				m.Update(tea.KeyMsg{Type: []tea.KeyType{tea.KeyRight, tea.KeyLeft}[n%2]})
				m.View()
			}
			b.ReportMetric(float64((spent(b)-before).Microseconds())/1000/float64(b.N), "cpu-ms/op")
		})
	}
}
