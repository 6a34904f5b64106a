package stonefile

import (
	"bufio"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"cabwright/planner"
	"cabwright/presets"

	"github.com/stretchr/testify/require"
)

// The tests of kills, of two workbenches and of failing system calls need
// processes of their own: this test binary, started again with a job.
const jobVariable = "CABWRIGHT_TEST_JOB"

func TestMain(m *testing.M) {
	if job := os.Getenv(jobVariable); job != "" {
		os.Exit(work(job, os.Args[1:]))
	}
	os.Exit(m.Run())
}

// work does a job in a child process and returns its exit status.
func work(job string, args []string) int {
	file, state := args[0], args[1]
	o := Options{Set: presets.Builtin(), StateFolder: state}
	var err error
	switch job {
	case "save for ever":
		err = saveForEver(file, o)
	case "save for ever in place":
		err = saveForEverBadly(file)
	case "save in turns":
		err = saveInTurns(file, o, args[2])
	case "save in turns badly":
		err = saveInTurnsBadly(file, args[2])
	case "save once":
		err = saveOnce(file, o, goodSaver)
	case "save once in place":
		err = saveOnce(file, o, badSavers[0])
	}
	if err != nil {
		fmt.Println("failed:", err)
		return 1
	}
	return 0
}

// child returns the command for a job.
func child(job string, args ...string) *exec.Cmd {
	self, err := os.Executable()
	if err != nil {
		panic(err)
	}
	cmd := exec.Command(self, args...)
	cmd.Env = append(os.Environ(), jobVariable+"="+job)
	cmd.Stderr = os.Stderr
	return cmd
}

// bulky is a stone whose file takes many pages, so that a kill can come in the
// middle of writing it. Its name counts.
func bulky(t testing.TB, n int) planner.Stone {
	t.Helper()
	s := parseSample(t).Stone
	s.Unknown = append(s.Unknown, planner.UnknownKey{Name: "ballast",
		Value: []byte(`"` + strings.Repeat("ballast ", 32<<10) + `"`)})
	s.Name = strconv.Itoa(n)
	return s
}

// saveForEver edits and saves until it is killed, saying what is done.
func saveForEver(file string, o Options) error {
	s, err := Open(file, o)
	if err != nil {
		return err
	}
	stone := s.Stone()
	if s.Found() != nil {
		if stone, err = s.Recover(); err != nil {
			return err
		}
	}
	n, err := strconv.Atoi(stone.Name)
	if err != nil {
		return err
	}
	for change := uint64(1); ; change++ {
		n++
		stone.Name = strconv.Itoa(n)
		if err := s.Record(change, "Rename", stone); err != nil {
			return err
		}
		fmt.Println("edited", n)
		if n%3 != 0 {
			continue // so that a kill also finds a journal with several edits
		}
		if err := s.Save(change, stone); err != nil {
			return err
		}
		fmt.Println("saved", n)
	}
}

// saveForEverBadly writes the file over in place.
func saveForEverBadly(file string) error {
	doc, err := Read(file, presets.Builtin())
	if err != nil {
		return err
	}
	n, err := strconv.Atoi(doc.Stone.Name)
	if err != nil {
		return err
	}
	for {
		n++
		stone := doc.Stone
		stone.Name = strconv.Itoa(n)
		if err := saveInPlace(osDisk{}, file, format(stone)); err != nil {
			return err
		}
		fmt.Println("edited", n)
		fmt.Println("saved", n)
	}
}

// killed starts a job, kills it after a while and returns what it said it had
// done last.
func killed(t *testing.T, job string, after time.Duration, args ...string) (edited, saved int) {
	t.Helper()
	cmd := child(job, args...)
	out, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	lines := bufio.NewScanner(out)
	started := false
	for lines.Scan() {
		what, number, _ := strings.Cut(lines.Text(), " ")
		require.NotEqual(t, "failed:", what, lines.Text())
		n, err := strconv.Atoi(number)
		require.NoError(t, err)
		switch what {
		case "edited":
			edited = n
		case "saved":
			saved = n
		}
		if !started {
			started = true
			time.AfterFunc(after, func() { _ = cmd.Process.Kill() })
		}
	}
	_ = cmd.Wait()
	return edited, saved
}

