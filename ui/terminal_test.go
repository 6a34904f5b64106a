//go:build unix

package ui

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"regexp"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/charmbracelet/x/term"
	"github.com/creack/pty"
	"github.com/hinshun/vt10x"
	"github.com/stretchr/testify/require"
)

// session is the program running on a terminal of its own, with an emulator to
// look at its screen.
type session struct {
	t     testing.TB
	cmd   *exec.Cmd
	tty   *os.File // the master's end
	term  vt10x.Terminal
	mu    sync.Mutex
	raw   bytes.Buffer // everything that was written
	ended chan struct{}
	state *term.State // as it was before
	file  string
}

// start runs the program on a file. env are further variables, "NAME=value".
func start(t testing.TB, cols, rows int, file string, env ...string) *session {
	t.Helper()
	return launch(t, cols, rows, file, exec.Command(os.Args[0], file), env...)
}

// launch is start for a command that starts the program itself.
func launch(t testing.TB, cols, rows int, file string, cmd *exec.Cmd, env ...string) *session {
	t.Helper()
	home := t.TempDir()
	cmd.Env = append([]string{
		"PATH=" + os.Getenv("PATH"), "HOME=" + home, "XDG_STATE_HOME=" + home, "TMPDIR=" +
			home, "TERM=tmux-256color", "LANG=C.UTF-8", childEnv + "=1",
	}, env...)
	// The line discipline is noted before the program can have changed it.
	tty, slave, err := pty.Open()
	require.NoError(t, err)
	require.NoError(t, pty.Setsize(tty, &pty.Winsize{Cols: uint16(cols), Rows: uint16(rows)}))
	state, err := term.GetState(tty.Fd())
	require.NoError(t, err)
	cmd.Stdin, cmd.Stdout, cmd.Stderr = slave, slave, slave
	cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Setctty: true}
	err = cmd.Start()
	slave.Close()
	require.NoError(t, err)
	s := &session{t: t, cmd: cmd, tty: tty, term: vt10x.New(vt10x.WithSize(cols, rows)), ended: make(chan struct{}),
		file: file, state: state}
	go func() {
		defer close(s.ended)
		buf := make([]byte, 32<<10)
		cut := 0 // bytes of a character whose rest has not come: the emulator would drop it
		for {
			n, err := tty.Read(buf[cut:])
			whole := wholeRunes(buf[:cut+n])
			s.mu.Lock()
			s.raw.Write(buf[cut : cut+n])
			s.term.Write(buf[:whole])
			s.mu.Unlock()
			cut = copy(buf, buf[whole:cut+n])
			if err != nil {
				return
			}
		}
	}()
	t.Cleanup(func() {
		cmd.Process.Kill()
		cmd.Wait()
		tty.Close()
	})
	return s
}

// wholeRunes returns how many bytes of b are characters that are all there.
func wholeRunes(b []byte) int {
	for back := 1; back < utf8.UTFMax && back <= len(b); back++ {
		if tail := b[len(b)-back:]; utf8.RuneStart(tail[0]) && !utf8.FullRune(tail) {
			return len(b) - back
		}
	}
	return len(b)
}

// screen returns what the terminal shows, lines without spaces at their ends.
func (s *session) screen() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	lines := strings.Split(strings.TrimSuffix(s.term.String(), "\n"), "\n")
	for i := range lines {
		lines[i] = strings.TrimRight(lines[i], " ")
	}
	return strings.Join(lines, "\n")
}

// output returns everything that was written, whatever line ends the terminal
// or the screen's width put into it.
func (s *session) output() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return strings.NewReplacer("\r", "", "\n", "").Replace(s.raw.String())
}

// waits until the screen holds a text.
func (s *session) waits(text string) {
	s.t.Helper()
	s.until("the screen shows "+text, func() bool { return strings.Contains(s.screen(), text) })
}

// until waits until something is so of a whole screen.
func (s *session) until(what string, is func() bool) {
	s.t.Helper()
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(2 * time.Millisecond) {
		if s.whole() && is() {
			return
		}
	}
	s.t.Fatalf("waited too long until %s:\n%s", what, s.screen())
}

// frameEnd is how a frame ends: the cursor goes to its last line, or the screen is left.
var frameEnd = regexp.MustCompile(`\x1b\[\d+;\d*H|\x1b\[\?1049l`)

