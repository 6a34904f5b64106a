package stonefile

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"cabwright/planner"
	"cabwright/presets"

	"github.com/stretchr/testify/require"
)

// sample has every key of the format, and unknown ones at each level.
const sample = `{
  "format": "cabwright-stone",
  "version": 1,
  "name": "Lantern Bay 7",
  "material": "opal-hydrophane",
  "sg": 1.83,
  "scale_ct": 19.1,
  "outline": [[-14.0, -2.0], [-9.5, -8.1], [3.0, -9.6], [13.2, -3.4], [11.0, 6.9], [-2.0, 9.3], [-11.5, 6.0]],
  "top":  [[0, 0, 9.2], [-8, 0, 7.9], [8, 0, 8.1], [0, 6, 7.6], [0, -6, 7.4]],
  "base": [[0, 0, 0.4], [-10, 0, 0.9], [10, 0, 0.7], [0, 8, 1.0], [0, -8, 0.9]],
  "cracks": [
    {"id": "C1", "path": [[4, -9], [5.5, -4], [8, 1]], "face": "top", "depth": 6, "lean": 20, "toward": 180,
     "run_on": 1.0, "sealed": false, "seen_on": "day 3"}
  ],
  "pockets": [
    {"id": "P1", "outline": [[-9, 2], [-5, 2], [-5, 6], [-9, 6]], "face": "top", "depth": 5.5, "fill": {"clay": true}}
  ],
  "colour": [
    {"id": "Z1", "face": "top", "outline": [[-4, -4], [6, -4], [6, 5], [-4, 5]], "grade": 4, "pattern": "honeycomb", "depth": 2.5, "hue": [1, 2]}
  ],
  "allowances": {"skin": 0.5, "crack": 1.0, "sealed_crack": 0.6, "pocket": 0.5, "saw": 0.8},
  "notebook": [{"day": 1, "text": "rubbed the skin off"}]
}
`

func parseSample(t testing.TB) *Document {
	t.Helper()
	d, err := parse("lantern.stone", []byte(sample), presets.Builtin())
	require.NoError(t, err)
	return d
}

func TestEveryKeyIsRead(t *testing.T) {
	s := parseSample(t).Stone
	require.Equal(t, "Lantern Bay 7", s.Name)
	require.Equal(t, "opal-hydrophane", s.Material)
	require.Equal(t, 1.83, s.SG)
	require.Equal(t, 19.1, s.ScaleCt)
	require.Len(t, s.Outline, 7)
	require.Equal(t, 13.2, s.Outline[3].X)
	require.Equal(t, -3.4, s.Outline[3].Y)
	require.Equal(t, 7.6, s.Top[3].Z)
	require.Equal(t, 0.9, s.Base[4].Z)
	k := s.Cracks[0]
	require.Equal(t, []any{"C1", planner.Top, false, 6.0, 20.0, 180.0, 1.0, false},
		[]any{k.ID, k.Face, k.Through, k.Depth, k.Lean, k.Toward, k.RunOn, k.Sealed})
	p := s.Pockets[0]
	require.Equal(t, []any{"P1", planner.Top, 5.5}, []any{p.ID, p.Face, p.Depth})
	z := s.Colour[0]
	require.Equal(t, []any{"Z1", planner.Top, 4.0, "honeycomb", 2.5}, []any{z.ID, z.Face, z.Grade, z.Pattern, z.Depth})
	require.Equal(t, 0.6, s.Allowances.SealedCrack)
}

func TestUnknownKeysAreKeptAndWarnedOfOnce(t *testing.T) {
	d := parseSample(t)
	var places []string
	for _, w := range d.Warnings {
		places = append(places, w.Place)
	}
	require.Equal(t, []string{"cracks[0].seen_on", "pockets[0].fill", "colour[0].hue", "allowances.saw", "notebook"},
		places)
	edited := d.Stone
	edited.Name = "Lantern Bay 8"
	text := string(d.Bytes(edited))
	for _, kept := range []string{`"seen_on": "day 3"`, `"fill": {"clay": true}`, `"hue": [1, 2]`, `"saw": 0.8`,
		`"notebook": [{"day": 1, "text": "rubbed the skin off"}]`} {
		require.Contains(t, text, kept)
	}
}

func TestAnUnchangedStoneKeepsItsBytes(t *testing.T) {
	d := parseSample(t)
	require.Equal(t, sample, string(d.Bytes(d.Stone)))
	edited := d.Stone
	edited.SG = 1.9
	require.NotEqual(t, sample, string(d.Bytes(edited)))
}

func TestWhatIsWrittenReadsBackTheSame(t *testing.T) {
	d := parseSample(t)
	again, err := parse("again", format(d.Stone), presets.Builtin())
	require.NoError(t, err)
	require.True(t, d.Stone.Equal(again.Stone))
	require.Equal(t, string(format(d.Stone)), string(format(again.Stone)))
	for i, line := range strings.Split(string(format(d.Stone)), "\n") {
		require.LessOrEqual(t, len(line), wide+1, "line %d", i+1)
	}
}

func TestWhatIsLeftOutIsTakenFromThePresets(t *testing.T) {
	text := `{"format": "cabwright-stone", "version": 1, "outline": [[0,0],[9,0],[0,9]], "top": [[0,0,5]], "base": [[0,0,0]],
		"cracks": [{"path": [[1,1],[2,2]]}, {"path": [[1,1],[2,2]], "depth": null}]}`
	set := presets.Builtin()
	d, err := parse("short", []byte(text), set)
	require.NoError(t, err)
	s := d.Stone
	require.Equal(t, set.Defaults.Material, s.Material)
	require.Equal(t, set.Allowances.Skin, s.Allowances.Skin)
	require.Equal(t, set.Allowances.SealedCrack, s.Allowances.SealedCrack)
	for i, id := range []string{"C1", "C2"} {
		require.Equal(t, id, s.Cracks[i].ID)
		require.True(t, s.Cracks[i].Through, "a crack without a depth goes right through")
		require.Equal(t, set.Allowances.RunOn, s.Cracks[i].RunOn)
	}
	require.Equal(t, "cracks[0].id: missing: called C1", d.Warnings[0].String())
}

func TestReadRefusesWhatIsNoPlainFile(t *testing.T) {
	dir := t.TempDir()
	_, err := Read(dir, presets.Builtin())
	require.ErrorContains(t, err, "folder")
	_, err = Read(filepath.Join(dir, "none.stone"), presets.Builtin())
	require.ErrorIs(t, err, os.ErrNotExist)
	require.ErrorContains(t, err, "none.stone: no such file")
	_, err = Read("/dev/zero", presets.Builtin())
	require.ErrorContains(t, err, "not a plain file")
	// A file over the limit is refused by its size: this one is a hole of 1 TiB.
	huge := filepath.Join(dir, "huge.stone")
	f, err := os.Create(huge)
	require.NoError(t, err)
	require.NoError(t, f.Truncate(1<<40))
	require.NoError(t, f.Close())
	_, err = Read(huge, presets.Builtin())
	require.ErrorContains(t, err, "1099511627776 bytes are more than")
}
