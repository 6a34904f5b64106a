package picture

import (
	"bytes"
	"encoding/base64"
	"encoding/xml"
	"errors"
	"image/color"
	"image/png"
	"io"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// wellFormed reads an SVG to its end.
func wellFormed(t require.TestingT, svg []byte) {
	d := xml.NewDecoder(bytes.NewReader(svg))
	for {
		_, err := d.Token()
		if errors.Is(err, io.EOF) {
			return
		}
		require.NoError(t, err, "%s", svg)
	}
}

func both(t require.TestingT, s *Screen) (svg, picture []byte) {
	var a, b bytes.Buffer
	require.NoError(t, s.SVG(&a))
	require.NoError(t, s.PNG(&b))
	return a.Bytes(), b.Bytes()
}

func TestScreensWithoutRoom(t *testing.T) {
	for _, s := range []*Screen{New(nil, 0, Dark), New([]string{""}, 0, Dark), New([]string{"abc"}, -3, Light),
		New(nil, 5, Dark)} {
		var b bytes.Buffer
		assert.Error(t, s.SVG(&b), "a picture of nothing is none")
		assert.Error(t, s.PNG(&b))
	}
}

// Each sign has its colour in the middle of what it fills: half blocks by halves,
// a dot of a braille pattern in its place (Unicode's chart of U+2800), reversed
// words on their own colour.
func TestPixels(t *testing.T) {
	line := "\x1b[38;2;10;20;30;48;2;40;50;60m▀\x1b[0m▄\x1b[38;2;1;2;3m█\x1b[0m" +
		"\x1b[38;2;200;100;50m⠁⢀\x1b[0m\x1b[38;2;9;8;7;7m \x1b[0m\x1b[48;2;5;6;7m \x1b[0mx"
	s := New([]string{line}, 8, Dark)
	_, data := both(t, s)
	img, err := png.Decode(bytes.NewReader(data))
	require.NoError(t, err)
	require.Equal(t, 80, img.Bounds().Dx())
	require.Equal(t, 20, img.Bounds().Dy())
	at := func(x, y int) color.RGBA { return color.RGBAModel.Convert(img.At(x, y)).(color.RGBA) }
	assert.Equal(t, color.RGBA{10, 20, 30, 255}, at(5, 4), "upper half")
	assert.Equal(t, color.RGBA{40, 50, 60, 255}, at(5, 15), "lower half")
	assert.Equal(t, Dark.Back, at(15, 4))
	assert.Equal(t, Dark.Fore, at(15, 15))
	assert.Equal(t, color.RGBA{1, 2, 3, 255}, at(25, 10))
	assert.Equal(t, color.RGBA{200, 100, 50, 255}, at(32, 2), "dot 1: upper left")
	assert.Equal(t, Dark.Back, at(37, 17))
	assert.Equal(t, color.RGBA{200, 100, 50, 255}, at(47, 17), "dot 8: lower right")
	assert.Equal(t, color.RGBA{9, 8, 7, 255}, at(55, 10), "reversed")
	assert.Equal(t, color.RGBA{5, 6, 7, 255}, at(65, 10))
	letter := 0
	for x := 70; x < 80; x++ {
		for y := range 20 {
			if at(x, y) != Dark.Back {
				letter++
			}
		}
	}
	assert.Greater(t, letter, 10, "the letter is written")
}

// The SVG holds the same: the ground as a small picture, words as text.
func TestSVGHoldsGroundAndWords(t *testing.T) {
	s := New([]string{"\x1b[1mA <b> & c\x1b[0m  \x1b[38;2;10;20;30;48;2;40;50;60m▀", "⠿ \x1b[31mred"}, 20, Light)
	svg, _ := both(t, s)
	wellFormed(t, svg)
	assert.Contains(t, string(svg),
		`font-weight="bold" textLength="90" lengthAdjust="spacingAndGlyphs">A &lt;b&gt; &amp; c</text>`)
	assert.Contains(t, string(svg), ">red</text>")
	assert.Equal(t, 6, strings.Count(string(svg), "h3v3h-3z"), "six dots")
	m := regexp.MustCompile(`base64,([^"]*)"`).FindSubmatch(svg)
	data, err := base64.StdEncoding.DecodeString(string(m[1]))
	require.NoError(t, err)
	img, err := png.Decode(bytes.NewReader(data))
	require.NoError(t, err)
	require.Equal(t, 20, img.Bounds().Dx())
	require.Equal(t, 4, img.Bounds().Dy())
	assert.Equal(t, color.RGBA{10, 20, 30, 255}, color.RGBAModel.Convert(img.At(11, 0)))
	assert.Equal(t, color.RGBA{40, 50, 60, 255}, color.RGBAModel.Convert(img.At(11, 1)))
	assert.Equal(t, Light.Back, color.RGBAModel.Convert(img.At(5, 2)))
}

// Whatever a line holds, the picture is whole.
func TestAnyTextMakesAPicture(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lines := rapid.SliceOfN(rapid.String(), 1, 3).Draw(t, "lines")
		for i := range lines {
			lines[i] = strings.ReplaceAll(lines[i], "\n", "")
		}
		s := New(lines, rapid.IntRange(1, 12).Draw(t, "width"), Dark)
		svg, data := both(t, s)
		wellFormed(t, svg)
		_, err := png.Decode(bytes.NewReader(data))
		require.NoError(t, err)
	})
}
