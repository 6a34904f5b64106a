package presets

import (
	"bytes"
	"embed"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
)

//go:embed builtin/*.json
var builtin embed.FS

// builtinFiles are read in this order: a row may name one of an earlier file.
var builtinFiles = []string{"materials", "sizes", "shaping", "workshop", "defaults"}

// Warning is something in the cutter's own file that was passed over.
type Warning struct {
	File string
	Text string // place and problem
}

func (w Warning) String() string { return w.File + ": " + w.Text }

var builtinSet = sync.OnceValue(func() *Set {
	r := reader{set: &Set{}}
	for _, name := range builtinFiles {
		text, err := builtin.ReadFile("builtin/" + name + ".json")
		if err == nil {
			err = r.read(text)
		}
		if err == nil && len(r.warnings) > 0 {
			err = errors.New(r.warnings[0])
		}
		if err != nil {
			// The tables are part of the program and tested with it.
			panic("presets/builtin/" + name + ".json: " + err.Error())
		}
	}
	return r.set
})

// Builtin returns the presets that come with the program.
func Builtin() *Set { return builtinSet() }

// UserFile returns the path of the cutter's own presets: presets.json in the
// folder cabwright of the user's configuration folder ($XDG_CONFIG_HOME, or
// .config in the home folder). The file need not be there.
func UserFile() (string, error) {
	dir, err := os.UserConfigDir()
	if err != nil {
		return "", fmt.Errorf("finding your own presets: %w", err)
	}
	return filepath.Join(dir, "cabwright", "presets.json"), nil
}

// Load returns the built-in presets together with the cutter's own. When that
// file is wrong the error says where, and the set is the built-in one alone;
// when there is no such file that is no error.
func Load() (*Set, []Warning, error) {
	path, err := UserFile()
	if err != nil {
		// No home folder at all: there is nothing of the cutter's to lose.
		return Builtin(), []Warning{{"presets", err.Error()}}, nil
	}
	return LoadFile(path)
}

// maxFile is the largest presets file read, in bytes; the built-in ones have
// about 20,000 together.
const maxFile = 1 << 20

// LoadFile is Load with the path of the cutter's own file.
func LoadFile(path string) (*Set, []Warning, error) {
	text, err := readFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return Builtin(), nil, nil
	}
	if err != nil {
		return Builtin(), nil, fmt.Errorf("your own presets: %s", visible(err.Error()))
	}
	if len(bytes.TrimSpace(text)) == 0 {
		// As a shell makes it before "cabwright presets --json > FILE" begins.
		return Builtin(), []Warning{{visible(path), "the file is empty"}}, nil
	}
	set := *Builtin()
	r := reader{set: &set, source: "your own presets"}
	if err := r.read(text); err != nil {
		return Builtin(), nil, fmt.Errorf("your own presets: %s: %w", visible(path), err)
	}
	var warnings []Warning
	for _, text := range r.warnings {
		warnings = append(warnings, Warning{visible(path), text})
	}
	return &set, warnings, nil
}

func readFile(path string) ([]byte, error) {
	// Opening a pipe would wait for somebody to write.
	switch info, err := os.Stat(path); {
	case err != nil:
		return nil, err
	case info.IsDir():
		return nil, fmt.Errorf("%s: is a folder", visible(path))
	case !info.Mode().IsRegular():
		return nil, fmt.Errorf("%s: is not a plain file", visible(path))
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, maxFile+1))
	if err == nil && len(text) > maxFile {
		err = fmt.Errorf("%s: over %d bytes", visible(path), maxFile)
	}
	return text, err
}
