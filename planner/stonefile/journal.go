package stonefile

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"syscall"
)

const (
	// A journal is written anew, with the whole text, when it is longer than
	// this and than eight times the text: so it costs at most an eighth more
	// writing than the edits themselves.
	compactAt    = 1 << 20
	compactTimes = 8

	// maxJournal is the longest that is read: eight texts of the largest size,
	// and one more for JSON's escapes.
	maxJournal = (compactTimes + 1) * maxSize
)

// journal keeps the edits since the last save. It may stand at several places,
// tried in turn: beside the stone file, or, where nothing can be written
// there, in the user's own folder.
type journal struct {
	disk       disk
	places     []string
	stonePath  string
	generation uint64

	base     []byte // the text that is in the stone file
	sum      string // digest of the stone file's bytes
	text     []byte // as the journal has it
	seq      uint64
	edits    int
	lastEdit string

	at       int // the place in use
	file     handle
	size     int64 // bytes that are good
	unsynced bool
	// doubtful: a sync failed. The system may then take the bytes for written
	// and say nothing at the next sync, so that all is written anew.
	doubtful bool
}

// record adds the edit that made text. It tries the place in use, then the
// others, each from the start; after an error nothing is lost but the edit is
// only in memory, and the next record or retry holds it too.
func (j *journal) record(edit string, text []byte) error {
	if string(text) == string(j.text) {
		return nil
	}
	if len(text) > maxSize {
		return sizeError{int64(len(text)), maxSize}
	}
	var errs []error
	if j.file != nil && !j.doubtful {
		r := change(j.text, text)
		r.Edit = edit
		err := j.append(r)
		if err == nil {
			j.text, j.lastEdit = text, edit
			j.edits++
			j.compact()
			return nil
		}
		errs = append(errs, err)
	}
	order := append([]int{j.at}, slices.DeleteFunc(indices(len(j.places)), func(i int) bool { return i == j.at })...)
	for _, at := range order {
		err := j.start(at, edit, text, j.edits+1)
		if err == nil {
			j.text, j.lastEdit = text, edit
			j.edits++
			return nil
		}
		errs = append(errs, err)
	}
	return errs[0] // of the place that was in use
}

func indices(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}

// append writes one record behind the good part of the file in use, over what a
// failed write may have left there.
func (j *journal) append(r record) error {
	r.Seq = j.seq + 1
	line := r.encode()
	if _, err := j.file.WriteAt(line, j.size); err != nil {
		return err
	}
	info, err := j.file.Stat()
	if err != nil {
		return err
	}
	// If the folder was taken away, or the journal, this went nowhere.
	named, err := j.disk.Lstat(j.places[j.at])
	if err != nil {
		return err
	}
	if !j.disk.Same(info, named) {
		return fs.ErrNotExist
	}
	j.seq++
	j.size += int64(len(line))
	j.unsynced = true
	return nil
}

// start begins a journal at a place: whole under its name, or not at all. The
// edits so far are in its first record, except that a first edit stands apart
// so that it can be told by name what was changed.
func (j *journal) start(at int, edit string, text []byte, edits int) error {
	place := j.places[at]
	first := record{Kind: kindStart, Seq: j.seq + 1, Format: journalFormat, Generation: j.generation,
		File: j.stonePath, Text: string(text), Sum: j.sum, Edits: edits, Edit: edit}
	lines, seq := []byte(nil), j.seq+1
	if edits == 1 {
		first.Text, first.Edits, first.Edit = string(j.base), 0, ""
		second := change(j.base, text)
		second.Edit, second.Seq = edit, seq+1
		lines, seq = second.encode(), seq+1
	}
	lines = append(first.encode(), lines...)
	if at > 0 { // never make the stone's own folder, which may be gone for a reason
		if err := j.disk.MkdirAll(filepath.Dir(place), 0o700); err != nil {
			return err
		}
	}
	f, err := j.newFile(place, lines)
	if err != nil {
		return err
	}
	j.letGo()
	if j.at != at {
		_ = j.disk.Remove(j.places[j.at]) // out of date; the later one wins anyway
	}
	j.at, j.file, j.size, j.seq = at, f, int64(len(lines)), seq
	j.unsynced, j.doubtful = false, false
	return nil
}

// letGo closes the file in use: what is in it stays.
func (j *journal) letGo() {
	if j.file != nil {
		j.file.Close()
		j.file = nil
	}
}

// newFile writes a file and makes it permanent before it takes the place of one
// that may be there, and returns it open. Neither is open when the name changes:
// not every system allows that.
func (j *journal) newFile(place string, lines []byte) (handle, error) {
	temp := place + savingSuffix
	err := j.writeWhole(temp, lines)
	if err == nil {
		j.letGo()
		err = j.disk.Rename(temp, place)
	}
	if err != nil {
		_ = j.disk.Remove(temp)
		return nil, err
	}
	if err := j.disk.SyncFolder(filepath.Dir(place)); err != nil {
		return nil, err
	}
	return j.disk.Open(place, os.O_RDWR|noFollow, 0)
}

// writeWhole writes a file and makes its bytes permanent.
func (j *journal) writeWhole(name string, data []byte) error {
	f, err := j.disk.Open(name, os.O_WRONLY|os.O_CREATE|os.O_TRUNC|noFollow, 0o600)
	if err != nil {
		return err
	}
	if _, err := f.Write(data); err != nil {
		f.Close()
		return err
	}
	if err := f.Sync(); err != nil {
		f.Close()
		return err
	}
	return f.Close()
}

// compact writes the journal anew when it has grown long. When that fails the
// old one, which holds everything, stays in use, and the next edit tries again.
func (j *journal) compact() {
	if j.size >= compactAt && j.size >= compactTimes*int64(len(j.text)) {
		_ = j.start(j.at, j.lastEdit, j.text, j.edits)
	}
}

// sync makes permanent what was recorded.
func (j *journal) sync() error {
	switch {
	case !j.unsynced:
		return nil
	case j.doubtful || j.file == nil: // nil: the last start failed half-way
		return j.start(j.at, j.lastEdit, j.text, j.edits)
	}
	err := j.file.Sync()
	j.doubtful, j.unsynced = err != nil, err != nil
	return err
}

// saving notes, permanently, that the stone file is about to hold the bytes of
// a digest.
func (j *journal) saving(sum string) error {
	if j.file == nil {
		return j.sync()
	}
	if err := j.append(record{Kind: kindSave, Sum: sum}); err != nil {
		return err
	}
	return j.sync()
}

// rebase notes that the stone file holds a text now: the journal is taken away,
// or begun anew when there are edits since.
func (j *journal) rebase(text []byte, sum string) error {
	j.base, j.sum = text, sum
	if string(j.text) == string(text) {
		return j.remove()
	}
	j.edits = 1
	return j.start(j.at, j.lastEdit, j.text, 1)
}

// remove takes the journal away from wherever it stands.
func (j *journal) remove() error {
	var errs []error
	if j.file != nil {
		errs = append(errs, j.file.Close())
		j.file = nil
	}
	for _, place := range j.places {
		if err := j.disk.Remove(place); err != nil && !errors.Is(err, fs.ErrNotExist) && !errors.Is(err, syscall.ENOTDIR) {
			errs = append(errs, err)
		}
	}
	j.text, j.edits, j.lastEdit, j.size = j.base, 0, "", 0
	j.unsynced, j.doubtful = false, false
	return errors.Join(errs...)
}
