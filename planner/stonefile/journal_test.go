package stonefile

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"cabwright/geometry"
	"cabwright/planner"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestAChangeTurnsOneTextIntoTheOther(t *testing.T) {
	for _, c := range [][2]string{{"", ""}, {"", "a"}, {"a", ""}, {"abc", "abc"}, {"aaa", "aa"}, {"aa", "aaa"},
		{"漢字", "漢子"}, {"é", "è"}, {"abXcd", "abYcd"}} {
		r := change([]byte(c[0]), []byte(c[1]))
		got, err := r.apply([]byte(c[0]))
		require.NoError(t, err)
		require.Equal(t, c[1], string(got))
	}
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringOfN(rapid.RuneFrom([]rune("abé漢😀")), 0, 20, -1)
		before, after := text.Draw(t, "before"), text.Draw(t, "after")
		r := change([]byte(before), []byte(after))
		again, err := decodeRecord(r.encode())
		if err != nil {
			t.Fatal(err)
		}
		got, err := again.apply([]byte(before))
		if err != nil || string(got) != after {
			t.Fatalf("%q to %q gives %q, %v", before, after, got, err)
		}
	})
}

func TestARecordThatReachesOutsideTheTextIsRefused(t *testing.T) {
	text := []byte("0123456789")
	for _, r := range []record{{At: -1}, {At: 11}, {At: 5, Cut: 6}, {At: 5, Cut: -1}, {At: 1 << 62, Cut: 1 << 62},
		{Cut: 1 << 62}} {
		_, err := r.apply(text)
		require.ErrorIs(t, err, errRecord)
	}
}

// journalBytes is the journal of three edits, with where each record ends.
func journalBytes(t testing.TB) (data []byte, ends []int) {
	b := newBench(t)
	s := b.open()
	for i, name := range []string{"one", "two", "three"} {
		require.NoError(t, s.Record(uint64(i+1), "Edit "+name, renamed(s.Stone(), name)))
	}
	b.kill(s)
	data, err := os.ReadFile(beside(b.file, journalSuffix))
	require.NoError(t, err)
	for i, c := range data {
		if c == '\n' {
			ends = append(ends, i+1)
		}
	}
	require.Len(t, ends, 4)
	return data, ends
}

// A journal cut anywhere tells all records that are whole.
func TestATornJournalTellsWhatIsWhole(t *testing.T) {
	data, ends := journalBytes(t)
	for cut := range len(data) {
		st, err := readStory(data[:cut])
		whole := 0
		for _, e := range ends {
			if e <= cut {
				whole++
			}
		}
		if whole == 0 {
			require.Error(t, err, "cut at %d", cut)
			continue
		}
		require.NoError(t, err, "cut at %d", cut)
		require.Equal(t, []string{"Edit one", "Edit two", "Edit three"}[:whole-1], append([]string{}, st.edits...),
			"cut at %d", cut)
		require.Equal(t, cut != ends[whole-1], st.cut, "cut at %d", cut)
	}
}

// A byte changed anywhere never passes for what was written: reading stops
// before the record it is in.
func TestAChangedByteStopsTheReading(t *testing.T) {
	data, ends := journalBytes(t)
	whole, err := readStory(data)
	require.NoError(t, err)
	for at := range data {
		for _, flip := range []byte{0x01, 0x20, 0x80} {
			bad := bytes.Clone(data)
			bad[at] ^= flip
			if at < 8 && strings.EqualFold(string(bad[:8]), string(data[:8])) {
				continue // the checksum in capitals is the same number
			}
			st, err := readStory(bad)
			if err != nil {
				require.Less(t, at, ends[0])
				continue
			}
			in := 0
			for ends[in] <= at {
				in++
			}
			if len(st.edits) == len(whole.edits) {
				require.True(t, strings.EqualFold(string(bad), string(data)), "byte %d", at)
				continue
			}
			require.Len(t, st.edits, in-1, "byte %d, in record %d", at, in)
			require.True(t, st.cut)
		}
	}
}

