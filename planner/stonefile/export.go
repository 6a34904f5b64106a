package stonefile

import (
	"errors"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Export writes a finished sheet or list to the very path given, whole or not
// at all. It follows no symbolic link there and replaces nothing, with
// ErrExists, unless over is true, and then nothing write-protected.
func Export(path string, data []byte, over bool) error {
	if err := export(osDisk{}, path, data, over); err != nil {
		return &Fault{path, "not written", err}
	}
	return nil
}

func export(d disk, path string, data []byte, over bool) error {
	if _, err := replaceable(d, path, over); err != nil {
		return err // before a lock is made beside it
	}
	if err := protected(d, path); err != nil {
		return err
	}
	l, err := takeLock(d, beside(path, lockSuffix))
	if err != nil {
		return err
	}
	return errors.Join(replace(d, path, data, over), l.release())
}

// longestStem is the longest name in bytes made of a stone's name: it leaves
// room for an ending, and for the hidden files beside it.
const longestStem = 120

// FileName makes a plain file name, with an ending such as ".txt", of a stone's
// name: letters, digits, marks and - _ . stay, everything else becomes a -. The
// result has no folder in it, is not hidden, and is never empty.
func FileName(stone, ending string) string {
	var b strings.Builder
	for _, r := range stone {
		keep := r != utf8.RuneError &&
			(unicode.IsLetter(r) || unicode.IsDigit(r) || unicode.IsMark(r) || strings.ContainsRune("-_.", r))
		if !keep {
			r = '-'
		}
		if b.Len()+utf8.RuneLen(r) > longestStem {
			break
		}
		if r == '-' && strings.HasSuffix(b.String(), "-") {
			continue
		}
		b.WriteRune(r)
	}
	stem := strings.Trim(b.String(), "-. ")
	if stem == "" {
		stem = "stone"
	}
	return stem + ending
}
