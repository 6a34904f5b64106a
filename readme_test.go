package main

import (
	"bufio"
	"bytes"
	"flag"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/creack/pty"
	"github.com/hinshun/vt10x"
	"github.com/stretchr/testify/require"
)

// updateReadme writes what the program shows into the README instead of
// comparing the two; look at the difference before keeping it.
var updateReadme = flag.Bool("update-readme", false, "write the screens into README.md")

// screen is one picture of the program in the README: a code block below a
// comment that says how it is made. A command's output:
//
//	<!-- shown by: cabwright check testdata/stones/nugget.stone -->
//
// or the workbench at a size, after keys that are typed one after the other:
//
//	<!-- shown by: 80x24 cabwright testdata/stones/seam.stone, keys: 3 Down -->
var screenComment = regexp.MustCompile(`(?m)^<!-- shown by: (.*) -->\n\n` + "```" + `text\n((?s:.*?))` + "```" + `\n`)

// varying is what differs from run to run: the time a search took.
var varying = regexp.MustCompile(`\(?\b\d+\.\d+ s\)?`)

func steady(screen string) string {
	var lines []string
	for _, l := range strings.Split(varying.ReplaceAllString(screen, "(0.0 s)"), "\n") {
		lines = append(lines, strings.TrimRight(l, " "))
	}
	return strings.TrimRight(strings.Join(lines, "\n"), "\n") + "\n"
}

// Every screen the README shows is what the program shows today.
func TestReadmeShowsTheProgramAsItIs(t *testing.T) {
	text, err := os.ReadFile("README.md")
	require.NoError(t, err)
	shown := screenComment.FindAllSubmatchIndex(text, -1)
	require.NotEmpty(t, shown)
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	t.Setenv("LC_ALL", "C.UTF-8")
	var out bytes.Buffer
	at := 0
	for _, m := range shown {
		how, want := string(text[m[2]:m[3]]), string(text[m[4]:m[5]])
		got := show(t, how)
		out.Write(text[at:m[4]])
		out.WriteString(got)
		at = m[5]
		if !*updateReadme {
			require.Equal(t, want, got, "%s; go test -run Readme -update-readme . writes it anew", how)
		}
	}
	if *updateReadme {
		out.Write(text[at:])
		require.NoError(t, os.WriteFile("README.md", out.Bytes(), 0o644))
	}
}

// pictureComment says how the README's pictures are made, with which presets of
// one's own if any:
//
//	<!-- pictures by: cabwright FILE --picture FILE.svg, presets: FILE.json -->
var pictureComment = regexp.MustCompile(`(?m)^<!-- pictures by: (.*) -->$`)

// Every picture the README shows is what the program draws today. Pictures are
// compared as files: the same plan is drawn the same everywhere.
func TestReadmePicturesAreMadeAnew(t *testing.T) {
	text, err := os.ReadFile("README.md")
	require.NoError(t, err)
	made := pictureComment.FindAllSubmatch(text, -1)
	require.NotEmpty(t, made)
	seen := map[string]bool{}
	for _, m := range made {
		command, presets, own := strings.Cut(string(m[1]), ", presets: ")
		config := t.TempDir()
		t.Setenv("XDG_CONFIG_HOME", config)
		if own {
			data, err := os.ReadFile(presets)
			require.NoError(t, err)
			require.NoError(t, os.Mkdir(filepath.Join(config, "cabwright"), 0o700))
			require.NoError(t, os.WriteFile(filepath.Join(config, "cabwright", "presets.json"), data, 0o600))
		}
		words := strings.Fields(command)
		at := slices.Index(words, "--picture") + 1
		require.Positive(t, at)
		kept, dir := filepath.Dir(words[at]), t.TempDir()
		if *updateReadme {
			dir = kept
		}
		words[at] = filepath.Join(dir, filepath.Base(words[at]))
		out, err := exec.Command(words[0], append(words[1:], "--force")...).CombinedOutput()
		require.NoError(t, err, "%s", out)
		files, err := filepath.Glob(filepath.Join(dir, "*.svg"))
		require.NoError(t, err)
		for _, f := range files {
			got, err := os.ReadFile(f)
			require.NoError(t, err)
			want, err := os.ReadFile(filepath.Join(kept, filepath.Base(f)))
			require.NoError(t, err)
			require.True(t, bytes.Equal(want, got), "%s: go test -run Readme -update-readme . draws it anew", f)
			seen[filepath.ToSlash(filepath.Join(kept, filepath.Base(f)))] = true
		}
	}
	for _, m := range regexp.MustCompile(`\((testdata/pictures/[^)]*)\)`).FindAllSubmatch(text, -1) {
		require.True(t, seen[string(m[1])], "%s is made by no comment", m[1])
	}
}

