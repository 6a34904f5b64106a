package command

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"cabwright/planner/stonefile"
)

// demoCopy returns the path of the cutter's own copy of the demo stone, which
// is made the first time and kept from then on: in cabwright/ under
// XDG_DATA_HOME, or .local/share in the home folder (XDG Base Directory
// Specification 0.8).
func (a *app) demoCopy() (string, error) {
	dir := os.Getenv("XDG_DATA_HOME")
	if !filepath.IsAbs(dir) { // the specification: relative ones are ignored
		home, err := os.UserHomeDir()
		if err != nil {
			return "", fmt.Errorf("finding a place for the demo stone: %w; name a file instead", err)
		}
		dir = filepath.Join(home, ".local", "share")
	}
	dir = filepath.Join(dir, "cabwright")
	path := filepath.Join(dir, "demo.stone")
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return "", fmt.Errorf("finding a place for the demo stone: %w; name a file instead", err)
	}
	err := stonefile.Export(path, a.hooks.Demo, false)
	if err != nil && !errors.Is(err, stonefile.ErrExists) {
		return "", fmt.Errorf("copying the demo stone: %w; name a file instead", err)
	}
	return path, nil
}
