package command

import (
	"fmt"
	"path/filepath"

	"github.com/spf13/cobra"

	"cabwright/planner"
	"cabwright/planner/folder"
	"cabwright/planner/learn"
)

// learnFlag is the folder whose finished stones correct weights.
type learnFlag struct{ folder string }

func (f *learnFlag) register(cmd *cobra.Command) {
	cmd.Flags().StringVar(&f.folder, "learn", "",
		"show weights also as your finished stones in this folder came out (default: the stone's own folder)")
}

// taught is what a cutter's finished stones say of a plan.
type taught struct {
	correction *learn.Correction // nil: there are too few to learn from
	said       string            // where they were asked for, and are too few; else ""
}

// learned returns what the finished stones of a folder teach about the stone in a
// file: of the folder that was asked for, else of the one that the file lies in. A
// folder that was not asked for and cannot be read teaches nothing.
func (a *app) learned(path string, f learnFlag) (taught, error) {
	dir, asked := f.folder, f.folder != ""
	switch {
	case asked:
		if _, err := stoneFiles(dir); err != nil {
			return taught{}, err
		}
	case path == stdin:
		return taught{}, nil
	default:
		dir = filepath.Dir(path)
	}
	record, known := a.records[dir]
	if !known {
		set, err := a.presets()
		if err != nil {
			return taught{}, err
		}
		stones, err := folder.Read(dir, set)
		if err != nil && asked {
			return taught{}, err
		}
		record = folder.Lessons(stones, set)
		if a.records == nil {
			a.records = map[string]learn.Record{}
		}
		a.records[dir] = record
	}
	c, enough := record.Correction()
	switch {
	case enough:
		return taught{correction: &c}, nil
	case asked:
		const few = "Weights as your own stones came out are not shown: %s planned and weighed are too few to learn from."
		return taught{said: fmt.Sprintf(few, count(c.Stones, "finished stone"))}, nil
	}
	return taught{}, nil
}

// bandText is a band as "1.93-2.18".
func bandText(b planner.Band) string { return weight(b.Low) + "-" + weight(b.High) }
