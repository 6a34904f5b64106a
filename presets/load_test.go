package presets_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cabwright/presets"
)

const head = `"format": "cabwright-presets", "version": 1`

// userFile writes a file of the cutter's own and returns its path.
func userFile(t testing.TB, text string) string {
	path := filepath.Join(t.TempDir(), "presets.json")
	require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
	return path
}

func TestNoFileOfOnesOwn(t *testing.T) {
	set, warnings, err := presets.LoadFile(filepath.Join(t.TempDir(), "none", "presets.json"))
	require.NoError(t, err)
	assert.Empty(t, warnings)
	assert.Equal(t, presets.Builtin(), set)
}

func TestAnEmptyFileOfOnesOwn(t *testing.T) {
	for _, text := range []string{"", " \n\t"} {
		set, warnings, err := presets.LoadFile(userFile(t, text))
		require.NoError(t, err)
		require.Len(t, warnings, 1)
		assert.Equal(t, "the file is empty", warnings[0].Text)
		assert.Equal(t, presets.Builtin(), set)
	}
}

func TestLoadLooksInTheConfigFolder(t *testing.T) {
	home := t.TempDir()
	t.Setenv("XDG_CONFIG_HOME", home)
	require.NoError(t, os.MkdirAll(filepath.Join(home, "cabwright"), 0o700))
	require.NoError(t, os.WriteFile(filepath.Join(home, "cabwright", "presets.json"),
		[]byte(`{`+head+`, "saws": [{"key": "mine", "name": "my saw", "kerf_mm": 0.4}]}`), 0o600))
	set, warnings, err := presets.Load()
	require.NoError(t, err)
	assert.Empty(t, warnings)
	saw, ok := set.Saw("mine")
	assert.True(t, ok)
	assert.Equal(t, presets.Saw{Key: "mine", Name: "my saw", Kerf: 0.4, Source: "your own presets"}, saw)

	// Without any home folder the built-in presets still work.
	t.Setenv("XDG_CONFIG_HOME", "")
	t.Setenv("HOME", "")
	set, warnings, err = presets.Load()
	require.NoError(t, err)
	assert.Len(t, warnings, 1)
	assert.Equal(t, presets.Builtin(), set)
}

// The example of the README is a file that works as it is, and has a row for
// each table.
func TestReadmeExample(t *testing.T) {
	text, err := os.ReadFile("README.md")
	require.NoError(t, err)
	_, after, ok := strings.Cut(string(text), "```json\n")
	require.True(t, ok)
	example, _, ok := strings.Cut(after, "```")
	require.True(t, ok)
	set, warnings, err := presets.LoadFile(userFile(t, example))
	require.NoError(t, err)
	assert.Empty(t, warnings)

	own := presets.Builtin()
	assert.Len(t, set.Materials, len(own.Materials)+1)
	assert.Len(t, set.Cautions, len(own.Cautions)+1)
	assert.Len(t, set.Sizes, len(own.Sizes)+1)
	assert.Len(t, set.DomeStyles, len(own.DomeStyles)+1)
	assert.Len(t, set.BackStyles, len(own.BackStyles)+1)
	assert.Len(t, set.Walls, len(own.Walls)+1)
	assert.Len(t, set.Saws, len(own.Saws)+1)
	assert.Len(t, set.Wheels, len(own.Wheels)+1)
	assert.Equal(t, []presets.Price{{
		Name: "bright, two-sided", Material: "opal-hydrophane", Carat: presets.Span{Low: 1,
			High: 3}, Grade: presets.Span{Low: 3, High: 5},
		Colour: presets.Span{Low: 0.4, High: 1}, Pattern: "honeycomb", Sides: 2, Face: "top",
		PerCarat: presets.Range{Low: 20, Typical: 45, High: 90}, Currency: "EUR", Source: "invented",
	}}, set.Prices)
	assert.Equal(t, []presets.RoughPrice{{
		Material: "opal-hydrophane", PerCarat: presets.Range{Low: 1, Typical: 2,
			High: 3}, Currency: "EUR", Source: "invented",
	}}, set.RoughPrices)
	assert.Equal(t, 0.4, set.Allowances.Skin)
	assert.Equal(t, 1.0, set.Allowances.Crack, "what is left out stays")
	assert.Equal(t, "river-chert", set.Defaults.Material)
	size := set.Sizes[len(set.Sizes)-1]
	assert.Equal(t, presets.Size{Shape: "oval", Length: 17, Width: 11, Source: "my own settings"}, size)
	back, ok := set.BackStyle("half")
	require.True(t, ok)
	assert.Equal(t, 0.5, back.OfDome)
}

