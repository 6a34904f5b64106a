package stonefile

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"cabwright/planner/stopwatch"
	"cabwright/presets"

	"github.com/stretchr/testify/require"
)

// changed returns the sample with one piece of it replaced.
func changed(t testing.TB, old, put string) string {
	t.Helper()
	require.Equal(t, 1, strings.Count(sample, old), "%q should stand once in the sample", old)
	return strings.Replace(sample, old, put, 1)
}

// badFiles are the cases of the contract's "What a bad file gets", each by what
// is changed in the sample, with the place and a part of the message.
var badFiles = []struct{ name, old, put, place, what string }{
	// not JSON
	{"nothing", sample, "", "", "not JSON: the file is empty"},
	{"blanks", sample, " \n\t", "", "not JSON: the file is empty"},
	{"no value", sample, "hello", "", "not JSON: expected a value but found 'h' (line 1, column 1)"},
	{"a list", sample, "[1, 2]", "", "should be an object, is a list"},
	{"a text", sample, `"stone"`, "", "should be an object, is a text"},
	{"cut off", `,
  "notebook"`, "", "", "not JSON"},
	{"cut off in a text", `rubbed the skin off"}]
}
`, `rub`, "notebook[0].text", "not JSON: a text that never ends"},
	{"trailing garbage", sample, sample + "{}", "", "not JSON: '{' after the end of the value (line 24, column 1)"},
	{"trailing NUL", sample, sample + "\x00", "", "not JSON: '^@' after the end"},
	{"comma before a bracket", `"pocket": 0.5, "saw": 0.8}`, `"pocket": 0.5,}`, "allowances",
		"not JSON: expected a key in double quotes but found '}'"},
	{"comma at the end of a list", "[-11.5, 6.0]]", "[-11.5, 6.0],]", "outline[7]",
		"not JSON: expected a value but found ']'"},
	{"comma missing", "[-14.0, -2.0], [", "[-14.0, -2.0] [", "outline", "not JSON: expected ',' or ']' but found '['"},
	{"single quotes", `"Lantern Bay 7"`, `'Lantern Bay 7'`, "name", "not JSON: expected a value but found '''"},
	{"equals sign", `"sg": 1.83`, `"sg" = 1.83`, "sg", "not JSON: expected ':' but found '=' (line 6, column 8)"},
	{"comment", `"notebook"`, `// "notebook"`, "", "not JSON: expected a key in double quotes but found '/'"},
	{"leading zero", "1.83", "01.83", "", "not JSON: expected ',' or '}' but found '1'"},
	{"leading plus", "1.83", "+1.83", "sg", "not JSON: expected a value but found '+'"},
	{"decimal comma", "1.83", "1,83", "", "not JSON: expected a key in double quotes but found '8'"},
	{"no digits behind the point", "1.83", "1.", "sg", "not JSON: expected a digit but found ','"},
	{"hexadecimal", "1.83", "0x1", "", "not JSON: expected ',' or '}' but found 'x'"},
	{"control character in a text", "Lantern Bay 7", "Lantern\x1b[2J", "name",
		"not JSON: control character '^[' inside a text"},
	{"unknown escape", "Lantern Bay 7", `Lantern\q`, "name", "not JSON: 'q' after a backslash"},
	{"half a surrogate", "Lantern Bay 7", `\ud800`, "name", "not JSON: half a surrogate pair"},
	{"surrogates the wrong way round", "Lantern Bay 7", `\udc00\ud800`, "name", "not JSON: half a surrogate pair"},
	{"short escape", "Lantern Bay 7", `\u12`, "name", "not JSON: \\u without four hexadecimal digits"},
	{"byte-order mark", sample, "\xef\xbb\xbf" + sample, "", "byte-order mark"},
	{"not UTF-8", "Lantern Bay 7", "Lantern \xff", "", "not JSON: byte 0xFF in line 4 is no UTF-8"},
	{"UTF-16", sample, "\xff\xfe{\x00", "", "not JSON: byte 0xFF in line 1 is no UTF-8"},

	// format and version
	{"wrong format", `"cabwright-stone"`, `"cabwright-plan"`, "format", `cabwright-plan is not "cabwright-stone"`},
	{"format of another kind", `"cabwright-stone"`, `7`, "format", "should be a text, is a number"},
	{"no format", `"format": "cabwright-stone",`, ``, "format", "missing"},
	{"newer version", `"version": 1`, `"version": 2`, "version", "unsupported version 2; this program reads 1"},
	{"newer version with another layout", `"version": 1,`, `"version": 3, "outline": {"arcs": []},`, "version",
		"unsupported version"},
	{"version between", `"version": 1`, `"version": 1.5`, "version", "unsupported version"},
	{"version nought", `"version": 1`, `"version": 0`, "version", "unsupported version 0"},
	{"no version", `"version": 1,`, ``, "version", "missing"},

	// numbers
	{"NaN", "[13.2, -3.4]", "[NaN, -3.4]", "outline[3][0]", "NaN and infinity are not numbers"},
	{"nan", "1.83", "nan", "sg", "NaN and infinity are not numbers"},
	{"Infinity", `"depth": 6`, `"depth": Infinity`, "cracks[0].depth", "NaN and infinity are not numbers"},
	{"-Infinity", `"depth": 6`, `"depth": -Infinity`, "cracks[0].depth", "NaN and infinity are not numbers"},
	{"1e999", "19.1", "1e999", "scale_ct", "1e999 is too large for a number"},
	{"-1e999", "[0, 0, 9.2]", "[0, 0, -1e999]", "top[0][2]", "-1e999 is too large for a number"},
	{"a number as text", `"depth": 6`, `"depth": "6"`, "cracks[0].depth", "should be a number, is a text"},
	{"null where a number should be", "1.83", "null", "sg", "should be a number, is null"},
	{"true where a number should be", `"lean": 20`, `"lean": true`, "cracks[0].lean",
		"should be a number, is true or false"},
	{"sealed as a number", `"sealed": false`, `"sealed": 0`, "cracks[0].sealed", "should be true or false, is a number"},
	{"beyond 1 m", "[13.2, -3.4]", "[13.2, -1000.5]", "outline[3]", "-1000.5 mm lies beyond 1 m"},
	{"reading beyond 1 m", "[0, 6, 7.6]", "[0, 6, 7600]", "top[3]", "7600 mm lies beyond 1 m"},
	{"path beyond 1 m", "[5.5, -4]", "[1e308, -4]", "cracks[0].path[1]", "lies beyond 1 m"},
	{"depth beyond 1 m", `"depth": 5.5`, `"depth": 1001`, "pockets[0].depth", "beyond 1 m"},

	// the outline
	{"outline left out", `"outline": [[-14.0, -2.0], [-9.5, -8.1], [3.0, -9.6], [13.2, -3.4], [11.0, 6.9], ` +
		`[-2.0, 9.3], [-11.5, 6.0]],`, "", "outline", "missing: give at least 3 corners"},
	{"two corners", `[[-14.0, -2.0], [-9.5, -8.1], [3.0, -9.6], [13.2, -3.4], [11.0, 6.9], [-2.0, 9.3], [-11.5, 6.0]]`,
		"[[0, 0], [1, 1]]", "outline", "has fewer than 3 corners (2)"},
	{"crossing", "[3.0, -9.6], [13.2, -3.4]", "[13.2, -3.4], [3.0, -9.6]", "outline",
		"crosses itself: edge outline[1]-[2] meets edge outline[3]-[4]"},
	{"touching corner on an edge", "[11.0, 6.9]", "[-3.25, -8.85]", "outline", "crosses itself"},
	{"corner twice", "[3.0, -9.6], [13.2, -3.4]", "[3.0, -9.6], [3.0, -9.6], [13.2, -3.4]", "outline",
		"corners [2] and [3] lie at one spot"},
	{"closed by the first corner again", "[-11.5, 6.0]]", "[-11.5, 6.0], [-14, -2]]", "outline",
		"corners [0] and [7] lie at one spot"},
	{"no area", `[[-14.0, -2.0], [-9.5, -8.1], [3.0, -9.6], [13.2, -3.4], [11.0, 6.9], [-2.0, 9.3], [-11.5, 6.0]]`,
		"[[0, 0], [5, 5], [2, 2], [9, 9]]", "outline", "has no area"},
	{"a point with three numbers", "[13.2, -3.4]", "[13.2, -3.4, 1]", "outline[3]",
		"should be [x, y], has more than 2 numbers"},
	{"a point with one number", "[13.2, -3.4]", "[13.2]", "outline[3]", "should be [x, y], has 1 of 2 numbers"},
	{"a point that is none", "[13.2, -3.4]", "13.2", "outline[3]", "should be a list, is a number"},
	{"pocket that crosses itself", "[[-9, 2], [-5, 2], [-5, 6], [-9, 6]]", "[[-9, 2], [-5, 2], [-9, 6], [-5, 6]]",
		"pockets[0].outline", "crosses itself: edge pockets[0].outline[1]-[2] meets edge pockets[0].outline[3]-[0]"},
	{"zone without area", "[[-4, -4], [6, -4], [6, 5], [-4, 5]]", "[[-4, -4], [6, -4], [2, -4]]", "colour[0].outline",
		"has no area"},

	// readings
	{"top left out", `"top":  [[0, 0, 9.2], [-8, 0, 7.9], [8, 0, 8.1], [0, 6, 7.6], [0, -6, 7.4]],`, "", "top",
		"readings missing"},
	{"base empty", `[[0, 0, 0.4], [-10, 0, 0.9], [10, 0, 0.7], [0, 8, 1.0], [0, -8, 0.9]]`, "[]", "base",
		"readings missing"},
	{"two readings", `[[0, 0, 0.4], [-10, 0, 0.9], [10, 0, 0.7], [0, 8, 1.0], [0, -8, 0.9]]`, "[[0, 0, 0.4], [1, 0, 1]]",
		"base", "two readings do not make a surface"},
	{"readings on one line", `[[0, 0, 0.4], [-10, 0, 0.9], [10, 0, 0.7], [0, 8, 1.0], [0, -8, 0.9]]`,
		"[[0, 0, 0.4], [1, 1, 1], [7, 7, 0]]", "base", "all readings lie on one line"},
	{"readings at one spot", "[0, 6, 7.6]", "[-8, 0, 7.6]", "top[3]", "lies at the same spot as top[1] (-8, 0)"},
	{"no solid", `[[0, 0, 9.2], [-8, 0, 7.9], [8, 0, 8.1], [0, 6, 7.6], [0, -6, 7.4]]`, "[[0, 0, 0.2]]", "top[0]",
		"0.2 mm lies at or below the base, which is at 0.40 mm there"},
	{"a base of 12 mm", "[10, 0, 0.7]", "[10, 0, 12]", "base[2]", "12 mm lies at or above the top, which is at"},
	{"a top of 0.74 mm", "[0, 6, 7.6]", "[0, 8, 0.9]", "top[3]",
		"0.9 mm lies at or below the base, which is at 1.00 mm there"},
	{"reading with two numbers", "[0, 6, 7.6]", "[0, 6]", "top[3]", "should be [x, y, z], has 2 of 3 numbers"},

	// words
	{"mistyped material", `"opal-hydrophane"`, `"opal-hydrofane"`, "material", "; did you mean opal-hydrophane?"},
	{"unknown material", `"opal-hydrophane"`, `"cheese"`, "material", `"cheese" is not a material of the presets`},
	{"empty material", `"opal-hydrophane"`, `""`, "material", `"" is not a material of the presets`},
	{"crack on no face", `"face": "top", "depth": 6`, `"face": "side", "depth": 6`, "cracks[0].face",
		`"side" is not a face: top or base`},
	{"crack through by face", `"face": "top", "depth": 6`, `"face": "through", "depth": 6`, "cracks[0].face",
		`"through" is not a face: top or base`},
	{"pocket on no face", `"face": "top", "depth": 5.5`, `"face": "Top", "depth": 5.5`, "pockets[0].face",
		`"Top" is not a face: top, base, through or inside`},
	{"zone on no face", `"id": "Z1", "face": "top"`, `"id": "Z1", "face": "inside"`, "colour[0].face",
		`"inside" is not a face: top or base`},

	// negative and out of range
	{"negative crack depth", `"depth": 6`, `"depth": -6`, "cracks[0].depth", "-6 mm is negative"},
	{"negative pocket depth", `"depth": 5.5`, `"depth": -5.5`, "pockets[0].depth", "-5.5 mm is negative"},
	{"negative zone depth", `"depth": 2.5`, `"depth": -2.5`, "colour[0].depth", "-2.5 mm is negative"},
	{"negative run-on", `"run_on": 1.0`, `"run_on": -1`, "cracks[0].run_on", "-1 mm is negative"},
	{"negative skin", `"skin": 0.5`, `"skin": -0.5`, "allowances.skin", "-0.5 mm is negative"},
	{"negative crack allowance", `"crack": 1.0`, `"crack": -1`, "allowances.crack", "-1 mm is negative"},
	{"negative sealed allowance", `"sealed_crack": 0.6`, `"sealed_crack": -1`, "allowances.sealed_crack",
		"-1 mm is negative"},
	{"negative pocket allowance", `"pocket": 0.5`, `"pocket": -1`, "allowances.pocket", "-1 mm is negative"},
	{"negative weight", "19.1", "-19.1", "scale_ct", "-19.1 is no weight"},
	{"lean over 80", `"lean": 20`, `"lean": 80.5`, "cracks[0].lean", "80.5 degrees lies outside 0 to 80"},
	{"negative lean", `"lean": 20`, `"lean": -1`, "cracks[0].lean", "-1 degrees lies outside 0 to 80"},
	{"grade over 5", `"grade": 4`, `"grade": 6`, "colour[0].grade", "6 lies outside 0 to 5"},
	{"sg under 0.5", "1.83", "0.4", "sg", "0.4 lies outside 0.5 to 10"},
	{"sg nought", "1.83", "0", "sg", "0 lies outside 0.5 to 10"},
	{"sg over 10", "1.83", "10.1", "sg", "10.1 lies outside 0.5 to 10"},

	// marks
	{"id twice among pockets", `"id": "P1"`, `"id": "C1"`, "pockets[0].id", `"C1" is already the id of cracks[0]`},
	{"id of another kind", `"id": "P1"`, `"id": 1`, "pockets[0].id", "should be a text, is a number"},
	{"path of one point", "[[4, -9], [5.5, -4], [8, 1]]", "[[4, -9]]", "cracks[0].path",
		"needs at least two points, has 1"},
	{"path left out", `"path": [[4, -9], [5.5, -4], [8, 1]], `, "", "cracks[0].path", "needs at least two points, has 0"},
	{"path that stands still", "[5.5, -4]", "[4, -9]", "cracks[0].path[1]", "same spot as the point before it"},
	{"pocket depth left out", `"face": "top", "depth": 5.5`, `"face": "base"`, "pockets[0].depth", "missing"},
	{"inside without heights", `"face": "top", "depth": 5.5`, `"face": "inside"`, "pockets[0].between", "missing"},
	{"heights the wrong way round", `"face": "top", "depth": 5.5`, `"face": "inside", "between": [4, 3]`,
		"pockets[0].between", "heights the wrong way round: 4 is not below 3"},
	{"heights alike", `"face": "top", "depth": 5.5`, `"face": "inside", "between": [3, 3]`, "pockets[0].between",
		"heights the wrong way round"},
	{"three heights", `"face": "top", "depth": 5.5`, `"face": "inside", "between": [3, 4, 5]`, "pockets[0].between",
		"should be two heights, has more than 2 numbers"},
	{"grade left out", `"grade": 4, `, ``, "colour[0].grade", "missing"},
	{"a mark that is none", `"cracks": [`, `"cracks": [3, `, "cracks[0]", "should be an object, is a number"},
	{"marks as an object", `{"skin": 0.5, "crack": 1.0, "sealed_crack": 0.6, "pocket": 0.5, "saw": 0.8}`, `[0.5]`,
		"allowances", "should be an object, is a list"},

	// keys given twice
	{"twice at the top", `"name":`, `"sg": 1.83, "name":`, "sg", "key given twice"},
	{"twice in a crack", `"lean": 20`, `"lean": 20, "depth": 6`, "cracks[0].depth", "key given twice"},
	{"twice in a pocket", `"depth": 5.5`, `"depth": 5.5, "depth": 5.5`, "pockets[0].depth", "key given twice"},
	{"twice in a zone", `"grade": 4`, `"grade": 4, "grade": 4`, "colour[0].grade", "key given twice"},
	{"twice in the allowances", `"skin": 0.5`, `"skin": 0.5, "skin": 0.5`, "allowances.skin", "key given twice"},
	{"twice in what is unknown", `{"clay": true}`, `{"a": [0, {"b": 1, "c": 2, "b": 3}]}`, "pockets[0].fill.a[1].b",
		"key given twice"},
	{"twice by an escape", `"name":`, `"s\u0067": 1.83, "name":`, "sg", "key given twice"},
	{"an unknown key twice", `"notebook":`, `"notebook": 0, "notebook":`, "notebook", "key given twice"},
}