// show carries out one comment. A workbench is looked at once its search has ended.
func show(t *testing.T, how string) string {
	t.Helper()
	size, command, onScreen := strings.Cut(how, " ")
	var cols, rows int
	if n, _ := fmt.Sscanf(size, "%dx%d", &cols, &rows); n != 2 || !onScreen {
		words := strings.Fields(how)
		text, err := exec.Command(words[0], words[1:]...).Output()
		require.NoError(t, err, how)
		return steady(string(text))
	}
	command, keys, _ := strings.Cut(command, ", keys: ")
	words := strings.Fields(command)
	// The stone is opened as a copy: the workbench writes beside it.
	for i, w := range words {
		if filepath.Ext(w) == ".stone" {
			words[i] = copyOf(t, w)
		}
	}
	s := startScreen(t, cols, rows, words...)
	for _, key := range strings.Fields(keys) {
		s.wait(drawn)
		s.key(t, key)
	}
	return s.wait(ended)
}

func copyOf(t *testing.T, path string) string {
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	to := filepath.Join(t.TempDir(), filepath.Base(path))
	require.NoError(t, os.WriteFile(to, data, 0o600))
	return to
}

// terminalScreen is a program on a terminal emulator.
type terminalScreen struct {
	vt   vt10x.Terminal
	tty  *os.File
	done chan error
}

func startScreen(t *testing.T, cols, rows int, words ...string) *terminalScreen {
	t.Helper()
	cmd := exec.Command(words[0], words[1:]...)
	cmd.Env = append(os.Environ(), "TERM=tmux-256color", "XDG_STATE_HOME="+t.TempDir(), "XDG_DATA_HOME="+t.TempDir())
	tty, err := pty.StartWithSize(cmd, &pty.Winsize{Cols: uint16(cols), Rows: uint16(rows)})
	require.NoError(t, err)
	s := &terminalScreen{vt: vt10x.New(vt10x.WithSize(cols, rows)), tty: tty, done: make(chan error, 1)}
	go func() {
		read := bufio.NewReader(tty)
		for {
			if err := s.vt.Parse(read); err != nil {
				break
			}
		}
		s.done <- cmd.Wait()
	}()
	t.Cleanup(func() {
		_ = cmd.Process.Kill()
		<-s.done
		_ = tty.Close()
	})
	return s
}

// named are the keys that are written by name, as a terminal sends them.
var named = map[string]string{
	"Enter": "\r", "Esc": "\x1b", "Tab": "\t", "Space": " ", "Backspace": "\x7f",
	"Up": "\x1b[A", "Down": "\x1b[B", "Right": "\x1b[C", "Left": "\x1b[D", "PgDn": "\x1b[6~", "PgUp": "\x1b[5~",
}

func (s *terminalScreen) key(t *testing.T, key string) {
	if seq, ok := named[key]; ok {
		key = seq
	}
	_, err := io.WriteString(s.tty, key)
	require.NoError(t, err)
}

// still is the screen without its answer line, the second, which tells how far the
// search is.
func (s *terminalScreen) still() string {
	lines := strings.Split(strings.TrimRight(s.vt.String(), "\n"), "\n")
	if _, rows := s.vt.Size(); len(lines) == rows {
		lines[1] = ""
	}
	return steady(strings.Join(lines, "\n"))
}

// wait returns the screen once it has stayed the same for a second and whatever it
// waits for is so, or after minutes whatever it is.
func (s *terminalScreen) wait(ready func(screen string) bool) string {
	const settle = time.Second
	last, since := "", time.Now()
	for end := time.Now().Add(8 * time.Minute); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		now := s.still()
		if now != last {
			last, since = now, time.Now()
		}
		if time.Since(since) > settle && ready(s.vt.String()) {
			return now
		}
	}
	return last
}

// drawn tells whether there is anything on a screen.
func drawn(screen string) bool { return strings.TrimSpace(screen) != "" }

// ended tells whether the answer line says how the search ended: what is shown before
// that depends on the moment.
func ended(screen string) bool { return strings.Contains(screen, " decided") }