func TestOwnRowTakesThePlace(t *testing.T) {
	before := presets.Builtin()
	count, name := len(before.Materials), before.Materials[0].Name
	set, _, err := presets.LoadFile(userFile(t, `{`+head+`,
		"materials": [{"key": "opal", "name": "My opal", "sg": [2, 2.05, 2.1], "mohs": [6, 6]}],
		"sizes": [{"shape": "oval", "length_mm": 14, "width_mm": 10, "source": "my settings"},
			{"shape": "oval", "length_mm": 14, "width_mm": 11}]}`))
	require.NoError(t, err)
	assert.Len(t, set.Materials, count)
	assert.Len(t, set.Sizes, len(before.Sizes)+1, "14 x 10 is there, 14 x 11 is not")
	for i, size := range before.Sizes {
		assert.NotEqual(t, "my settings", size.Source)
		if size.Shape == "oval" && size.Length == 14 && size.Width == 10 {
			assert.Equal(t, "my settings", set.Sizes[i].Source)
		}
	}
	opal, _ := set.Material("opal")
	assert.Equal(t, "My opal", opal.Name)
	assert.Equal(t, "My opal", set.Materials[0].Name, "in the place of the old one")
	assert.Equal(t, name, presets.Builtin().Materials[0].Name, "the built-in set is left alone")
}

func TestUnknownKeysWarn(t *testing.T) {
	path := userFile(t, `{`+head+`, "glues": [], "saws": [{"key": "a", "name": "b", "kerf_mm": 1, `+
		`"colour": "\u001b[31m red"}], "allowances": {"x\u001b[2J": 1}}`)
	set, warnings, err := presets.LoadFile(path)
	require.NoError(t, err)
	assert.True(t, len(set.Saws) > len(presets.Builtin().Saws))
	var texts []string
	for _, w := range warnings {
		texts = append(texts, w.String())
	}
	assert.Equal(t, []string{
		path + ": saws[0].colour: unknown key, not used",
		path + ": allowances.x<U+001B>[2J: unknown key, not used",
		path + ": glues: unknown key, not used",
	}, texts)
}

