package stonefile

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"syscall"
	"testing"
	"time"

	"cabwright/presets"

	"github.com/stretchr/testify/require"
)

// saver writes a file as replace does. The bad ones are here so that each test
// of saving can show that it notices them.
type saver struct {
	name string
	save func(d disk, path string, data []byte) error
}

var goodSaver = saver{"ours", func(d disk, path string, data []byte) error { return replace(d, path, data, true) }}

var badSavers = []saver{
	{"in place", saveInPlace},
	{"without the file's fsync", func(d disk, path string,
		data []byte) error {
		return replace(noSync{d, false}, path, data, true)
	}},
	{"without the folder's fsync", func(d disk, path string,
		data []byte) error {
		return replace(noSync{d, true}, path, data, true)
	}},
}

// saveInPlace writes over the old file, in pieces as a buffered writer does.
func saveInPlace(d disk, path string, data []byte) error {
	f, err := d.Open(path, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o644)
	if err != nil {
		return err
	}
	for len(data) > 0 {
		n := min(4096, len(data))
		if _, err := f.Write(data[:n]); err != nil {
			return errors.Join(err, f.Close())
		}
		data = data[n:]
	}
	return errors.Join(f.Sync(), f.Close())
}

// noSync is a disk that makes nothing permanent: files, or the names in folders.
type noSync struct {
	disk
	folders bool
}

func (d noSync) Open(name string, flag int, mode os.FileMode) (handle, error) {
	f, err := d.disk.Open(name, flag, mode)
	if err != nil || d.folders {
		return f, err
	}
	return unsynced{f}, nil
}

func (d noSync) SyncFolder(name string) error {
	if d.folders {
		return nil
	}
	return d.disk.SyncFolder(name)
}

type unsynced struct{ handle }

func (unsynced) Sync() error { return nil }

// savesCut saves over and over on a disk whose power goes at each of its calls
// in turn, many ways each, and returns what went wrong.
func savesCut(s saver, ways int) (tried int, wrong []string) {
	text := func(i int) string { return fmt.Sprintf("%08d", i) + string(make([]byte, 9000)) + "end" }
	for cut := 1; ; cut++ {
		finished := false
		for way := range ways {
			d := newMemDisk("/s")
			d.put("/s/a", text(0))
			d.cutAt = cut
			acked, started := 0, 0
			func() {
				defer func() {
					if r := recover(); r != nil && r != any(powerCut{}) {
						panic(r)
					}
				}()
				for i := 1; i <= 3; i++ {
					started = i
					if err := s.save(d, "/s/a", []byte(text(i))); err == nil {
						acked = i
					}
				}
				finished = true
			}()
			if finished {
				return tried, wrong
			}
			tried++
			found := d.afterPowerCut(rand.New(rand.NewPCG(uint64(cut), uint64(way))))
			n := found.names["/s/a"]
			switch {
			case n == nil:
				wrong = append(wrong, fmt.Sprintf("cut %d: the file is gone", cut))
			case string(n.data) != text(acked) && string(n.data) != text(started):
				wrong = append(wrong, fmt.Sprintf("cut %d: neither save %d nor save %d", cut, acked, started))
			}
		}
	}
}

func TestASaveOutlivesAPowerCut(t *testing.T) {
	tried, wrong := savesCut(goodSaver, 50)
	require.Empty(t, wrong)
	require.Greater(t, tried, 1000)
	t.Logf("%d power cuts", tried)
	for _, bad := range badSavers {
		_, wrong := savesCut(bad, 50)
		require.NotEmpty(t, wrong, "the saver %s passes", bad.name)
	}
}

// TestASessionOutlivesPowerCuts edits, flushes and saves at random until the
// power goes, and opens the stone again. Acknowledged saves are in the file,
// flushed edits in the file or the journal, and the file is never in pieces.
func TestASessionOutlivesPowerCuts(t *testing.T) {
	wrong := sessionsCut(t, longOr(400, 20_000), func(d disk) disk { return d })
	require.Empty(t, wrong)
	for _, folders := range []bool{false, true} {
		wrong := sessionsCut(t, 300, func(d disk) disk { return noSync{d, folders} })
		require.NotEmpty(t, wrong, "nothing notices that fsync (of folders: %v) is left out", folders)
	}
}

func sessionsCut(t *testing.T, times int, through func(disk) disk) (wrong []string) {
	for seed := range times {
		if what := sessionCut(t, uint64(seed), through); what != "" {
			wrong = append(wrong, fmt.Sprintf("seed %d: %s", seed, what))
		}
	}
	return wrong
}

// permanent makes every recorded edit permanent now and not in a moment.
func (s *Session) permanent() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.flushNow()
}

// holdFlush keeps a session from making its journal permanent by itself.
func holdFlush(s *Session) {
	if s.flush == nil {
		s.flushing.Add(1)
		s.flush = time.NewTimer(time.Hour)
	}
}

func sessionCut(t *testing.T, seed uint64, through func(disk) disk) string {
	r := rand.New(rand.NewPCG(seed, 1))
	d := newMemDisk("/s", "/state")
	d.put("/s/a.stone", sample)
	options := func(d *memDisk) Options {
		return Options{Set: presets.Builtin(), StateFolder: "/state", disk: through(d)}
	}
	d.cutAt = 30 + r.IntN(200)
	if seed%2 == 0 { // and before that one call fails
		d.failAt, d.err = 25+r.IntN(d.cutAt-25), syscall.EIO
	}
	saved, flushed := 0, 0
	var s *Session
	func() {
		defer func() {
			if r := recover(); r != nil && r != any(powerCut{}) {
				panic(r)
			}
		}()
		var err error
		s, err = Open("/s/a.stone", options(d))
		require.NoError(t, err)
		stone := s.Stone()
		for i := 1; i < 1000; i++ {
			holdFlush(s)
			stone.Name = strconv.Itoa(i)
			recorded := s.Record(uint64(i), "Rename", stone) == nil
			switch r.IntN(4) {
			case 0:
				if s.Save(uint64(i), stone) == nil {
					saved, flushed = i, i
				}
			case 1:
				if s.permanent() == nil && recorded {
					flushed = i
				}
			}
		}
	}()
	found := d.afterPowerCut(r)
	again, err := Open("/s/a.stone", options(found))
	if err != nil {
		return err.Error()
	}
	defer again.Close()
	inFile, _ := strconv.Atoi(again.Stone().Name)
	if inFile < saved {
		return fmt.Sprintf("saved %d, the file holds %q", saved, again.Stone().Name)
	}
	if f := again.Found(); f != nil {
		n, _ := strconv.Atoi(f.Stone.Name)
		if n < inFile {
			return fmt.Sprintf("the file holds %d, offered are the edits up to %d", inFile, n)
		}
		inFile = n
	}
	if inFile < flushed {
		return fmt.Sprintf("flushed %d, found %d", flushed, inFile)
	}
	for name := range found.names {
		if filepath.Ext(name) == savingSuffix {
			return "left over: " + name
		}
	}
	return ""
}
