package command

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"cabwright/planner"
)

const rootHelp = `Plans the cuts on one piece of gem rough: which finished cabochons it still holds,
where each lies between the cracks and pockets, and what it will weigh.

With a stone file, or with nothing, the workbench opens: draw the stone, mark its
defects, look at the fits and choose. Without a file it opens on a demo stone, a
copy of your own to try things on.

Exit status: 0 done, 1 failed, 2 bad input or usage.`

const rootExample = `  cabwright                                  open the workbench on the demo stone
  cabwright river.stone                      open it on your own stone
  cabwright new river.stone --size 28x20x9 --form domed --weight 24.6 --material opal
  cabwright check river.stone                is the file good, does the weight agree?
  cabwright plan river.stone                 the best fits, proved
  cabwright odds river.stone                 which of them to bet on, where depths are not sure`

func newRoot(std Streams, hooks Hooks) *cobra.Command {
	a := &app{std: std, hooks: hooks}
	var bench Bench
	var picture pictureFlags
	root := &cobra.Command{
		Use:               "cabwright [FILE]",
		Short:             "Plan the cuts on one piece of gem rough",
		Long:              rootHelp,
		Example:           rootExample,
		Version:           version,
		SilenceErrors:     true,
		SilenceUsage:      true,
		Args:              atMostOneFile,
		ValidArgsFunction: completeStone,
		RunE: func(cmd *cobra.Command, args []string) error {
			path, err := a.benchPath(args, commandNames(cmd))
			if err != nil {
				return err
			}
			bench.Path, bench.Demo = path, len(args) == 0
			bench.Presets, bench.Note = benchPresets()
			if bench.Picture, err = picture.asked(cmd.Flags()); err != nil {
				return err
			}
			return a.hooks.Workbench(cmd.Context(), bench)
		},
	}
	root.SetVersionTemplate("cabwright {{.Version}}\n")
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		return usagef("%s: see %s --help", flagMistake(cmd, err), cmd.CommandPath())
	})
	root.Flags().BoolVar(&bench.Plain, "plain", false, "plain text and numbered choices instead of the full screen")
	picture.add(root.Flags())
	root.Flags().BoolVar(&bench.ASCII, "ascii", false, "draw with ASCII signs only")
	root.AddCommand(
		a.planCommand(), a.oddsCommand(), a.checkCommand(), a.newCommand(), a.sheetCommand(), a.bidCommand(),
		a.worthCommand(), a.diaryCommand(), a.stonesCommand(), a.summaryCommand(), a.presetsCommand(),
	)
	return root
}

func atMostOneFile(cmd *cobra.Command, args []string) error {
	if len(args) > 1 {
		names := commandNames(cmd)
		return usagef("only one stone file can be opened at a time, and %q is not a command: they are %s%s",
			args[0], strings.Join(names, ", "), planner.DidYouMean(args[0], names))
	}
	return nil
}

func commandNames(root *cobra.Command) (names []string) {
	for _, c := range root.Commands() {
		names = append(names, c.Name())
	}
	return names
}

// benchPath returns the file the workbench is to open. A name that is no file
// yet must end in .stone, so that a mistyped command does not become a stone.
func (a *app) benchPath(args, commands []string) (string, error) {
	if len(args) == 0 {
		return a.demoCopy()
	}
	path := args[0]
	_, err := os.Stat(path)
	if errors.Is(err, fs.ErrNotExist) && filepath.Ext(path) != ".stone" {
		return "", usagef(
			"%q is neither a command nor a file%s; a new stone's file ends in .stone", path,
			planner.DidYouMean(path, commands),
		)
	}
	return path, nil
}