// killMany kills a job many times over and returns what went wrong.
func killMany(t *testing.T, job string, times int) (wrong []string, temporary int) {
	dir := t.TempDir()
	file, state := filepath.Join(dir, "a.stone"), filepath.Join(dir, "state")
	require.NoError(t, os.WriteFile(file, format(bulky(t, 0)), 0o644))
	o := Options{Set: presets.Builtin(), StateFolder: state}
	for i := range times {
		// Moments spread evenly over 20 ms: a save takes a few.
		after := time.Duration(i*7919%20_000) * time.Microsecond
		edited, saved := killed(t, job, after, file, state)
		temps, err := filepath.Glob(filepath.Join(dir, ".*"+savingSuffix))
		require.NoError(t, err)
		temporary += len(temps)
		if len(temps) > 1 {
			wrong = append(wrong, fmt.Sprintf("kill %d: %v left over", i, temps))
		}
		s, err := Open(file, o)
		if err != nil {
			return append(wrong, fmt.Sprintf("kill %d: %v", i, err)), temporary
		}
		n, _ := strconv.Atoi(s.Stone().Name)
		if n < saved {
			wrong = append(wrong, fmt.Sprintf("kill %d: saved %d, the file holds %d", i, saved, n))
		}
		if f := s.Found(); f != nil {
			n, _ = strconv.Atoi(f.Stone.Name)
		}
		if n < edited {
			wrong = append(wrong, fmt.Sprintf("kill %d: edited %d, found %d", i, edited, n))
		}
		require.NoError(t, s.Close())
		temps, err = filepath.Glob(filepath.Join(dir, ".*"+savingSuffix))
		require.NoError(t, err)
		require.Empty(t, temps, "swept on opening")
	}
	return wrong, temporary
}

func TestKillsWhileSaving(t *testing.T) {
	times := longOr(25, 1000)
	wrong, temporary := killMany(t, "save for ever", times)
	require.Empty(t, wrong)
	t.Logf("%d kills, %d of them within a save", times, temporary)
	wrong, _ = killMany(t, "save for ever in place", 25)
	require.NotEmpty(t, wrong, "a saver in place passes")
}

// saveInTurns adds its mark to the stone's name 20 times, opening anew each
// time, while another process does the same.
func saveInTurns(file string, o Options, who string) error {
	for turn := 1; turn <= 20; {
		s, err := Open(file, o)
		if err != nil {
			return err
		}
		if s.ReadOnly() != nil { // told, not lost: try again
			if err := s.Close(); err != nil {
				return err
			}
			time.Sleep(time.Millisecond)
			continue
		}
		stone := s.Stone()
		stone.Name += fmt.Sprintf(" %s%d.", who, turn)
		if err := s.Save(1, stone); err != nil {
			return err
		}
		fmt.Printf("%s%d.\n", who, turn)
		turn++
		if err := s.Close(); err != nil {
			return err
		}
	}
	return nil
}

// saveInTurnsBadly asks for no lock and does not look whether the file is the
// one it read.
func saveInTurnsBadly(file, who string) error {
	for turn := 1; turn <= 20; turn++ {
		doc, err := Read(file, presets.Builtin())
		if err != nil {
			return err
		}
		stone := doc.Stone
		stone.Name += fmt.Sprintf(" %s%d.", who, turn)
		temp := file + who
		if err := os.WriteFile(temp, format(stone), 0o644); err != nil {
			return err
		}
		if err := os.Rename(temp, file); err != nil {
			return err
		}
		fmt.Printf("%s%d.\n", who, turn)
	}
	return nil
}

// twoOpeners lets two processes save in turns and returns how many saves were
// acknowledged and which of them are lost.
func twoOpeners(t *testing.T, job string) (saves int, lost []string) {
	dir := t.TempDir()
	file, state := filepath.Join(dir, "a.stone"), filepath.Join(dir, "state")
	require.NoError(t, os.WriteFile(file, []byte(sample), 0o644))
	type result struct {
		out []byte
		err error
	}
	results := make(chan result)
	for _, who := range []string{"a", "b"} {
		go func() {
			out, err := child(job, file, state, who).Output()
			results <- result{out, err}
		}()
	}
	var said []string
	for range 2 {
		r := <-results
		require.NoError(t, r.err, string(r.out))
		said = append(said, strings.Fields(string(r.out))...)
	}
	doc, err := Read(file, presets.Builtin())
	require.NoError(t, err)
	for _, mark := range said {
		if !strings.Contains(doc.Stone.Name, " "+mark) {
			lost = append(lost, mark)
		}
	}
	return len(said), lost
}

func TestTwoOpenersLoseNothing(t *testing.T) {
	total, rounds := 0, longOr(2, 50)
	for range rounds {
		saves, lost := twoOpeners(t, "save in turns")
		require.Empty(t, lost)
		require.Equal(t, 40, saves)
		total += saves
	}
	t.Logf("%d rounds, %d saves", rounds, total)
	var lost []string
	for range 5 {
		_, l := twoOpeners(t, "save in turns badly")
		lost = append(lost, l...)
	}
	require.NotEmpty(t, lost, "a saver without a lock passes")
}

// saveOnce opens a stone, edits it and saves it: as one run of a program.
func saveOnce(file string, o Options, how saver) error {
	s, err := Open(file, o)
	if err != nil {
		return err
	}
	defer s.Close()
	stone := s.Stone()
	stone.Name = "edited"
	if err := s.Record(1, "Rename", stone); err != nil {
		fmt.Println("warning:", err)
	}
	if how.name != goodSaver.name {
		return how.save(osDisk{}, file, format(stone))
	}
	return s.Save(1, stone)
}
