package stonefile

import (
	"os"
	"path/filepath"
	"strings"
)

// List returns the paths of the stone files in a folder, in the order of their
// names. Hidden files, folders and whatever is no file of bytes (a pipe, a socket)
// are left out.
func List(dir string) ([]string, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, err
	}
	var paths []string
	for _, e := range entries {
		if filepath.Ext(e.Name()) != stoneSuffix || strings.HasPrefix(e.Name(), ".") {
			continue
		}
		path := filepath.Join(dir, e.Name())
		if at, err := os.Stat(path); err == nil && at.Mode().IsRegular() { // a link to a file counts
			paths = append(paths, path)
		}
	}
	return paths, nil
}
