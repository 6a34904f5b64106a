package sheet

import (
	"strings"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
)

// faceOf returns the sheet's font at so many pixels an em.
func faceOf(bold bool, pixels float64) font.Face {
	f := fonts()[bold]
	face, err := opentype.NewFace(f, &opentype.FaceOptions{Size: pixels, DPI: 72, Hinting: font.HintingNone})
	if err != nil {
		panic(err) // the fonts are built in
	}
	return face
}

var fonts = sync.OnceValue(func() map[bool]*opentype.Font {
	out := map[bool]*opentype.Font{}
	for bold, ttf := range map[bool][]byte{false: goregular.TTF, true: gobold.TTF} {
		f, err := opentype.Parse(ttf)
		if err != nil {
			panic(err) // the fonts are built in
		}
		out[bold] = f
	}
	return out
})

// measured faces are large, so that rounding to a 64th of a pixel is nothing.
const measuredPixels = 256

var measures = sync.OnceValue(func() map[bool]font.Face {
	return map[bool]font.Face{false: faceOf(false, measuredPixels), true: faceOf(true, measuredPixels)}
})

var measuring sync.Mutex // a font.Face is not safe for use by several goroutines

// widthOf returns how wide a line of text is, mm.
func widthOf(s string, size float64, bold bool) float64 {
	measuring.Lock()
	defer measuring.Unlock()
	return float64(font.MeasureString(measures()[bold], s)) / 64 / measuredPixels * size
}

// wrap breaks text into lines no wider than width, between words; a word that
// is wider stands on a line of its own.
func wrap(s string, size, width float64, bold bool) []string {
	var out []string
	now := ""
	for _, word := range strings.Fields(s) {
		longer := word
		if now != "" {
			longer = now + " " + word
		}
		if now != "" && widthOf(longer, size, bold) > width {
			out = append(out, now)
			longer = word
		}
		now = longer
	}
	if now != "" {
		out = append(out, now)
	}
	return out
}
