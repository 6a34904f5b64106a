package command

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"cabwright/planner"
	"cabwright/planner/planjson"
)

const checkHelp = `Reads a stone file and says what it holds: the size and the volume of the rough, what it
weighs as drawn beside what the scale says, how many marks there are, and whatever is
worth a second look. Nothing is written.

A bad file gets one line with the place and what is wrong there, and exit status 2.`

const checkExample = `  cabwright check river.stone
  cabwright check river.stone --material agate     would the weight agree if it were agate?
  cabwright check river.stone --json`

func (a *app) checkCommand() *cobra.Command {
	var material string
	var asJSON bool
	cmd := &cobra.Command{
		Use:               "check FILE",
		Short:             "Read a stone file and weigh the rough",
		Long:              checkHelp,
		Example:           checkExample,
		Args:              oneFile,
		ValidArgsFunction: completeStone,
		RunE: func(_ *cobra.Command, args []string) error {
			s, err := a.read(args[0], material)
			if err != nil {
				return err
			}
			if asJSON {
				return planjson.WriteCheck(a.std.Out, s.stone, s.head(), s.remarks())
			}
			_, err = fmt.Fprint(a.std.Out, s.checkText())
			return err
		},
	}
	cmd.Flags().StringVar(&material, "material", "", "weigh as if it were this material, at its typical SG")
	cmd.Flags().BoolVar(&asJSON, "json", false, "print what was found as JSON")
	complete(cmd, "material", materialKeys)
	return cmd
}

// notes are the remarks and the reader's warnings without the one on the weight,
// which the heading has.
func (s *specimen) notes() []planner.Warning {
	out := append(planner.Remarks(s.stone, s.rough, s.set), s.warnings...)
	return slices.DeleteFunc(out, func(w planner.Warning) bool { return w.Place == planner.OnScale })
}

// remarks are what is worth a second look in the stone, then the reader's
// warnings.
func (s *specimen) remarks() []string {
	var out []string
	for _, w := range append(planner.Remarks(s.stone, s.rough, s.set), s.warnings...) {
		out = append(out, w.String())
	}
	return out
}

func (s *specimen) checkText() string {
	var b strings.Builder
	b.WriteString(s.heading())
	marks := []string{
		count(len(s.stone.Outline), "corner"), count(len(s.stone.Top), "reading") + " of the top",
		count(len(s.stone.Base), "reading") + " of the base", count(len(s.stone.Cracks), "crack"),
		count(len(s.stone.Pockets), "pocket"), count(len(s.stone.Colour), "colour zone"),
	}
	b.WriteString(paragraph(strings.Join(marks, ", ")))
	al := s.stone.Allowances
	b.WriteString(paragraph(fmt.Sprintf("Kept clear: skin %g mm, cracks %g, sealed cracks %g, pockets %g",
		al.Skin, al.Crack, al.SealedCrack, al.Pocket)))
	for _, w := range s.notes() {
		b.WriteString(paragraph("Note: " + planner.Visible(w.String())))
	}
	b.WriteString("The file is good.\n")
	return b.String()
}

// count is "1 crack" or "3 cracks".
func count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}
