//go:build unix

package ui

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/planner/stonefile"
	"cabwright/presets"
)

// edited starts the program and makes one edit, which is not saved.
func edited(t *testing.T, env ...string) *session {
	s := start(t, 80, 24, stoneFile(t, "nodule.stone"), env...)
	s.waits("all decided")
	s.keys("<tab>", "<right>")
	s.waits("not saved")
	return s
}

// keptEdits checks that the edit of edited is found when the stone is opened again.
func (s *session) keptEdits() {
	s.t.Helper()
	home := ""
	for _, e := range s.cmd.Env {
		if v, ok := strings.CutPrefix(e, "XDG_STATE_HOME="); ok {
			home = v
		}
	}
	again, err := stonefile.Open(s.file, stonefile.Options{Set: presets.Builtin(),
		StateFolder: filepath.Join(home, "cabwright")})
	require.NoError(s.t, err)
	defer again.Close()
	found := again.Found()
	require.NotNil(s.t, found, "the edit is lost")
	require.Equal(s.t, "Move corner 1", found.Names[len(found.Names)-1])
	require.InDelta(s.t, -13.5, found.Stone.Outline[0].X, 1e-9)
}

// However the program ends, the terminal is as it was and the edit is kept.
func TestEveryWayOutRestoresTheTerminalAndKeepsTheEdits(t *testing.T) {
	t.Parallel()
	signal := func(sig syscall.Signal) func(s *session) {
		return func(s *session) { require.NoError(s.t, s.cmd.Process.Signal(sig)) }
	}
	for name, c := range map[string]struct {
		env    string
		leave  func(s *session)
		status int
		says   string
	}{
		"leave": {"", func(s *session) { s.keys("q"); s.waits("not saved"); s.keys("l", "<enter>") }, 0,
			"opening it again offers them"},
		"ctrl+c":      {"", func(s *session) { s.keys("<ctrl+c>") }, 0, "opening it again offers them"},
		"SIGINT":      {"", signal(syscall.SIGINT), 1, "interrupt"},
		"SIGTERM":     {"", signal(syscall.SIGTERM), 1, "terminated"},
		"SIGQUIT":     {"", signal(syscall.SIGQUIT), 1, "quit"},
		"SIGHUP":      {"", signal(syscall.SIGHUP), 1, "hangup"},
		"in Update":   {"update", func(s *session) { s.keys("9") }, 1, "a fault of the program's own: broken update"},
		"in View":     {"view", func(s *session) { s.keys("9") }, 1, "a fault of the program's own: broken view"},
		"in Cmd":      {"cmd", func(s *session) { s.keys("9") }, 1, "a fault of the program's own: broken cmd"},
		"in a batch":  {"batch", func(s *session) { s.keys("9") }, 1, "a fault of the program's own: broken cmd"},
		"in a worker": {"worker", func(s *session) { s.keys("9") }, 1, "a fault of the program's own: broken search"},
		"in a search": {"search", func(s *session) { s.keys("9") }, 1, "a fault of the program's own: broken search"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			s := edited(t, breakEnv+"="+c.env)
			c.leave(s)
			require.Equal(t, c.status, s.wait())
			s.restored()
			require.Contains(t, s.output(), c.says)
			s.keptEdits()
		})
	}
}

// An event loop that never comes back does not keep a signal from ending the
// program, with the terminal put right by hand: no mouse reports go to the shell.
func TestASignalEndsAProgramThatHangs(t *testing.T) {
	t.Parallel()
	for _, sig := range []syscall.Signal{syscall.SIGTERM, syscall.SIGHUP} {
		s := edited(t, breakEnv+"=hang")
		s.keys("9", "<right>")
		s.until("it hangs", func() bool { return strings.Contains(s.output(), hung) })
		require.NoError(t, s.cmd.Process.Signal(sig))
		require.Equal(t, 128+int(sig), s.wait())
		s.restored()
		s.keptEdits()
	}
}

// A terminal that goes away (its window is closed) leaves no program behind.
func TestClosedTerminalEndsTheProgram(t *testing.T) {
	t.Parallel()
	s := edited(t)
	require.NoError(t, s.tty.Close())
	s.wait()
	s.keptEdits()
}

func TestKilledProgramKeepsTheEdits(t *testing.T) {
	t.Parallel()
	s := edited(t)
	s.until("the edit is in the journal", func() bool {
		journals, _ := filepath.Glob(filepath.Join(filepath.Dir(s.file), ".*journal"))
		return len(journals) == 1
	})
	require.NoError(t, s.cmd.Process.Kill())
	s.wait()
	s.keptEdits()

	again := start(t, 80, 24, s.file)
	again.waits("Edits from a session that ended before saving: 1")
	again.keys("<esc>")
	again.waits("this must be decided first")
	again.keys("c", "<enter>")
	again.waits("outline: 1 of 10 corners differ")
	again.keys("r", "<enter>")
	again.waits("Recovered unsaved edits")
	again.keys("<tab>")
	again.waits("-13.50, -1.50")
	again.keys("<ctrl+s>")
	again.waits("Saved to")
	again.keys("q")
	require.Equal(t, 0, again.wait())
	stone, err := stonefile.Read(s.file, presets.Builtin())
	require.NoError(t, err)
	require.InDelta(t, -13.5, stone.Stone.Outline[0].X, 1e-9)
}

// Suspended, the terminal is the shell's; resumed, screen and mouse are back.
func TestSuspendAndResume(t *testing.T) {
	t.Parallel()
	file := stoneFile(t, "nodule.stone")
	shell := exec.Command("sh", "-c",
		`set -m; "$0" "$1"; echo SHELL; stty -a | grep -o -e '-icanon' -e ' icanon'; sleep 0.2; fg >/dev/null; echo END`,
		os.Args[0], file)
	s := launch(t, 80, 24, file, shell)
	s.waits("all decided")
	s.keys("<tab>")
	s.waits("Corner 1")
	s.keys("<ctrl+z>")
	s.waits("SHELL")
	s.waits(" icanon")
	require.NotContains(t, s.screen(), "The rough")
	s.restoredModes()
	s.waits("Corner 1")
	s.clickOn("2 Cracks")
	s.waits("Top, seen from above")
	s.keys("q")
	require.Equal(t, 0, s.wait())
	require.Contains(t, s.screen(), "END")
	s.restored()
}

// Without a terminal, or on one that can't move its cursor, the program says what
// to do instead and writes no sequence.
func TestWithoutATerminal(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		script string
		env    string
	}{
		"input from a file": {`"$0" "$1" </dev/null`, "TERM=xterm"},
		"output to a file":  {`"$0" "$1" >"$1.out"; status=$?; cat "$1.out"; exit $status`, "TERM=xterm"},
		"a dumb terminal":   {`"$0" "$1"`, "TERM=dumb"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			file := stoneFile(t, "nodule.stone")
			s := launch(t, 80, 24, file, exec.Command("sh", "-c", c.script, os.Args[0], file), c.env)
			require.Equal(t, 1, s.wait())
			require.Contains(t, s.output(), "--plain works without one")
			require.NotContains(t, s.output(), "\x1b")
		})
	}
}
