package command

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"cabwright/planner"
	"cabwright/presets"
)

const presetsHelp = `Shows the tables a plan starts from, each row with its source: materials, sizes, domes,
backs, walls, saws and wheels. Without a name it lists the tables and says where your
own rows go; with --json they are printed in the form that file takes.`

const presetsExample = `  cabwright presets
  cabwright presets materials
  cabwright presets sizes --json`

// presetTable is one table that can be shown.
type presetTable struct {
	name, about string
	count       func(*presets.Set) int
	text        func(*presets.Set) string
	member      string                   // its name in a presets file
	rows        func(*presets.Set) []any // its rows as a presets file has them
}

func (a *app) presetsCommand() *cobra.Command {
	var asJSON bool
	var names []string
	for _, t := range presetTables {
		names = append(names, t.name)
	}
	cmd := &cobra.Command{
		Use:       "presets [" + strings.Join(names, "|") + "]",
		Short:     "Show materials, sizes, styles, saws and wheels",
		Long:      presetsHelp,
		Example:   presetsExample,
		ValidArgs: names,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 1 || len(args) == 1 && !slices.Contains(names, args[0]) {
				word := strings.Join(args, " ")
				return usagef("presets %q: the tables are %s%s", word, strings.Join(names, ", "), planner.DidYouMean(word, names))
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error {
			set, err := a.presets()
			if err != nil {
				return err
			}
			shown := presetTables
			if len(args) == 1 {
				shown = presetTables[slices.Index(names, args[0]):][:1]
			}
			if asJSON {
				return a.presetsJSON(set, shown)
			}
			text := presetsIndex(set)
			if len(args) == 1 {
				text = shown[0].text(set)
			}
			_, err = fmt.Fprint(a.std.Out, text)
			return err
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the rows as JSON, as a presets file has them")
	return cmd
}

func presetsIndex(set *presets.Set) string {
	var tab table
	for _, t := range presetTables {
		tab.add(t.name, count(t.count(set), "row"), t.about)
	}
	s := tab.String()
	if path, err := presets.UserFile(); err == nil {
		s += "\nYour own rows go into " + planner.Visible(path) + "\n"
	}
	return s
}

func (a *app) presetsJSON(set *presets.Set, shown []presetTable) error {
	var b strings.Builder
	b.WriteString("{\n  \"format\": \"cabwright-presets\",\n  \"version\": 1")
	for _, t := range shown {
		b.WriteString(",\n  \"" + t.member + "\": [")
		for i, row := range t.rows(set) {
			if i > 0 {
				b.WriteString(",")
			}
			text, err := json.Marshal(row)
			if err != nil {
				return err
			}
			b.WriteString("\n    " + string(text))
		}
		b.WriteString("\n  ]")
	}
	b.WriteString("\n}\n")
	_, err := fmt.Fprint(a.std.Out, b.String())
	return err
}
