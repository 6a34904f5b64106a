package sheet

import (
	"bytes"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Text of SVG needs no font of the machine that shows it: glyphs are drawn, each that is
// used is there, and a line's ink ends where the line was measured to end.
func TestTextOfTheSVGIsDrawn(t *testing.T) {
	const size, from = 3.0, 20.0
	line := "Wear eye protection: 100% (AV To)"
	for _, a := range []align{left, centre, right} {
		for _, bold := range []bool{false, true} {
			var b bytes.Buffer
			it := text{at: at(from, 10), size: size, bold: bold, align: a, string: line}
			require.NoError(t, WriteSVG(&b, Page{Width: 200, Height: 30, items: []item{it}}, "text"))
			svg := b.String()
			assert.NotContains(t, svg, "<text")
			assert.Contains(t, svg, `aria-label="`+line+`"`)

			glyphs := map[string]string{}
			for _, m := range regexp.MustCompile(`<path id="([^"]+)" d="([^"]+)"`).FindAllStringSubmatch(svg, -1) {
				glyphs[m[1]] = m[2]
			}
			shift := regexp.MustCompile(`translate\(([-\d.]+) 10\)`).FindStringSubmatch(svg)
			require.NotNil(t, shift)
			start, err := strconv.ParseFloat(shift[1], 64)
			require.NoError(t, err)
			uses := regexp.MustCompile(`xlink:href="#([^"]+)" x="([-\d.]+)"`).FindAllStringSubmatch(svg, -1)
			require.Len(t, uses, len(strings.ReplaceAll(line, " ", "")))
			low, high := math.Inf(1), math.Inf(-1)
			for _, u := range uses {
				require.Contains(t, glyphs, u[1])
				x, err := strconv.ParseFloat(u[2], 64)
				require.NoError(t, err)
				for i, n := range regexp.MustCompile(`[-\d.]+`).FindAllString(glyphs[u[1]], -1) {
					v, err := strconv.ParseFloat(n, 64)
					require.NoError(t, err)
					if i%2 == 0 {
						low, high = math.Min(low, start+size*(x+v)), math.Max(high, start+size*(x+v))
					}
				}
			}
			width := widthOf(line, size, bold)
			begin := map[align]float64{left: from, centre: from - width/2, right: from - width}[a]
			assert.InDelta(t, begin, low, 0.1*size)
			assert.InDelta(t, begin+width, high, 0.1*size)
		}
	}
}
