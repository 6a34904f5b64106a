package presets_test

import (
	"fmt"
	"math"
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
	"cabwright/presets"
)

// tables walks all tables of a set, whatever they hold.
func tables(s *presets.Set, row func(name string, row reflect.Value)) {
	v := reflect.ValueOf(*s)
	for i := 0; i < v.NumField(); i++ {
		name, f := v.Type().Field(i).Name, v.Field(i)
		if f.Kind() != reflect.Slice {
			row(name, f)
			continue
		}
		for k := 0; k < f.Len(); k++ {
			row(fmt.Sprintf("%s[%d]", name, k), f.Index(k))
		}
	}
}

func TestEveryRowHasASource(t *testing.T) {
	rows := 0
	tables(presets.Builtin(), func(name string, row reflect.Value) {
		rows++
		assert.NotEmpty(t, row.FieldByName("Source").String(), name)
	})
	assert.Greater(t, rows, 150)
}

func TestKeysAreUnique(t *testing.T) {
	seen := map[string]string{}
	tables(presets.Builtin(), func(name string, row reflect.Value) {
		if key := row.FieldByName("Key"); key.IsValid() {
			id := row.Type().Name() + " " + key.String()
			assert.Empty(t, seen[id], "%s: key of %s", name, seen[id])
			seen[id] = name
		}
	})
}

// The ranges as the sources named in the rows give them.
func TestMaterials(t *testing.T) {
	s := presets.Builtin()
	for _, m := range s.Materials {
		assert.True(t, m.SG.Low <= m.SG.Typical && m.SG.Typical <= m.SG.High, m.Key)
		assert.True(t, m.SG.Low > 1 && m.SG.High < 5, m.Key)
		assert.True(t, m.MohsLow <= m.MohsHigh && m.MohsLow >= 2 && m.MohsHigh <= 9, m.Key)
		assert.NotEmpty(t, m.Name, m.Key)
	}
	for _, c := range []struct {
		key                string
		low, typical, high float64
		porous             bool
		caution            string
		source             string
	}{
		{"opal", 1.25, 2.15, 2.23, false, "silica", "GIA Gem Reference Guide, 1995"},
		{"opal-hydrophane", 1.74, 1.83, 1.93, true, "soaking", "Gems & Gemology 46(2), 2010"},
		{"jadeite", 3.25, 3.34, 3.40, false, "dust", "GIA Gem Reference Guide, 1995"},
		{"turquoise", 2.6, 2.76, 2.9, true, "copper", "memory"},
		{"malachite", 3.6, 3.8, 4.05, false, "copper", "memory"},
		{"tigers-eye", 2.64, 2.67, 2.71, false, "fibres", "memory"},
		{"larimar", 2.62, 2.81, 2.90, false, "glue", "Gems & Gemology, Summer 2013"},
	} {
		m, ok := s.Material(c.key)
		require.True(t, ok, c.key)
		assert.Equal(t, presets.Range{Low: c.low, Typical: c.typical, High: c.high}, m.SG, c.key)
		assert.Equal(t, c.porous, m.Porous, c.key)
		assert.Contains(t, m.Source, c.source, c.key)
		var keys []string
		for _, caution := range s.CautionsFor(m) {
			keys = append(keys, caution.Key)
		}
		assert.Contains(t, keys, c.caution, c.key)
		assert.Contains(t, keys, "rules", "%s: the general cautions belong to all", c.key)
	}
	for _, key := range []string{"opal-sedimentary", "opal-boulder", "jasper", "agate", "quartz", "moonstone", "amber"} {
		_, ok := s.Material(key)
		assert.True(t, ok, key)
	}
	_, ok := s.Material("no such stone")
	assert.False(t, ok)
}

// A caution never promises that a thing is harmless.
func TestCautionsPromiseNothing(t *testing.T) {
	tables(presets.Builtin(), func(name string, row reflect.Value) {
		assert.NotRegexp(t, `(?i)\bsafe`, fmt.Sprint(row.Interface()), name)
	})
}