func TestBadFileIsNamedWithItsPlace(t *testing.T) {
	material := func(rest string) string {
		return `{` + head + `, "materials": [{"key": "a", "name": "A", ` + rest + `}]}`
	}
	price := func(rest string) string { return `{` + head + `, "prices": [{"name": "a", ` + rest + `}]}` }
	size := func(row string) string { return `{` + head + `, "sizes": [` + row + `]}` }
	for name, c := range map[string]struct{ text, says string }{
		"not JSON":          {"{\n\"format\": oops}", "line 2: not JSON"},
		"cut short":         {"{\n\n\"format\":", "line 3: not JSON"},
		"two values":        {"{}\n{}", "line 2: not JSON"},
		"trailing rubbish":  {"{} ]", "not JSON"},
		"a list":            {"[]", "an object in braces"},
		"null":              {"null", "an object in braces"},
		"no format":         {`{"version": 1}`, "format: missing"},
		"another format":    {`{"format": "cabwright-stone", "version": 1}`, `format: "cabwright-presets" is wanted`},
		"no version":        {`{"format": "cabwright-presets"}`, "version: missing"},
		"newer":             {`{"format": "cabwright-presets", "version": 2}`, "version: this program knows version 1"},
		"key twice":         {`{` + head + `, "saws": [], "saws": []}`, "saws: given twice"},
		"row key twice":     {`{` + head + `, "saws": [{"key": "a", "key": "b"}]}`, "saws[0].key: given twice"},
		"table not a list":  {`{` + head + `, "saws": {}}`, "saws: a list of rows"},
		"table null":        {`{` + head + `, "saws": null}`, "saws: a list of rows"},
		"row not an object": {`{` + head + `, "saws": [3]}`, "saws[0]: an object in braces"},
		"key missing":       {`{` + head + `, "saws": [{"name": "b", "kerf_mm": 1}]}`, "saws[0].key: missing"},
		"key with a blank":  {`{` + head + `, "saws": [{"key": "a b", "name": "b", "kerf_mm": 1}]}`, "saws[0].key"},
		"name empty":        {`{` + head + `, "saws": [{"key": "a", "name": " ", "kerf_mm": 1}]}`, "saws[0].name: empty"},
		"name with an escape": {`{` + head + `, "saws": [{"key": "a", "name": "\u001b[2J", "kerf_mm": 1}]}`,
			"saws[0].name: control or invisible characters in <U+001B>[2J"},
		"name turned round": {`{` + head + `, "saws": [{"key": "a", "name": "a\u202eb", "kerf_mm": 1}]}`, "<U+202E>"},
		"number as text": {`{` + head + `, "saws": [{"key": "a", "name": "b", "kerf_mm": "1"}]}`,
			"saws[0].kerf_mm: a number"},
		"number null": {`{` + head + `, "saws": [{"key": "a", "name": "b", "kerf_mm": null}]}`,
			"saws[0].kerf_mm: a number"},
		"number too large": {`{` + head + `, "saws": [{"key": "a", "name": "b", "kerf_mm": 1e999}]}`,
			"saws[0].kerf_mm: a number"},
		"kerf of a metre": {`{` + head + `, "saws": [{"key": "a", "name": "b", "kerf_mm": 1000}]}`,
			"saws[0].kerf_mm: 1000 is not from 0 to 10"},
		"negative kerf": {`{` + head + `, "saws": [{"key": "a", "name": "b", "kerf_mm": -1}]}`,
			"saws[0].kerf_mm: -1 is not"},
		"flag as text": {material(`"sg": [2, 2, 2], "mohs": [6, 6], "porous": "yes"`),
			"materials[0].porous: true or false"},
		"sg of two": {material(`"sg": [2, 3], "mohs": [6, 6]`), "materials[0].sg: 2 numbers, 3 are wanted"},
		"sg falling": {material(`"sg": [2, 3, 2.5], "mohs": [6, 6]`),
			"materials[0].sg: the numbers must rise: 2.5 comes after 3"},
		"sg of lead": {material(`"sg": [2, 3, 11.3], "mohs": [6, 6]`),
			"materials[0].sg[2]: 11.3 is not from 0.5 to 10"},
		"mohs of 11": {material(`"sg": [2, 2, 2], "mohs": [6, 11]`), "materials[0].mohs[1]: 11 is not"},
		"unknown caution": {material(`"sg": [2, 2, 2], "mohs": [6, 6], "cautions": ["ghosts"]`),
			`materials[0].cautions: there is no caution "ghosts"`},
		"sensitive to \\a": {material(`"sg": [2, 2, 2], "mohs": [6, 6], "sensitive": ["heat", "\u0007"]`),
			"materials[0].sensitive[1]"},
		"unknown outline": {size(`{"shape": "star", "length_mm": 5, "width_mm": 5}`),
			`sizes[0].shape: unknown outline "star"`},
		"wider than long": {size(`{"shape": "oval", "length_mm": 8, "width_mm": 10}`),
			"sizes[0].length_mm: 8 is below the width 10"},
		"long round": {size(`{"shape": "round", "length_mm": 8, "width_mm": 7}`),
			"sizes[0].length_mm: 8: a round is as long as it is wide"},
		"no width":         {size(`{"shape": "oval", "length_mm": 8}`), "sizes[0].width_mm: missing"},
		"width of nothing": {size(`{"shape": "oval", "length_mm": 8, "width_mm": 0}`), "sizes[0].width_mm: 0 is not"},
		"dome too high": {`{` + head + `, "dome_styles": [{"key": "a", "name": "b", "height_by_width": 20}]}`,
			"dome_styles[0].height_by_width: 20"},
		"back takes all": {`{` + head + `, "back_styles": [{"key": "a", "name": "b", "of_height": 1}]}`,
			"back_styles[0].of_height: 1 is not"},
		"wall lying down": {`{` + head + `, "walls": [{"key": "a", "name": "b", "height_mm": 1, "lean_deg": 90}]}`,
			"walls[0].lean_deg: 90"},
		"wheel digs in": {`{` + head + `, "wheels": [{"key": "a", "name": "b", "left_mm": -0.1}]}`,
			"wheels[0].left_mm: -0.1"},
		"negative allowance": {`{` + head + `, "allowances": {"crack_mm": -1}}`, "allowances.crack_mm: -1"},
		"allowance a list":   {`{` + head + `, "allowances": [1]}`, "allowances: an object in braces"},
		"unknown default": {`{` + head + `, "defaults": {"material": "cheese"}}`,
			`defaults.material: there is no material "cheese"`},
		"price of one number": {price(`"per_carat": [8], "currency": "EUR"`), "prices[0].per_carat: 1 numbers, 3 are wanted"},
		"price falling": {price(`"per_carat": [8, 4], "currency": "EUR"`),
			"prices[0].per_carat: the numbers must rise"},
		"negative price":   {price(`"per_carat": [-1, 4], "currency": "EUR"`), "prices[0].per_carat[0]: -1 is not"},
		"price of nothing": {price(`"currency": "EUR"`), "prices[0].per_carat: missing"},
		"no currency":      {price(`"per_carat": [1, 4]`), "prices[0].currency: missing"},
		"small currency": {price(`"per_carat": [1, 4], "currency": "eur"`),
			"prices[0].currency: \"eur\": a currency is three capital letters"},
		"grade of 6": {price(`"grade": [1, 6], "per_carat": [1, 4], "currency": "EUR"`),
			"prices[0].grade[1]: 6 is not"},
		"three sides": {price(`"sides": 3, "per_carat": [1, 4], "currency": "EUR"`),
			"prices[0].sides: 3 is none of [1 2]"},
		"half a side": {price(`"sides": 1.5, "per_carat": [1, 4], "currency": "EUR"`),
			"prices[0].sides: a whole number"},
		"face of a die": {price(`"face": "six", "per_carat": [1, 4], "currency": "EUR"`), "prices[0].face: \"six\""},
		"price of cheese": {price(`"material": "cheese", "per_carat": [1, 4], "currency": "EUR"`),
			"prices[0].material: there is no material"},
		"second row bad": {`{` + head + `, "saws": [{"key": "a", "name": "b", "kerf_mm": 1}, {"key": "c"}]}`,
			"saws[1].name: missing"},
	} {
		t.Run(name, func(t *testing.T) {
			path := userFile(t, c.text)
			set, _, err := presets.LoadFile(path)
			require.ErrorContains(t, err, c.says)
			assert.ErrorContains(t, err, path)
			assert.NotContains(t, err.Error(), "\n")
			assert.Equal(t, presets.Builtin(), set, "the built-in presets still work")
		})
	}
}