func TestABadFileGetsItsPlaceAndWhatIsWrong(t *testing.T) {
	for _, c := range badFiles {
		t.Run(c.name, func(t *testing.T) {
			_, err := parse("dir/bad.stone", []byte(changed(t, c.old, c.put)), presets.Builtin())
			var bad *Error
			require.ErrorAs(t, err, &bad)
			require.Equal(t, c.place, bad.Place)
			require.Contains(t, bad.What, c.what)
			require.True(t, strings.HasPrefix(err.Error(), "dir/bad.stone: "), err.Error())
			require.NotContains(t, err.Error(), "\n", "one line")
			require.NotContains(t, err.Error(), "\x1b", "nothing of the file reaches the terminal raw")
		})
	}
}

// The cases are worth having: a reader made of the standard decoder takes many
// of them for good files.
func TestTheStandardDecoderTakesBadFiles(t *testing.T) {
	taken := 0
	for _, c := range badFiles {
		var file struct {
			Format  string
			Version float64
			SG      float64
			Outline [][2]float64
			Cracks  []struct{ Depth *float64 }
		}
		if json.Unmarshal([]byte(changed(t, c.old, c.put)), &file) == nil {
			taken++
		}
	}
	require.Greater(t, taken, 50)
}

// A key in another case is not the key: the standard decoder takes it for one.
func TestAKeyInAnotherCaseIsUnknown(t *testing.T) {
	d, err := parse("x", []byte(changed(t, `"sg": 1.83`, `"SG": 9`)), presets.Builtin())
	require.NoError(t, err)
	require.Zero(t, d.Stone.SG)
	require.Equal(t, "SG: key not known here: kept as it is; did you mean sg?", d.Warnings[0].String())
	_, err = parse("x", []byte(changed(t, `"outline": [[-14.0`, `"Outline": [[-14.0`)), presets.Builtin())
	require.EqualError(t, err, "x: outline: missing: give at least 3 corners")
}