func TestSizes(t *testing.T) {
	s := presets.Builtin()
	count := map[string]int{}
	for _, size := range s.Sizes {
		name := fmt.Sprintf("%s %g x %g", size.Shape, size.Length, size.Width)
		count[size.Shape]++
		o, err := outline.New(size.Shape, size.Length, size.Width)
		require.NoError(t, err, name)
		for _, wall := range s.Walls {
			for _, dome := range s.DomeStyles {
				for _, back := range s.BackStyles {
					c := solid.Cabochon{
						Outline: o, Wall: wall.Height, WallLeanDeg: wall.LeanDeg, Dome: dome.HeightByWidth * size.Width,
						Sides: back.Sides(),
					}
					c.Back = back.Depth(c.Wall, c.Dome)
					assert.Greater(t, c.RimRatio(), 0.5, "%s, %s: the wall leaves no dome", name, wall.Key)
					assert.Equal(t, back.Key == "flat", c.BackDepth() == 0, name)
				}
			}
		}
	}
	for _, shape := range outline.Shapes() {
		assert.GreaterOrEqual(t, count[shape], 7, shape)
	}
	assert.Len(t, count, len(outline.Shapes()))
}

// Settings of one length and width are made for several outlines, so the tables
// of outlines lean on each other (common practice).
func TestSizesOfOutlinesAgree(t *testing.T) {
	type size struct{ length, width float64 }
	of := map[string]map[size]bool{}
	for _, row := range presets.Builtin().Sizes {
		if of[row.Shape] == nil {
			of[row.Shape] = map[size]bool{}
		}
		at := size{row.Length, row.Width}
		assert.False(t, of[row.Shape][at], "%s %v stands twice", row.Shape, at)
		of[row.Shape][at] = true
	}
	assert.Equal(t, of["rectangle"], of["octagon"], "an octagon is a rectangle with its corners off")
	oblong := 0
	for at := range of["cushion"] {
		if at.length > at.width {
			oblong++
			assert.True(t, of["rectangle"][at], "an oblong cushion %v without its rectangle", at)
		}
	}
	assert.Positive(t, oblong, "oblong cushions")
	for at := range of["rectangle"] {
		assert.True(t, of["oval"][at], "a rectangle %v without its oval", at)
	}
	for _, shape := range []string{"triangle", "heart"} {
		for at := range of[shape] {
			assert.Equal(t, at.length, at.width, "%s: sold by one figure", shape)
			assert.True(t, of["round"][at], "a %s of %g without its round", shape, at.length)
		}
	}
}

func TestBackDepth(t *testing.T) {
	s := presets.Builtin()
	flat, _ := s.BackStyle("flat")
	slight, _ := s.BackStyle("slight")
	lentil, _ := s.BackStyle("lentil")
	assert.Equal(t, 0.0, flat.Depth(1.2, 3))
	assert.Equal(t, 1, flat.Sides())
	// A quarter of the whole: 1.2 + 3 + 1.4 = 5.6.
	assert.InDelta(t, 1.4, slight.Depth(1.2, 3), 1e-12)
	assert.Equal(t, 2, slight.Sides())
	assert.InDelta(t, 3.0, lentil.Depth(1.2, 3), 1e-12)
	for wall := 0.0; wall < 2; wall += 0.3 {
		back := slight.Depth(wall, 3)
		share := back / (wall + 3 + back)
		assert.True(t, share >= 0.20 && share <= 0.35, "common practice: 20 to 35% of the height")
	}
	both := presets.BackStyle{OfHeight: 0.5, OfDome: 1}
	assert.InDelta(t, 3+4.2, both.Depth(1.2, 3), 1e-12)
}

// The defaults are those of the stone file's definition.
func TestDefaults(t *testing.T) {
	s := presets.Builtin()
	a := s.Allowances
	assert.Equal(t, []float64{0.5, 1.0, 0.6, 0.5, 1.0}, []float64{a.Skin, a.Crack, a.SealedCrack, a.Pocket, a.RunOn})
	wall, ok := s.Wall(s.Defaults.Wall)
	require.True(t, ok)
	assert.Equal(t, []float64{1.2, 10}, []float64{wall.Height, wall.LeanDeg})
	_, ok = s.Material(s.Defaults.Material)
	assert.True(t, ok)
	saw, ok := s.Saw(s.Defaults.Saw)
	require.True(t, ok)
	assert.Equal(t, 0.3, saw.Kerf)
	for i, key := range []string{"low", "medium", "high"} {
		dome, ok := s.DomeStyle(key)
		require.True(t, ok)
		assert.Equal(t, []float64{0.2, 0.3, 0.4}[i], dome.HeightByWidth)
	}
}

// Each wheel leaves no more than the one before.
func TestWheels(t *testing.T) {
	left := math.Inf(1)
	for _, w := range presets.Builtin().Wheels {
		assert.LessOrEqual(t, w.Left, left, w.Key)
		left = w.Left
	}
	assert.Zero(t, left)
}
