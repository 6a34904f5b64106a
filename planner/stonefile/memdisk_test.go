package stonefile

import (
	"bytes"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"syscall"
	"time"
)

// memDisk is a disk that remembers what is permanent. What is written is only
// in memory until the file is synced; a name that is made, changed or taken away
// counts only when its folder is synced. A power cut leaves the permanent state
// and any part of the rest that came before: that is what POSIX promises, and
// what file systems have been seen to do. Each call can be made to fail.
type memDisk struct {
	mu    sync.Mutex
	names map[string]*inode // as programs see it
	safe  map[string]*inode // after a power cut
	after []nameChange      // not permanent yet, oldest first

	calls  int
	cutAt  int // the call at which the power goes; 0: never
	failAt int // the call that fails with failWith; 0: none
	failed string
	err    error
}

type nameChange struct {
	folder, name string
	node         *inode // nil: taken away
}

type inode struct {
	dir        bool
	data, safe []byte
	lost       bool // a sync failed: later ones succeed and do nothing, as on Linux
}

// powerCut is what every call panics with after the power is gone.
type powerCut struct{}

func newMemDisk(folders ...string) *memDisk {
	d := &memDisk{names: map[string]*inode{}, safe: map[string]*inode{}}
	for _, f := range folders {
		n := d.node(true)
		d.names[f], d.safe[f] = n, n
	}
	return d
}

func (d *memDisk) node(dir bool) *inode {
	return &inode{dir: dir}
}

// put makes a file that is permanent from the start.
func (d *memDisk) put(name string, data string) {
	n := d.node(false)
	n.data, n.safe = []byte(data), []byte(data)
	d.names[name], d.safe[name] = n, n
}

// failNext has the next call fail.
func (d *memDisk) failNext(err error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.failAt, d.err = d.calls+1, err
}

// step counts a call; it cuts the power or fails when it is time.
func (d *memDisk) step(what, name string) error {
	d.calls++
	if d.cutAt > 0 && d.calls >= d.cutAt {
		panic(powerCut{})
	}
	if d.calls == d.failAt {
		d.failed = what
		return &fs.PathError{Op: what, Path: name, Err: d.err}
	}
	return nil
}

// afterPowerCut returns the disk as it may be found again: of the changes of
// names a beginning, of each file the permanent bytes or a mixture with those
// that were on their way.
func (d *memDisk) afterPowerCut(r *rand.Rand) *memDisk {
	out := newMemDisk()
	names := map[string]*inode{}
	for name, n := range d.safe {
		names[name] = n
	}
	for _, c := range d.after[:r.IntN(len(d.after)+1)] {
		if c.node == nil {
			delete(names, c.name)
		} else {
			names[c.name] = c.node
		}
	}
	whole := map[*inode][]byte{}
	for name, n := range names {
		if n.dir {
			out.names[name], out.safe[name] = n, n
			continue
		}
		if _, done := whole[n]; !done {
			whole[n] = n.survivor(r)
		}
		out.put(name, string(whole[n]))
	}
	return out
}

// survivor returns what a power cut may leave of a file.
func (n *inode) survivor(r *rand.Rand) []byte {
	switch r.IntN(4) {
	case 0:
		return n.safe
	case 1:
		return n.data
	case 2: // the length came through, the bytes did not
		out := make([]byte, len(n.data))
		copy(out, n.safe)
		return out
	default: // some came through
		keep := r.IntN(len(n.data) + 1)
		return append(bytes.Clone(n.data[:keep]), n.safe[min(keep, len(n.safe)):]...)
	}
}

func (d *memDisk) change(name string, n *inode) {
	if n == nil {
		delete(d.names, name)
	} else {
		d.names[name] = n
	}
	d.after = append(d.after, nameChange{filepath.Dir(name), name, n})
}

func (d *memDisk) Open(name string, flag int, _ fs.FileMode) (handle, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if err := d.step("open", name); err != nil {
		return nil, err
	}
	n := d.names[name]
	switch {
	case n == nil && (flag&os.O_CREATE == 0 || d.names[filepath.Dir(name)] == nil):
		return nil, &fs.PathError{Op: "open", Path: name, Err: syscall.ENOENT}
	case n == nil:
		n = d.node(false)
		d.change(name, n)
	case flag&os.O_EXCL != 0:
		return nil, &fs.PathError{Op: "open", Path: name, Err: syscall.EEXIST}
	case flag&os.O_TRUNC != 0:
		n.data = nil
	}
	return &memHandle{disk: d, name: name, node: n}, nil
}

func (d *memDisk) Lstat(name string) (fs.FileInfo, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if err := d.step("lstat", name); err != nil {
		return nil, err
	}
	if n := d.names[name]; n != nil {
		return memInfo{n}, nil
	}
	return nil, &fs.PathError{Op: "lstat", Path: name, Err: syscall.ENOENT}
}

func (d *memDisk) Same(a, b fs.FileInfo) bool { return a.(memInfo).n == b.(memInfo).n }

