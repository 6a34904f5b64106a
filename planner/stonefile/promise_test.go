package stonefile

import (
	"fmt"
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"testing/synctest"
	"time"
	"unicode/utf8"

	"cabwright/presets"

	"github.com/stretchr/testify/require"
)

// memSession opens the sample on a disk in memory.
func memSession(t *testing.T) (*memDisk, *Session) {
	t.Helper()
	d := newMemDisk("/s", "/state")
	d.put("/s/a.stone", sample)
	s, err := Open("/s/a.stone", Options{Set: presets.Builtin(), StateFolder: "/state", disk: d})
	require.NoError(t, err)
	return d, s
}

// permanentName is the stone's name in the part of the journal that a power cut
// leaves for certain.
func (d *memDisk) permanentName(t *testing.T) string {
	t.Helper()
	d.mu.Lock()
	defer d.mu.Unlock()
	n := d.safe["/s/.a.stone.journal"]
	require.NotNil(t, n, "there is no journal after a power cut")
	st, err := readStory(n.safe)
	require.NoError(t, err)
	doc, err := draft("x", st.text, presets.Builtin())
	require.NoError(t, err)
	return doc.Stone.Name
}

// A power cut costs at most the last second: the journal is made permanent half
// a second after an edit, which leaves the disk the other half, and edits that go
// on do not put it off. The clock is the test's own.
func TestAnEditIsPermanentWithinASecond(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d, s := memSession(t)
		require.NoError(t, s.Record(1, "Rename", renamed(s.Stone(), "one")))
		require.NoError(t, s.Record(2, "Rename", renamed(s.Stone(), "two")))
		require.Equal(t, "one", d.permanentName(t), "nothing is left to flush: the test could not fail")
		time.Sleep(500 * time.Millisecond)
		synctest.Wait()
		require.Equal(t, "two", d.permanentName(t))
		made := map[string]time.Time{}
		for i := range 40 {
			name := fmt.Sprint("busy ", i)
			require.NoError(t, s.Record(uint64(3+i), "Rename", renamed(s.Stone(), name)))
			made[name] = time.Now()
			time.Sleep(100 * time.Millisecond)
			synctest.Wait()
			if kept := d.permanentName(t); i > 9 {
				require.Less(t, time.Since(made[kept]), time.Second, "%s, at %s", kept, name)
			}
		}
		require.NoError(t, s.Close())
	})
}

// After a sync that failed the system may take the bytes for written and say
// nothing at the next one (Linux does; Rebello and others, "Can Applications
// Recover from fsync Failures?", USENIX ATC 2020): only writing them again helps.
func TestAFailedSyncIsNotBelievedTheNextTime(t *testing.T) {
	d, s := memSession(t)
	require.NoError(t, s.Record(1, "Rename", renamed(s.Stone(), "one")))
	holdFlush(s)
	require.NoError(t, s.Record(2, "Rename", renamed(s.Stone(), "two")))
	d.failAt, d.err = d.calls+1, syscall.EIO
	require.ErrorContains(t, s.permanent(), "edits may not outlive a power cut")
	require.Equal(t, "sync", d.failed)
	require.NoError(t, s.permanent())
	require.Equal(t, "two", d.permanentName(t))
	// And when the next thing is another edit.
	holdFlush(s)
	require.NoError(t, s.Record(3, "Rename", renamed(s.Stone(), "three")))
	d.failAt = d.calls + 1
	require.Error(t, s.permanent())
	holdFlush(s)
	require.NoError(t, s.Record(4, "Rename", renamed(s.Stone(), "four")))
	require.NoError(t, s.permanent())
	require.Equal(t, "four", d.permanentName(t))
	// A save whose file could not be made permanent is none.
	d.failAt = 0
	whole := string(d.names["/s/a.stone"].data)
	for at := 1; ; at++ {
		d.failAt, d.failed = d.calls+at, ""
		err := replace(d, "/s/a.stone", []byte("new"), true)
		if d.failed == "sync" {
			require.ErrorIs(t, err, syscall.EIO)
			require.Equal(t, whole, string(d.names["/s/a.stone"].data))
			break
		}
		require.NotEmpty(t, d.failed, "a save syncs nothing")
		d.put("/s/a.stone", whole)
	}
}

