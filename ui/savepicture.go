package ui

import (
	"bytes"
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"cabwright/planner/stonefile"
	"cabwright/ui/canvas"
	"cabwright/ui/drawing"
	"cabwright/ui/picture"
	"cabwright/ui/style"
	"cabwright/ui/widget"
)

// The drawing on its own has so many cells, whatever the terminal has: the plan
// above, the section below it.
const pictureCols, picturePlan, pictureSection = 120, 46, 20

// terminalColours are what the screen leaves to the terminal, in a picture.
func (m *Model) terminalColours() picture.Colours {
	if m.ground == style.Light {
		return picture.Light
	}
	return picture.Dark
}

// screenPicture is the screen as it is.
func (m *Model) screenPicture() *picture.Screen {
	return picture.New(m.lines(), m.width, m.terminalColours())
}

// drawingPicture is the stone with the chosen fit from the face looked at, and
// the section along it, in all colours.
func (m *Model) drawingPicture() *picture.Screen {
	ground := style.Dark
	if m.ground == style.Light {
		ground = style.Light
	}
	sheet := style.New(style.TrueColour, ground)
	sc := m.s.Scene()
	sc.Fit, sc.Palette = m.s.Chosen, sheet.Palette()
	line := sc.LongAxis()
	sc.Line = &line
	c := canvas.New(pictureCols, picturePlan, canvas.Braille)
	c.SetView(sc.Window(pictureCols, picturePlan, 2))
	drawing.Plan(c, sc)
	lines := c.Lines(sheet.Canvas)
	if m.s.Rough != nil {
		c = canvas.New(pictureCols, pictureSection, canvas.Braille)
		c.SetView(sc.SectionWindow(line, pictureCols, pictureSection, 2))
		drawing.Section(c, sc, line)
		lines = append(lines, c.Lines(sheet.Canvas)...)
	}
	return picture.New(lines, pictureCols, m.terminalColours())
}

// pictureFiles returns the pictures a file name asks for: by its ending, or without one both.
func pictureFiles(path string) ([]string, error) {
	switch ext := strings.ToLower(filepath.Ext(path)); ext {
	case ".svg", ".png":
		return []string{path}, nil
	case "":
		return []string{path + ".svg", path + ".png"}, nil
	default:
		return nil, fmt.Errorf("a picture's name ends in .svg or .png, or in neither for both, not in %s", ext)
	}
}

// render makes a file's bytes of a picture.
func render(p *picture.Screen, path string) ([]byte, error) {
	var b bytes.Buffer
	if strings.EqualFold(filepath.Ext(path), ".png") {
		err := p.PNG(&b)
		return b.Bytes(), err
	}
	err := p.SVG(&b)
	return b.Bytes(), err
}

// writePicture writes a picture to each of the files; none may be there yet
// unless over.
func writePicture(p *picture.Screen, files []string, over bool) error {
	for _, path := range files {
		data, err := render(p, path)
		if err == nil {
			err = stonefile.Export(path, data, over)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// askPicture asks what to save a picture of, and where.
func (m *Model) askPicture() {
	screen := m.screenPicture() // before the form lies over it
	name := strings.TrimSuffix(
		stonefile.FileName(m.s.Stone().Name, ".svg"),
		".svg",
	) + "-" + strings.ToLower(
		strings.Fields(m.views[m.at].Name())[0],
	)
	m.s.Ask(&widget.Form{
		Title: "Save a picture",
		Notes: []string{"A name that ends in .svg or .png; with neither both are written. ctrl+s saves the stone itself."},
		Fields: []*widget.Field{
			(&widget.Field{Label: "Of", Kind: widget.Choose, Choices: []string{"the screen", "the drawing"}}).With("the screen"),
			(&widget.Field{Label: "File", Kind: widget.Words, MaxLen: 1000}).With(name),
		},
		Done: func(f *widget.Form) error {
			if f.Text(1) == "" {
				return widget.Wrong{Field: 1, Err: errors.New("type a file name")}
			}
			files, err := pictureFiles(f.Text(1))
			if err != nil {
				return widget.Wrong{Field: 1, Err: err}
			}
			p := screen
			if f.Choice(0) == 1 {
				p = m.drawingPicture()
			}
			m.after = func() tea.Msg {
				return copiedMsg{path: strings.Join(files, " and "), err: writePicture(p, files, false)}
			}
			return nil
		},
	})
}
