package command

import (
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/pflag"
)

// Picture says which pictures of the workbench to make instead of opening it.
type Picture struct {
	File          string   // ends in .svg or .png; with several views each one's name goes before that
	Views         []string // as their names begin, in small letters; none: fits
	Width, Height int      // cells
	Light         bool     // as on a light terminal
	Level         bool     // plan without tilt
	Over          bool     // write over files that are there
}

// pictureFlags are the flags that go with --picture.
type pictureFlags struct {
	picture Picture
	size    string
}

func (p *pictureFlags) add(flags *pflag.FlagSet) {
	flags.StringVar(
		&p.picture.File, "picture", "",
		"write the screen as a picture, FILE.svg or FILE.png, after the whole plan, and end",
	)
	flags.StringSliceVar(
		&p.picture.Views, "view", nil,
		"with --picture: outline, cracks, fits, section, saw, worth or diary; several give FILE-outline.svg and so on "+
			"(default fits)",
	)
	flags.StringVar(&p.size, "size", "120x36", "with --picture: columns x rows of the screen")
	flags.BoolVar(&p.picture.Light, "light", false, "with --picture: on a light ground")
	flags.BoolVar(&p.picture.Level, "level", false, "with --picture: plan without tilt, which is faster")
	flags.BoolVar(&p.picture.Over, "force", false, "with --picture: write over files that are there")
}

// Sides of a picture, in cells: what the workbench draws on, up to 500 x 200.
var (
	pictureLeast = [2]int{30, 8}
	pictureMost  = [2]int{500, 200}
)

// asked returns the pictures asked for, nil for none.
func (p *pictureFlags) asked(flags *pflag.FlagSet) (*Picture, error) {
	if !flags.Changed("picture") {
		for _, name := range []string{"view", "size", "light", "level", "force"} {
			if flags.Changed(name) {
				return nil, usagef("--%s goes with --picture FILE", name)
			}
		}
		return nil, nil
	}
	if !slices.Contains([]string{".svg", ".png"}, strings.ToLower(filepath.Ext(p.picture.File))) {
		return nil, usagef("--picture %q: a picture's name ends in .svg or .png", p.picture.File)
	}
	size, err := sides(p.size)
	if err != nil {
		return nil, err
	}
	p.picture.Width, p.picture.Height = size[0], size[1]
	return &p.picture, nil
}

// sides reads columns x rows.
func sides(text string) (out [2]int, err error) {
	cols, rows, ok := strings.Cut(strings.ToLower(text), "x")
	for i, word := range []string{cols, rows} {
		n, err := strconv.Atoi(word)
		if !ok || err != nil || n < pictureLeast[i] || n > pictureMost[i] {
			return out, usagef("--size %q: columns x rows from %dx%d to %dx%d, like 120x36", text,
				pictureLeast[0], pictureLeast[1], pictureMost[0], pictureMost[1])
		}
		out[i] = n
	}
	return out, nil
}
