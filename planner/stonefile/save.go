package stonefile

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
)

// stoneSuffix is how the name of a stone file ends.
const stoneSuffix = ".stone"

// The hidden files that stand beside a stone file.
const (
	savingSuffix  = ".saving"  // a save that is not finished
	journalSuffix = ".journal" // edits since the last save
	lockSuffix    = ".lock"    // while a workbench has the stone open
	damagedSuffix = ".damaged" // a journal that could not be read
)

// longestName is the longest file name in bytes that Linux file systems take.
const longestName = 255

// beside returns the path of a hidden file that belongs to a stone file. A name
// too long to be added to is replaced by a digest of it.
func beside(path, suffix string) string {
	folder, name := filepath.Split(path)
	if len(name)+len(journalSuffix)+len(damagedSuffix)+1 > longestName {
		name = digest([]byte(name))[:32]
	}
	return folder + "." + name + suffix
}

// digest returns the SHA-256 of bytes in hexadecimal.
func digest(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// resolve returns the absolute path of the file that is meant, which need not
// be there: the same however it is reached through folders and symbolic links.
func resolve(d disk, path string) (string, error) {
	path, err := filepath.Abs(path)
	if err != nil {
		return "", err
	}
	for range 40 { // as many links as Linux follows
		if folder, err := filepath.EvalSymlinks(filepath.Dir(path)); err == nil {
			path = filepath.Join(folder, filepath.Base(path))
		}
		info, err := d.Lstat(path)
		if errors.Is(err, fs.ErrNotExist) {
			return path, nil
		}
		if err != nil {
			return "", err
		}
		if info.Mode()&fs.ModeSymlink == 0 {
			return path, nil
		}
		target, err := d.Readlink(path)
		if err != nil {
			return "", err
		}
		if !filepath.IsAbs(target) {
			target = filepath.Join(filepath.Dir(path), target)
		}
		path = target
	}
	return "", &fs.PathError{Op: "open", Path: path, Err: syscall.ELOOP}
}

// replace makes a file hold data, whole or not at all: a temporary file in the
// same folder is written, made permanent and given the name, and the folder is
// made permanent. When it returns nil the new file outlives a power cut; after
// an error the old file is still there, unless only the last step failed, and
// nothing is left behind as far as the disk allows. The file keeps its mode
// and, where we may, its owner. A file that may not be replaced gives ErrExists.
// One process at a time may do this to a file: the lock sees to that.
func replace(d disk, path string, data []byte, over bool) error {
	temp := beside(path, savingSuffix)
	old, err := replaceable(d, path, over)
	if err != nil {
		return err
	}
	if err := writeTemp(d, temp, data, old); err != nil {
		return err
	}
	if err := publish(d, temp, path, over); err != nil {
		_ = d.Remove(temp)
		return err
	}
	return d.SyncFolder(filepath.Dir(path))
}

// replaceable returns the file at a path, nil when there is none, or why it may
// not be replaced.
func replaceable(d disk, path string, over bool) (old fs.FileInfo, err error) {
	old, err = d.Lstat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil
	case err != nil:
		return nil, err
	case !over && errors.Is(protected(d, path), ErrProtected):
		return nil, fmt.Errorf("%w; %w", ErrExists, ErrProtected)
	case !over:
		return nil, ErrExists
	case !old.Mode().IsRegular():
		return nil, errNotPlain
	}
	return old, nil
}

// protected fails with ErrProtected when there is a file that may not be
// written: to nobody by its mode, or to us by its owner. Renaming would not ask.
func protected(d disk, path string) error {
	info, err := d.Lstat(path)
	switch {
	case err != nil || !info.Mode().IsRegular():
		return nil // what that means is for those to say who replace it
	case info.Mode().Perm()&0o222 == 0:
		return ErrProtected
	}
	f, err := d.Open(path, os.O_WRONLY|noFollow|noWait, 0)
	if err == nil {
		return f.Close()
	}
	if errors.Is(err, syscall.EACCES) {
		return ErrProtected
	}
	return nil
}

// publish gives a finished file its name. Where nothing may be replaced it is
// linked, which fails when the name was taken meanwhile; file systems without
// links rename.
func publish(d disk, temp, path string, over bool) error {
	if over {
		return d.Rename(temp, path)
	}
	err := d.Link(temp, path)
	switch {
	case err == nil:
		return d.Remove(temp)
	case errors.Is(err, fs.ErrExist):
		return ErrExists
	case errors.Is(err, syscall.EPERM), errors.Is(err, syscall.ENOTSUP), errors.Is(err, syscall.ENOSYS):
		return d.Rename(temp, path)
	}
	return err
}

// writeTemp writes a new file and makes it permanent under a name that is only
// ours; after an error it is gone again. old is the file it will replace, or nil.
func writeTemp(d disk, temp string, data []byte, old fs.FileInfo) (err error) {
	const flags = os.O_WRONLY | os.O_CREATE | os.O_EXCL | noFollow
	f, err := d.Open(temp, flags, 0o666)
	if errors.Is(err, fs.ErrExist) { // of a save that was killed
		if err := d.Remove(temp); err != nil {
			return err
		}
		f, err = d.Open(temp, flags, 0o666)
	}
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			_ = d.Remove(temp)
		}
	}()
	if err := fill(f, data, old); err != nil {
		f.Close()
		return err
	}
	return f.Close()
}

func fill(f handle, data []byte, old fs.FileInfo) error {
	if _, err := f.Write(data); err != nil {
		return err
	}
	if old != nil {
		if uid, gid, ok := owner(old); ok && (uid != os.Getuid() || gid != os.Getgid()) {
			_ = f.Chown(uid, gid) // only root may; others own what they save
		}
		if err := f.Chmod(old.Mode().Perm()); err != nil {
			return err
		}
	}
	return f.Sync()
}

// load returns the bytes of a plain file of at most limit.
func load(d disk, path string, limit int64) ([]byte, error) {
	file, err := d.Open(path, os.O_RDONLY|noWait, 0)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	info, err := file.Stat()
	switch {
	case err != nil:
		return nil, err
	case info.IsDir():
		return nil, errFolder
	case !info.Mode().IsRegular():
		return nil, errNotPlain
	case info.Size() > limit:
		return nil, sizeError{info.Size(), limit}
	}
	data, err := io.ReadAll(io.LimitReader(file, limit+1))
	if err == nil && int64(len(data)) > limit {
		err = sizeError{int64(len(data)), limit}
	}
	return data, err
}

var (
	errFolder   = errors.New("is a folder, not a stone file")
	errNotPlain = errors.New("is not a plain file")
)

type sizeError struct{ size, limit int64 }

func (e sizeError) Error() string {
	return fmt.Sprintf("%d bytes are more than the file may have (%d)", e.size, e.limit)
}