// The flush that failed by itself is told with the next edit.
func TestAFlushThatFailsIsTold(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d, s := memSession(t)
		require.NoError(t, s.Record(1, "Rename", renamed(s.Stone(), "one")))
		require.NoError(t, s.Record(2, "Rename", renamed(s.Stone(), "two")))
		d.failNext(syscall.EIO)
		time.Sleep(time.Second)
		synctest.Wait()
		require.ErrorContains(t, s.Record(3, "Rename", renamed(s.Stone(), "three")),
			"edits may not outlive a power cut: input/output error")
		require.NoError(t, s.Record(4, "Rename", renamed(s.Stone(), "four")))
		time.Sleep(time.Second)
		synctest.Wait()
		require.Equal(t, "four", d.permanentName(t))
		require.NoError(t, s.Close())
	})
}

// Letters of several bytes that share their first or their last one: JSON would
// put U+FFFD in the place of half a letter.
func TestAnEditIsNeverCutInsideALetter(t *testing.T) {
	letters := []string{"a", "é", "è", "©", "漢", "漣", "水", "😀", "😁", "🨀", ""}
	for _, a := range letters {
		for _, b := range letters {
			for _, around := range [][2]string{{"", ""}, {"x", ""}, {"", "é"}, {"漢", "漢"}} {
				before, after := around[0]+a+around[1], around[0]+b+around[1]
				r, err := decodeRecord(change([]byte(before), []byte(after)).encode())
				require.NoError(t, err)
				require.True(t, utf8.ValidString(r.Put), "%q to %q puts %q", before, after, r.Put)
				got, err := r.apply([]byte(before))
				require.NoError(t, err)
				require.Equal(t, after, string(got))
			}
		}
	}
}

// Of two journals the one of the later session counts, however long the other is
// and wherever each stands.
func TestALongerJournalOfAnOlderSessionDoesNotCount(t *testing.T) {
	for _, swapped := range []bool{false, true} {
		b := newBench(t)
		s := b.open()
		for i := range 6 {
			require.NoError(t, s.Record(uint64(i+1), "Rename", renamed(s.Stone(), fmt.Sprint("old ", i))))
		}
		b.kill(s)
		places := s.places(journalSuffix)
		old := read(t, places[0])
		s = b.open()
		_, err := s.Recover()
		require.NoError(t, err)
		require.NoError(t, s.Record(1, "Rename", renamed(s.Stone(), "new")))
		b.kill(s)
		fresh := read(t, places[0])
		older, err := readStory([]byte(old))
		require.NoError(t, err)
		newer, err := readStory([]byte(fresh))
		require.NoError(t, err)
		require.Greater(t, older.seq, newer.seq, "the older one is longer")
		texts := []string{fresh, old}
		if swapped {
			texts = []string{old, fresh}
		}
		for i, place := range places {
			require.NoError(t, os.WriteFile(place, []byte(texts[i]), 0o600))
		}
		require.Equal(t, "new", b.open().Found().Stone.Name, "swapped: %v", swapped)
	}
}

// Saved under another name, the edits are safe there: the first file's journal
// goes, and what is edited from then on is kept beside the new file.
func TestSaveAsLeavesNoJournalOfTheFirstFile(t *testing.T) {
	b := newBench(t)
	s := b.open()
	require.NoError(t, s.Record(1, "Rename", renamed(s.Stone(), "moved")))
	taken := filepath.Join(filepath.Dir(b.file), "taken.stone")
	require.NoError(t, os.WriteFile(taken, []byte("mine"), 0o644))
	require.Error(t, s.SaveAs(taken, 1, renamed(s.Stone(), "moved"), false))
	require.Contains(t, b.left(), ".lantern.stone.journal", "a save that failed takes no edit away")
	other := b
	other.file = filepath.Join(filepath.Dir(b.file), "other.stone")
	require.NoError(t, s.SaveAs(other.file, 1, renamed(s.Stone(), "moved"), false))
	require.NotContains(t, b.left(), ".lantern.stone.journal")
	require.Nil(t, b.open().Found(), "edits that were saved elsewhere are offered again")
	require.NoError(t, s.Record(2, "Rename", renamed(s.Stone(), "later")))
	require.Contains(t, b.left(), ".other.stone.journal")
	b.kill(s)
	require.Equal(t, "later", other.open().Found().Stone.Name)
	require.Equal(t, sample, b.bytes())
}
