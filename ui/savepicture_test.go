package ui

import (
	"bytes"
	"context"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/require"

	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/presets"
)

// saved presses s, types a file's name and carries out what the form asks for.
func saved(t *testing.T, m *Model, path string, keys ...string) {
	t.Helper()
	press(t, m, append([]string{"s"}, keys...)...)
	f := m.s.Asking()
	require.NotNil(t, f)
	f.Fields[1].With(path)
	_, cmd := m.Update(tea.KeyMsg{Type: tea.KeyCtrlS})
	require.NotNil(t, cmd, f.Problem())
	m.Update(cmd())
}

// s saves the screen, or the drawing on its own, as SVG, PNG or both, over nothing
// that is there already.
func TestPicturesOfScreenAndDrawing(t *testing.T) {
	dir := t.TempDir()
	m := settled(t, "nodule.stone", 80, 24)
	press(t, m, "3")
	saved(t, m, filepath.Join(dir, "screen"))
	require.Contains(t, m.s.Status().Text, "Written")
	svg, err := os.ReadFile(filepath.Join(dir, "screen.svg"))
	require.NoError(t, err)
	require.True(t, bytes.Contains(svg, []byte("[3 Fits]")))
	require.False(t, bytes.Contains(svg, []byte("Save a picture")), "the form lies over the screen")
	data, err := os.ReadFile(filepath.Join(dir, "screen.png"))
	require.NoError(t, err)
	img, err := png.Decode(bytes.NewReader(data))
	require.NoError(t, err)
	require.Equal(t, 800, img.Bounds().Dx())
	require.Equal(t, 480, img.Bounds().Dy())

	before, err := os.ReadFile(filepath.Join(dir, "screen.svg"))
	require.NoError(t, err)
	saved(t, m, filepath.Join(dir, "screen.svg"))
	require.NotContains(t, m.s.Status().Text, "Written", "the file is there already")
	after, err := os.ReadFile(filepath.Join(dir, "screen.svg"))
	require.NoError(t, err)
	require.True(t, bytes.Equal(before, after))

	saved(t, m, filepath.Join(dir, "drawing.svg"), "<down>")
	_, err = os.Stat(filepath.Join(dir, "drawing.svg"))
	require.NoError(t, err)
}

func TestAPicturesNameSaysItsKind(t *testing.T) {
	for name, want := range map[string][]string{"a.svg": {"a.svg"}, "b.PNG": {"b.PNG"}, "c": {"c.svg", "c.png"}} {
		got, err := pictureFiles(name)
		require.NoError(t, err)
		require.Equal(t, want, got)
	}
	_, err := pictureFiles("d.gif")
	require.ErrorContains(t, err, ".svg or .png")
}

// Pictures of each view come without a terminal, the same each time.
func TestPicturesOfEachView(t *testing.T) {
	find := func(_ context.Context, s planner.Stone, _ search.Options, _ func(search.Plan)) (search.Plan, error) {
		return fakePlan(s), nil
	}
	cfg := Config{Path: filepath.Join("..", "testdata", "stones", "nodule.stone"), Presets: presets.Builtin(),
		Search: find}
	var made [2][]byte
	for i := range made {
		dir := t.TempDir()
		cfg.Picture = &Frame{File: filepath.Join(dir, "p.svg"), Views: []string{"outline", "cracks", "fits", "section"},
			Width: 100, Height: 30}
		require.NoError(t, Run(context.Background(), cfg))
		for _, v := range cfg.Picture.Views {
			data, err := os.ReadFile(filepath.Join(dir, "p-"+v+".svg"))
			require.NoError(t, err)
			made[i] = append(made[i], data...)
		}
	}
	require.True(t, bytes.Equal(made[0], made[1]))
	cfg.Picture = &Frame{File: filepath.Join(t.TempDir(), "p.svg"), Views: []string{"nowhere"}, Width: 100, Height: 30}
	require.ErrorContains(t, Run(context.Background(), cfg), "outline, cracks, fits, section")
}
