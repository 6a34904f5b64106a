package summary

import (
	"bytes"
	"encoding/xml"
	"image/png"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/presets"
)

func fit(t *testing.T, shape string) *search.Fit {
	o, err := outline.New(shape, 14, 10)
	require.NoError(t, err)
	return &search.Fit{Candidate: search.Candidate{Solid: solid.Cabochon{Outline: o, Wall: 1.2, Dome: 3, Back: 1,
		Sides: 2}}, Carat: 2.3}
}

func rows(f Facts) map[string]string {
	out := map[string]string{}
	for _, r := range f.Rows() {
		out[r.Name] = r.Value
	}
	return out
}

// What is not known is not told: a stone that is only planned says so, and a
// measured size takes the place of the planned one.
func TestFacts(t *testing.T) {
	opal, _ := presets.Builtin().Material("opal")
	bare := Of(planner.Stone{}, opal, nil, "", [3]float64{})
	assert.Equal(t, map[string]string{"Kind": opal.Name, "Treatments": "none recorded"}, rows(bare))
	assert.Equal(t, "Unnamed stone", bare.Title())

	planned := rows(Of(planner.Stone{Name: "A"}, opal, fit(t, "oval"), "", [3]float64{}))
	assert.Equal(t, "2.30 ct planned, not cut yet", planned["Weight"])
	assert.Equal(t, "14.0 x 10.0 x 5.2 mm, planned", planned["Size"])
	assert.Equal(t, "cabochon, domed on both sides", planned["Cut"])

	s := planner.Stone{Name: "A", Diary: []planner.Entry{
		{Stage: "sealed", Treatments: []string{"glue"}, Photo: "first.jpg"},
		{Stage: "polished", Date: "2026-06-01T10:00:00Z", Carat: 2.25, Photo: "last.jpg"}, {Stage: "sold",
			Date: "2026-07-01"},
	}}
	f := Of(s, opal, fit(t, "oval"), "grade 4", [3]float64{13.9, 10.1, 5})
	done := rows(f)
	assert.Equal(t, "2.25 ct (0.450 g)", done["Weight"],
		"1 ct is 0.2 g (4th General Conference on Weights and Measures, 1907)")
	assert.Equal(t, "13.9 x 10.1 x 5.0 mm, measured", done["Size"])
	assert.Equal(t, "2026-06-01", done["Finished"])
	assert.Equal(t, "last.jpg", done["Photograph"])
	assert.NotContains(t, done, "Treatments", "it has been treated: the sentence says so")
	require.Len(t, f.Disclosures, 1)
	sealed := Of(planner.Stone{Cracks: []planner.Crack{{Sealed: true}}}, opal, nil, "", [3]float64{})
	assert.False(t, sealed.None)
}

// A picture holds every word that the text has, inside its edges, whatever the name
// and however much there is to tell.
func TestPictures(t *testing.T) {
	for _, shape := range []string{"oval", "pear", "heart"} {
		for _, name := range []string{"", "<b>&\x1b[2J\u202e", strings.Repeat("long name ", 30) + strings.Repeat("w", 100)} {
			f := Facts{Name: name, Kind: "Opal", Finished: true, Carat: 2.25, Size: [3]float64{14, 10, 5.2}, Fit: fit(t, shape),
				Disclosures: []string{strings.Repeat("told ", 80), strings.Repeat("more ", 80)}}
			data, err := PNG(f)
			require.NoError(t, err)
			img, err := png.Decode(bytes.NewReader(data))
			require.NoError(t, err)
			assert.Equal(t, cardWidth, img.Bounds().Dx())
			assert.GreaterOrEqual(t, img.Bounds().Dy(), cardLeast)

			text := ""
			for d := xml.NewDecoder(bytes.NewReader(SVG(f))); ; {
				token, err := d.Token()
				if err == io.EOF {
					break
				}
				require.NoError(t, err, "%s %q", shape, name)
				if letters, ok := token.(xml.CharData); ok {
					text += string(letters) + " "
				}
			}
			assert.NotContains(t, text, "\x1b")
			assert.Equal(t, 80, strings.Count(text, "told"))
			c := layOut(f, width)
			for _, w := range c.words {
				assert.True(t, w.at.X >= 0 && w.at.X+width(w.text, w.size, w.bold) <= cardWidth && w.at.Y <= float64(c.height),
					"%q at %v", w.text, w.at)
			}
			for _, s := range c.shapes {
				for _, p := range s.points {
					assert.True(t, p.X >= 0 && p.X <= drawRight && p.Y >= 0 && p.Y <= float64(c.height), "%v", p)
				}
			}
		}
	}
	_, err := PNG(Facts{})
	assert.NoError(t, err)
}