func TestFileThatCannotBeRead(t *testing.T) {
	for path, says := range map[string]string{
		t.TempDir(): "is a folder",
		userFile(t, strings.Repeat(" ", 1<<20)+"{}"): "over 1048576 bytes",
	} {
		set, _, err := presets.LoadFile(path)
		require.ErrorContains(t, err, path)
		require.ErrorContains(t, err, says)
		assert.Equal(t, presets.Builtin(), set)
	}
}

// Whatever a file holds, it is taken or refused, and what is said about it
// cannot steer a terminal.
func FuzzLoad(f *testing.F) {
	f.Add(`{` + head + `, "saws": [{"key": "a", "name": "b", "kerf_mm": 1}]}`)
	f.Add(`{` + head + `, "materials": ` +
		`[{"key": "a", "name": "A", "sg": [2, 2, 2], "mohs": [6, 6], "cautions": ["dust"]}]}`)
	f.Add(`{` + head + `, "allowances": {"skin_mm": 0.4}, "defaults": {"wall": "thin"}, "x\u001b": 1}`)
	f.Add(strings.Repeat("[", 20000))
	path := filepath.Join(f.TempDir(), "presets.json")
	f.Fuzz(func(t *testing.T, text string) {
		require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
		set, warnings, err := presets.LoadFile(path)
		said := ""
		if err != nil {
			said = err.Error()
		}
		for _, w := range warnings {
			said += w.String()
		}
		for _, r := range said {
			if r < ' ' || r == 0x7f || (r >= 0x80 && r < 0xa0) {
				t.Fatalf("control character in %q", said)
			}
		}
		if len(set.Materials) < len(presets.Builtin().Materials) {
			t.Fatal("built-in rows lost")
		}
	})
}
