package planjson

import (
	"encoding/json"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/geometry/outline"
	"cabwright/planner"
	"cabwright/planner/search"
)

// A fit that a diary keeps comes back as the same solid at the same pose, to the
// digits that are printed.
func TestFitComesBack(t *testing.T) {
	fits := sample(t).Fits
	free, err := outline.Freeform([]geometry.Vec2{{X: 6, Y: 0}, {X: 2, Y: 4.75}, {X: -6, Y: 1.0 / 3}, {X: -3, Y: -4},
		{X: 3, Y: -4}})
	require.NoError(t, err)
	fits[0].Solid.Outline = free
	for i, f := range fits {
		assert.InDelta(t, f.Clearance, readBack(t, f).Clearance, 2e-4)
		f.Clearance = 0 // it is rounded down whenever it is printed
		text := Fit(i+1, f)
		got, err := ReadFit(text)
		require.NoError(t, err)
		assert.Equal(t, string(text), string(Fit(i+1, got)))
		assert.InDelta(t, f.Solid.Volume(), got.Solid.Volume(), 1e-6)
	}
	for _, bad := range []string{"", "null", "[]", `{"shape": "star", "length_mm": 5, "width_mm": 4}`, `{"shape": "oval"}`,
		`{"shape": "oval", "length_mm": 5, "width_mm": 4, "carat": -1}`,
		`{"shape": "freeform", "outline_mm": [[0, 0], [1, 0]]}`} {
		_, err := ReadFit([]byte(bad))
		assert.Error(t, err, bad)
	}
	old, err := ReadFit([]byte(`{"shape": "oval", "length_mm": 14, "width_mm": 10, "carat": 2.3}`))
	require.NoError(t, err, "a fit of little said")
	assert.Equal(t, 2.3, old.CaratLow)
}

func readBack(t *testing.T, f search.Fit) search.Fit {
	got, err := ReadFit(Fit(1, f))
	require.NoError(t, err)
	return got
}

// The fit that a stone is to become is the one kept last that reads as one.
func TestPlannedIsTheLastThatReads(t *testing.T) {
	assert.Nil(t, Planned(planner.Stone{}))
	kept := func(length int) json.RawMessage {
		return json.RawMessage(fmt.Sprintf(`{"shape": "round", "length_mm": %d, "width_mm": %d, "carat": 2}`, length, length))
	}
	s := planner.Stone{Diary: []planner.Entry{{Planned: kept(8)}, {}, {Planned: kept(7)}, {Planned: json.RawMessage(`{}`)},
		{}}}
	f := Planned(s)
	require.NotNil(t, f)
	assert.Equal(t, 7.0, f.Solid.Outline.Length)
}
