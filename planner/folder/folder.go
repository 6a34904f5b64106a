package folder

import (
	"path/filepath"

	"cabwright/planner"
	"cabwright/planner/learn"
	"cabwright/planner/stonefile"
	"cabwright/presets"
)

// Stone is one stone file of a folder.
type Stone struct {
	File  string // its name in the folder
	Stone planner.Stone
	Err   error // why it cannot be read; nil: it was
}

// Read reads the stone files of a folder in the order of their names. One that
// cannot be read is in the list with its error. The error is about the folder.
func Read(dir string, set *presets.Set) ([]Stone, error) {
	paths, err := stonefile.List(dir)
	if err != nil {
		return nil, err
	}
	var out []Stone
	for _, path := range paths {
		s := Stone{File: filepath.Base(path)}
		if doc, err := stonefile.Read(path, set); err != nil {
			s.Err = err
		} else {
			s.Stone = doc.Stone
		}
		out = append(out, s)
	}
	return out, nil
}

// Lessons is what the finished stones among some teach.
func Lessons(stones []Stone, set *presets.Set) learn.Record {
	var r learn.Record
	for _, s := range stones {
		if s.Err == nil {
			r.FromStone(s.Stone, set)
		}
	}
	return r
}