func TestADamagedJournalIsSetAside(t *testing.T) {
	b := newBench(t)
	place := beside(b.file, journalSuffix)
	require.NoError(t, os.WriteFile(place, []byte("not a journal\n"), 0o600))
	s := b.open()
	require.Nil(t, s.Found())
	require.Contains(t, s.Warnings()[len(s.Warnings())-1].String(), "unsaved edits could not be read")
	require.FileExists(t, place+damagedSuffix)
	require.NoError(t, s.Record(1, "Rename", renamed(s.Stone(), "goes on")))
}

// The edits of one session stay few records however many there are.
func TestALongJournalIsWrittenAnew(t *testing.T) {
	b := newBench(t)
	s := b.open()
	stone := s.Stone()
	longest := int64(0)
	const edits = 3000 // of a kilobyte each: three times what a journal may have
	for i := 1; i <= edits; i++ {
		stone.Name = fmt.Sprintf("name %d %s", i, strings.Repeat(string(rune('a'+i%26)), 1000))
		require.NoError(t, s.Record(uint64(i), "Rename", stone))
		longest = max(longest, s.journal.size)
	}
	require.Less(t, longest, int64(compactAt+10_000))
	b.kill(s)
	s = b.open()
	require.Equal(t, edits, s.Found().Edits)
	require.True(t, s.Found().Stone.Equal(stone))
}

// Which journal is the later one does not hang on any clock.
func TestJournalsAreToldApartWithoutAClock(t *testing.T) {
	b := newBench(t)
	s := b.open()
	require.NoError(t, s.Record(1, "Rename", renamed(s.Stone(), "old")))
	b.kill(s)
	old, err := os.ReadFile(beside(b.file, journalSuffix))
	require.NoError(t, err)
	s = b.open()
	_, err = s.Recover()
	require.NoError(t, err)
	require.NoError(t, s.Record(1, "Rename", renamed(s.Stone(), "new")))
	b.kill(s)
	// The old one turns up at the second place with a time far in the future,
	// the new one and the stone with times long ago.
	require.NoError(t, os.WriteFile(s.places(journalSuffix)[1], old, 0o600))
	future, past := time.Date(2100, 1, 1, 0, 0, 0, 0, time.UTC), time.Unix(1, 0)
	require.NoError(t, os.Chtimes(s.places(journalSuffix)[1], future, future))
	require.NoError(t, os.Chtimes(beside(b.file, journalSuffix), past, past))
	require.NoError(t, os.Chtimes(b.file, past, past))
	s = b.open()
	require.Equal(t, "new", s.Found().Stone.Name)
	stone, err := s.Recover()
	require.NoError(t, err)
	require.NoError(t, s.Save(9, stone))
	require.NoError(t, s.Close())
	require.Equal(t, []string{"lantern.stone"}, b.left())
}

// The folder is taken away while the stone is open.
func TestAFolderThatVanishesLosesNothing(t *testing.T) {
	b := newBench(t)
	s := b.open()
	require.NoError(t, s.Record(1, "Rename", renamed(s.Stone(), "before")))
	require.NoError(t, os.RemoveAll(filepath.Dir(b.file)))
	edited := renamed(s.Stone(), "after")
	require.NoError(t, s.Record(2, "Rename", edited), "kept in the state folder")
	err := s.Save(2, edited)
	require.EqualError(t, err,
		b.file+": not saved: no such file or directory: the folder is gone: make it again, or save elsewhere")
	require.NoDirExists(t, filepath.Dir(b.file), "it is not ours to make again")
	b.kill(s)

	require.NoError(t, os.Mkdir(filepath.Dir(b.file), 0o755))
	s = b.open()
	require.True(t, s.New())
	require.Equal(t, "after", s.Found().Stone.Name)
	stone, err := s.Recover()
	require.NoError(t, err)
	require.NoError(t, os.RemoveAll(filepath.Dir(b.file)))
	other := filepath.Join(t.TempDir(), "other.stone")
	require.NoError(t, s.SaveAs(other, 3, stone, false))
	data, err := os.ReadFile(other)
	require.NoError(t, err)
	require.Contains(t, string(data), `"after"`)
	require.NoError(t, s.Close())
}