// whole reports whether the screen is one frame: what comes through the terminal in
// pieces may else show the head of a new one over the rest of an old one.
func (s *session) whole() bool {
	select {
	case <-s.ended:
		return true
	default:
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	raw := s.raw.Bytes()
	begun := bytes.LastIndex(raw, []byte("\x1b[H"))
	return begun < 0 || frameEnd.Match(raw[begun:])
}

// keys types keys; names in angle brackets are special ones.
func (s *session) keys(keys ...string) {
	s.t.Helper()
	special := map[string]string{
		"<enter>": "\r", "<esc>": "\x1b", "<tab>": "\t", "<back>": "\x7f", "<up>": "\x1b[A", "<down>": "\x1b[B",
		"<right>": "\x1b[C",
		"<left>":  "\x1b[D", "<ctrl+c>": "\x03", "<ctrl+z>": "\x1a", "<ctrl+s>": "\x13", "<ctrl+u>": "\x15",
	}
	for _, k := range keys {
		text, ok := special[k]
		if !ok {
			text = k
		}
		before := s.screen()
		s.send(text)
		if k == "<esc>" {
			s.apart(before)
		}
	}
}

// apart waits until an escape has been taken for a key, so that what follows is
// no sequence: twice the program's own wait for a rest, and on a busy machine
// until the screen has changed, or as long as it could take.
func (s *session) apart(before string) {
	const least, most = 60 * time.Millisecond, 500 * time.Millisecond
	time.Sleep(least)
	for end := time.Now().Add(most); s.screen() == before && time.Now().Before(end); time.Sleep(2 * time.Millisecond) {
	}
}

func (s *session) send(text string) {
	s.t.Helper()
	_, err := s.tty.WriteString(text)
	require.NoError(s.t, err)
}

// mouse reports the mouse in the terminal's SGR form; cells count from 0.
func (s *session) mouse(button, col, row int, end string) {
	s.send(fmt.Sprintf("\x1b[<%d;%d;%d%s", button, col+1, row+1, end))
}

func (s *session) click(col, row int) {
	s.mouse(0, col, row, "M")
	s.mouse(0, col, row, "m")
}

// clickOn clicks on the first cell of a text on the screen.
func (s *session) clickOn(text string) {
	s.t.Helper()
	s.waits(text)
	for row, line := range strings.Split(s.screen(), "\n") {
		if at := strings.Index(line, text); at >= 0 {
			s.click(len([]rune(line[:at])), row)
			return
		}
	}
	s.t.Fatalf("%s is gone from the screen", text)
}

// wait waits for the end of the program and returns its exit status.
func (s *session) wait() int {
	s.t.Helper()
	done := make(chan error, 1)
	go func() { done <- s.cmd.Wait() }()
	select {
	case <-done:
	case <-time.After(patience):
		s.t.Fatalf("the program does not end:\n%s", s.screen())
	}
	select {
	case <-s.ended:
	case <-time.After(patience):
	}
	if s.cmd.ProcessState.Sys().(syscall.WaitStatus).Signaled() {
		return -1
	}
	return s.cmd.ProcessState.ExitCode()
}

// restored checks that the terminal is as it was before the program: its line
// discipline, its own screen, a cursor, no mouse reports and no paste marks.
func (s *session) restored() {
	s.t.Helper()
	now, err := term.GetState(s.tty.Fd())
	require.NoError(s.t, err)
	require.Equal(s.t, s.state, now, "the terminal's line discipline")
	s.restoredModes()
}

// restoredModes is restored without the line discipline, which a shell sets as
// it likes.
func (s *session) restoredModes() {
	s.t.Helper()
	s.mu.Lock()
	defer s.mu.Unlock()
	mode := s.term.Mode()
	require.Zero(s.t, mode&vt10x.ModeAltScreen, "still on the other screen")
	require.Zero(s.t, mode&(vt10x.ModeMouseButton|vt10x.ModeMouseMotion|vt10x.ModeMouseMany|vt10x.ModeMouseX10),
		"mouse still reported")
	require.True(s.t, s.term.CursorVisible(), "no cursor")
	raw := s.raw.String()
	for _, m := range []string{"?1002", "?1003", "?1006", "?2004"} {
		require.GreaterOrEqual(s.t, strings.LastIndex(raw, "\x1b["+m+"l"), strings.LastIndex(raw, "\x1b["+m+"h"),
			"mode %s is still on", m)
	}
}