func TestAWarningIsFitToBeShown(t *testing.T) {
	d, err := parse("x", []byte(changed(t, `"notebook"`, `"\u001b[31mred\u202e"`)), presets.Builtin())
	require.NoError(t, err)
	require.Equal(t, `"^[[31mred<U+202E>"`, d.Warnings[4].Place)
}

func TestNestingIsLimited(t *testing.T) {
	for _, deep := range []string{
		strings.Repeat("[", maxDepth+1) + strings.Repeat("]", maxDepth+1),
		strings.Repeat(`{"a":`, 5000) + "1" + strings.Repeat("}", 5000),
		strings.Repeat("[", 4<<20),
	} {
		var err error
		took := stopwatch.Took(func() {
			_, err = parse("x", []byte(changed(t, `"notebook": [{`, `"deep": `+deep+`, "notebook": [{`)), presets.Builtin())
		})
		require.ErrorContains(t, err, "nested more than 64 deep")
		require.Less(t, took, patience)
	}
	fits := strings.Repeat("[", maxDepth) + strings.Repeat("]", maxDepth)
	_, err := parse("x", []byte(changed(t, `"notebook": [{`, `"deep": `+fits+`, "notebook": [{`)), presets.Builtin())
	require.NoError(t, err)
}

// Each of these is read or refused within a second of processor time, at the place where it first
// is too much.
func TestTooMuchOfAnythingIsRefusedSoon(t *testing.T) {
	many := func(n int, item string) string { return "[" + strings.Repeat(item+",", n-1) + item + "]" }
	outline := `[[-14.0, -2.0], [-9.5, -8.1], [3.0, -9.6], [13.2, -3.4], [11.0, 6.9], [-2.0, 9.3], [-11.5, 6.0]]`
	readings := `[[0, 0, 0.4], [-10, 0, 0.9], [10, 0, 0.7], [0, 8, 1.0], [0, -8, 0.9]]`
	var marks, keys []string
	for i := range 1000 {
		marks = append(marks, fmt.Sprintf(`{"id": "Y%d", "path": [[0, 0], [1, 1]]}`, i))
	}
	for i := range maxKeys + 1 {
		keys = append(keys, fmt.Sprintf(`"k%d":0`, i))
	}
	for _, c := range []struct{ name, text, place, what string }{
		{"10,001 corners", changed(t, outline, many(10001, "[0,0]")), "outline[10000]", "more than 10000 corners"},
		{"1,000,000 points", changed(t, outline, many(1_000_000, "[0,0]")), "outline[10000]", "more than 10000 corners"},
		{"1,000,000 readings", changed(t, readings, many(1_000_000, "[0,0,0]")), "base[1000]", "more than 1000 readings"},
		{"1,001 cracks", changed(t, `"cracks": [`, `"cracks": [`+strings.Join(marks, ",")+","), "cracks[1000]",
			"more than 1000 marks"},
		{"1,002 marks of all kinds", changed(t, `{"id": "C1"`, strings.Join(marks[:999], ",")+`,{"id": "C1"`), "cracks",
			"1002 cracks, pockets and colour zones are more than 1000"},
		{"100,001 keys", changed(t, `"notebook":`, strings.Join(keys, ",")+`,"notebook":`), "k99987",
			"more than 100000 keys"},
		{"16 MiB and a byte", changed(t, `rubbed`, strings.Repeat("r", maxSize-len(sample)+7)), "",
			"bytes are more than the file may have"},
		{"a number of 15 MB", changed(t, "19.1", strings.Repeat("9", 15<<20)), "scale_ct", "is too large for a number"},
	} {
		var err error
		took := stopwatch.Took(func() { _, err = parse("x", []byte(c.text), presets.Builtin()) })
		var bad *Error
		require.ErrorAs(t, err, &bad, c.name)
		require.Equal(t, c.place, bad.Place, c.name)
		require.Contains(t, bad.What, c.what, c.name)
		require.Less(t, len(err.Error()), 300, c.name)
		require.Less(t, took, patience, c.name)
	}
	var err error
	took := stopwatch.Took(func() {
		_, err = parse("x", []byte(changed(t, `"notebook":`, `"long":`+many(7<<20, "0")+`,"notebook":`)), presets.Builtin())
	})
	require.NoError(t, err, "what is unknown may be long")
	require.Less(t, took, patience)
}