func (d *memDisk) List(folder string) (names []string, err error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if err := d.step("list", folder); err != nil {
		return nil, err
	}
	for name := range d.names {
		if filepath.Dir(name) == folder && name != folder {
			names = append(names, filepath.Base(name))
		}
	}
	slices.Sort(names)
	return names, nil
}

func (d *memDisk) Readlink(name string) (string, error) {
	return "", &fs.PathError{Op: "readlink", Path: name, Err: syscall.EINVAL}
}

func (d *memDisk) Rename(from, to string) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	if err := d.step("rename", from); err != nil {
		return err
	}
	n := d.names[from]
	if n == nil {
		return &os.LinkError{Op: "rename", Old: from, New: to, Err: syscall.ENOENT}
	}
	// One change, not two: a file is never under neither name nor both.
	delete(d.names, from)
	d.names[to] = n
	d.after = append(d.after, nameChange{filepath.Dir(to), to, n}, nameChange{filepath.Dir(from), from, nil})
	return nil
}

func (d *memDisk) Link(from, to string) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	if err := d.step("link", from); err != nil {
		return err
	}
	if d.names[to] != nil {
		return &os.LinkError{Op: "link", Old: from, New: to, Err: syscall.EEXIST}
	}
	n := d.names[from]
	d.change(to, n)
	return nil
}

func (d *memDisk) Remove(name string) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	if err := d.step("remove", name); err != nil {
		return err
	}
	if d.names[name] == nil {
		return &fs.PathError{Op: "remove", Path: name, Err: syscall.ENOENT}
	}
	d.change(name, nil)
	return nil
}

func (d *memDisk) MkdirAll(name string, _ fs.FileMode) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	if err := d.step("mkdir", name); err != nil {
		return err
	}
	if d.names[name] == nil {
		n := d.node(true)
		d.names[name], d.safe[name] = n, n // folders are not what is tried here
	}
	return nil
}

type memHandle struct {
	disk *memDisk
	name string
	node *inode
	at   int
}

func (h *memHandle) Read(p []byte) (int, error) {
	h.disk.mu.Lock()
	defer h.disk.mu.Unlock()
	if h.at >= len(h.node.data) {
		return 0, io.EOF
	}
	if err := h.disk.step("read", h.name); err != nil {
		return 0, err
	}
	n := copy(p, h.node.data[h.at:])
	h.at += n
	return n, nil
}

func (h *memHandle) Write(p []byte) (int, error) {
	n, err := h.WriteAt(p, int64(h.at))
	h.at += n
	return n, err
}

// WriteAt writes half of the bytes when it is to fail.
func (h *memHandle) WriteAt(p []byte, off int64) (int, error) {
	h.disk.mu.Lock()
	defer h.disk.mu.Unlock()
	err := h.disk.step("write", h.name)
	if err != nil {
		p = p[:len(p)/2]
	}
	data := bytes.Clone(h.node.data)
	if need := int(off) + len(p); need > len(data) {
		data = append(data, make([]byte, need-len(data))...)
	}
	copy(data[off:], p)
	h.node.data = data
	return len(p), err
}

func (h *memHandle) Sync() error {
	h.disk.mu.Lock()
	defer h.disk.mu.Unlock()
	if err := h.disk.step("sync", h.name); err != nil {
		h.node.lost = true
		return err
	}
	if !h.node.lost {
		h.node.safe = bytes.Clone(h.node.data)
	}
	return nil
}

// SyncFolder makes the names in a folder permanent.
func (d *memDisk) SyncFolder(folder string) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	if err := d.step("sync folder", folder); err != nil {
		return err
	}
	if d.names[folder] == nil {
		return &fs.PathError{Op: "open", Path: folder, Err: syscall.ENOENT}
	}
	var rest []nameChange
	for _, c := range d.after {
		switch {
		case c.folder != folder:
			rest = append(rest, c)
		case c.node == nil:
			delete(d.safe, c.name)
		default:
			d.safe[c.name] = c.node
		}
	}
	d.after = rest
	return nil
}

func (h *memHandle) call(what string) error {
	h.disk.mu.Lock()
	defer h.disk.mu.Unlock()
	return h.disk.step(what, h.name)
}

func (h *memHandle) Close() error               { return h.call("close") }
func (h *memHandle) Chmod(fs.FileMode) error    { return h.call("chmod") }
func (h *memHandle) Chown(int, int) error       { return h.call("chown") }
func (h *memHandle) TryLock() error             { return h.call("lock") }
func (h *memHandle) Stat() (fs.FileInfo, error) { return memInfo{h.node}, h.call("stat") }

type memInfo struct{ n *inode }

func (i memInfo) Name() string       { return "" }
func (i memInfo) Size() int64        { return int64(len(i.n.data)) }
func (i memInfo) ModTime() time.Time { return time.Time{} }
func (i memInfo) IsDir() bool        { return i.n.dir }
func (i memInfo) Sys() any           { return nil }

func (i memInfo) Mode() fs.FileMode {
	if i.n.dir {
		return fs.ModeDir | 0o755
	}
	return 0o644
}