func TestAFlushComesByItself(t *testing.T) {
	b := newBench(t)
	s := b.open()
	require.NoError(t, s.Record(1, "Rename", renamed(s.Stone(), "one")))
	require.NoError(t, s.Record(2, "Rename", renamed(s.Stone(), "two")))
	unsynced := func() bool { s.mu.Lock(); defer s.mu.Unlock(); return s.journal.unsynced }
	require.True(t, unsynced())
	require.Eventually(t, func() bool { return !unsynced() }, 10*flushAfter, flushAfter/10)
}

func TestNothingRunsOnAfterClosing(t *testing.T) {
	b := newBench(t)
	before := runtime.NumGoroutine()
	for i := range 30 {
		s := b.open()
		stone := s.Stone()
		for k := range 4 {
			stone.Name = fmt.Sprint(i, k)
			require.NoError(t, s.Record(uint64(k+1), "Rename", stone))
		}
		if i%2 == 0 {
			require.NoError(t, s.Save(4, stone))
		}
		require.NoError(t, s.Close())
		if i%2 == 1 {
			s = b.open()
			require.NoError(t, s.Discard())
			require.NoError(t, s.Close())
		}
	}
	// One that has just handed back its lock may still be on its way out.
	for i := 0; runtime.NumGoroutine() > before && i < 100; i++ {
		time.Sleep(time.Millisecond)
	}
	require.LessOrEqual(t, runtime.NumGoroutine(), before)
}

// Many goroutines at once: for the race detector, and the latest edit wins.
func TestASessionServesManyAtOnce(t *testing.T) {
	b := newBench(t)
	s := b.open()
	stone := s.Stone()
	done := make(chan error)
	const n = 40
	for i := range n {
		go func() {
			edited := renamed(stone, fmt.Sprint(i+1))
			err := s.Record(uint64(i+1), "Rename", edited)
			if i%8 == 0 && err == nil {
				err = s.Save(uint64(i+1), edited)
			}
			if i%5 == 0 && err == nil {
				err = s.permanent()
			}
			s.Found()
			done <- err
		}()
	}
	for range n {
		require.NoError(t, <-done)
	}
	b.kill(s)
	s = b.open()
	require.Equal(t, fmt.Sprint(n), s.Found().Stone.Name)
}

func TestDifferencesNameWhatIsNotAlike(t *testing.T) {
	before := parseSample(t).Stone
	require.Empty(t, planner.Differences(before, before))
	after := before
	after.Name, after.SG = "x\x1b", 1.9
	after, err := planner.MoveCorner(after, 0, geometry.Vec2{X: -15, Y: -2})
	require.NoError(t, err)
	after, err = planner.AddReading(after, planner.Top, geometry.Vec3{X: 1, Y: 1, Z: 9})
	require.NoError(t, err)
	after, err = planner.MoveMark(after, "P1", geometry.Vec2{X: 1})
	require.NoError(t, err)
	after, err = planner.DeleteMark(after, "C1")
	require.NoError(t, err)
	after, err = planner.AddZone(after, planner.Zone{Face: planner.Base, Outline: after.Outline})
	require.NoError(t, err)
	require.Equal(t, []string{
		`name: "Lantern Bay 7", then "x^["`, "sg: 1.83, then 1.9", "outline: 1 of 7 corners differ",
		"top: 5 readings, then 6",
		"crack C1: only in the first", "pocket P1: differs", "colour zone Z2: only in the second",
	}, planner.Differences(before, after))
}
