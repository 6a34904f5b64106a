package command

import (
	"cmp"
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"cabwright/planner"
	"cabwright/planner/planjson"
	"cabwright/planner/stonefile"
	"cabwright/planner/summary"
	"cabwright/planner/worth"
)

const summaryHelp = `Writes what a finished stone is, for a sale or a ledger: size, weight, kind, sides, colour,
treatments and care, out of its file and its diary. As text on standard output, or with
-o as a picture.

Treatments are told as the diary records them (16 CFR 23.24 wants them disclosed); what
nobody wrote down is not told, so write down what was done. No price is in it.`

const summaryExample = `  cabwright summary river.stone
  cabwright summary river.stone --size 13.9x10.1x4.2     as your calipers have it
  cabwright summary river.stone -o river.png             a picture; .svg too`

type summaryFlags struct {
	out, size string
	force     bool
}

func (a *app) summaryCommand() *cobra.Command {
	var f summaryFlags
	cmd := &cobra.Command{
		Use:               "summary FILE",
		Short:             "A finished stone's facts as text or a picture",
		Long:              summaryHelp,
		Example:           summaryExample,
		Args:              oneFile,
		ValidArgsFunction: completeStone,
		RunE:              func(_ *cobra.Command, args []string) error { return a.summary(args[0], f) },
	}
	cmd.Flags().StringVarP(&f.out, "output", "o", "", "write a picture to this file: .png or .svg")
	cmd.Flags().StringVar(&f.size, "size", "", "length x width x height of the finished stone, mm, as measured")
	cmd.Flags().BoolVar(&f.force, "force", false, "write over a file that is there already")
	return cmd
}

func (a *app) summary(path string, f summaryFlags) error {
	s, err := a.read(path, "")
	if err != nil {
		return err
	}
	var measured [3]float64
	if f.size != "" {
		if measured, err = threeSizes(f.size); err != nil {
			return err
		}
	}
	facts := s.facts(measured)
	if f.out == "" {
		_, err = fmt.Fprint(a.std.Out, summaryText(facts))
		return err
	}
	picture, err := summaryPicture(f.out, facts)
	if err != nil {
		return err
	}
	err = stonefile.Export(f.out, picture, f.force)
	if errors.Is(err, stonefile.ErrExists) {
		return fmt.Errorf("%s is there already: choose another name, or --force to write over it", f.out)
	}
	if err != nil {
		return err
	}
	_, err = fmt.Fprint(a.std.Out, paragraph("Written to "+planner.Visible(f.out)+"."))
	return err
}

// facts gathers what is told of a stone.
func (s *specimen) facts(measured [3]float64) summary.Facts {
	t := diaryText{s}
	fit := planjson.Planned(t.stone)
	colour := ""
	if fit != nil {
		if c := worth.ColourUnder(s.stone, s.rough, *fit); c.Grade > 0 {
			colour = strings.TrimSpace(fmt.Sprintf("play of colour, grade %.1f of 5, %s", c.Grade, c.Pattern))
			colour = strings.TrimSuffix(colour, ",")
		}
	}
	return summary.Of(s.stone, s.material, fit, colour, measured)
}

// summaryText sets the facts as text.
func summaryText(f summary.Facts) string {
	var b strings.Builder
	b.WriteString(paragraph(planner.Visible(f.Title())))
	tab := &table{}
	for _, r := range f.Rows() {
		tab.add(" "+r.Name, planner.Visible(r.Value))
	}
	b.WriteString(tab.String())
	for _, sentence := range f.Disclosures {
		b.WriteString(paragraph(planner.Visible(sentence)))
	}
	return b.String()
}

// summaryPicture draws the facts in the format that a file's name asks for.
func summaryPicture(name string, f summary.Facts) ([]byte, error) {
	switch ending := strings.ToLower(filepath.Ext(name)); ending {
	case ".svg":
		return summary.SVG(f), nil
	case ".png":
		return summary.PNG(f)
	default:
		return nil, usagef(
			"-o %s: %q is no picture here: give a name that ends in .png or .svg", name, cmp.Or(ending, "no ending"),
		)
	}
}
