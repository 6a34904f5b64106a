package view

import (
	"cabwright/planner/folder"
	"cabwright/planner/learn"
	"cabwright/presets"
)

// Folder is what the other stone files in this one's folder hold, as they were read
// last: when the workbench was opened, and at each save.
type Folder struct {
	Number int            // counts the readings; 0: none has been made
	Stones []folder.Stone // this stone's own file left out
	Record learn.Record
	Own    *learn.Correction // how the cutter's finished stones came out; nil: too few
}

// ReadFolder reads a folder, leaving a file's name out of its stones. What the
// finished ones teach counts that file too. It reads files: not for the event loop.
func ReadFolder(dir, but string, set *presets.Set, number int) Folder {
	out := Folder{Number: number}
	stones, err := folder.Read(dir, set)
	if err != nil {
		return out
	}
	out.Record = folder.Lessons(stones, set)
	if c, enough := out.Record.Correction(); enough {
		out.Own = &c
	}
	for _, s := range stones {
		if s.File != but {
			out.Stones = append(out.Stones, s)
		}
	}
	return out
}
