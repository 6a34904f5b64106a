package widget

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cabwright/ui/style"
)

// typeIn types a text into the field that has the cursor.
func typeIn(f *Form, text string) {
	for _, r := range text {
		kind := tea.KeyRunes
		if r == ' ' {
			kind = tea.KeySpace
		}
		f.Key(tea.KeyMsg{Type: kind, Runes: []rune{r}})
	}
}

func key(k tea.KeyType) tea.KeyMsg { return tea.KeyMsg{Type: k} }

// What a cutter types for a length, and what it means. The inch is 25.4 mm
// exactly (international yard and pound agreement, 1959).
func TestLengthsAsTheyAreTyped(t *testing.T) {
	for text, want := range map[string]float64{
		"0": 0, "0.4": 0.4, "0,4": 0.4, ".5": 0.5, " 2 ": 2, "400um": 0.4, "400 µm": 0.4, "0.04cm": 0.4, "0.0004m": 0.4,
		"0.4 MM": 0.4,
		"1/64in": 0.396875, `1/4"`: 6.35, "1 3/8 in": 34.925, "1 inch": 25.4, "2 inches": 50.8, "3/4": 0.75, "1e1": 10,
		"+2": 2,
	} {
		field := &Field{Kind: Length, Max: 100}
		field.With(text)
		v, err := field.read()
		require.NoError(t, err, text)
		require.InDelta(t, want, v.number, 1e-12, text)
	}
}

func TestWhatIsNoLengthSaysSo(t *testing.T) {
	for text, says := range map[string]string{
		"": "type a value", "mm": "type a number before the unit", "four": "is not a number", "1/0": "is not a number",
		"nan": "is not a number",
		"inf": "is not a number", "0x10": "is not a number", "1,2,3": "is not a number", "1.2,3": "is not a number",
		"2 3":   "is not a number",
		"1e999": "is not a number", "-1": "-1 mm is outside 0 to 100 mm", "101": "101 mm is outside 0 to 100 mm",
		"5in":  "127 mm is outside 0 to 100 mm",
		"3 ct": "is not a number",
	} {
		field := &Field{Kind: Length, Max: 100}
		field.With(text)
		_, err := field.read()
		require.ErrorContains(t, err, says, "%q", text)
	}
}

func TestOtherQuantities(t *testing.T) {
	for _, c := range []struct {
		kind Kind
		text string
		want float64
	}{
		{Angle, "20", 20}, {Angle, "20°", 20}, {Angle, "20 deg", 20}, {Angle, "1rad", 180 / math.Pi}, {Angle, "22,5", 22.5},
		// 4th CGPM 1907: 1 ct = 200 mg
		{Carat, "19.1", 19.1}, {Carat, "19.1ct", 19.1}, {Carat, "1 g", 5}, {Carat, "200 mg", 1}, {Carat, "2 carats", 2},
		{Plain, "2.15", 2.15},
	} {
		field := &Field{Kind: c.kind}
		field.With(c.text)
		v, err := field.read()
		require.NoError(t, err, c.text)
		require.InDelta(t, c.want, v.number, 1e-9, c.text)
	}
	field := &Field{Kind: Plain}
	_, err := field.With("2mm").read()
	require.Error(t, err, "a plain number has no unit")
}

func (f *Field) readOK(t *testing.T) value {
	t.Helper()
	v, err := f.read()
	require.NoError(t, err)
	return v
}

func TestPlaces(t *testing.T) {
	for text, want := range map[string][]float64{
		"4.2, 7.9": {4.2, 7.9}, "4.2,7.9": {4.2, 7.9}, "4.2 7.9": {4.2, 7.9}, "4,2; 7,9": {4.2, 7.9}, "4,2 7,9": {4.2,
			7.9}, "-4.2, -7.9": {-4.2, -7.9},
		"4mm, 1in": {4, 25.4}, "4,2, 7,9": {4.2, 7.9},
	} {
		f := (&Field{Kind: Place, Parts: 2, Min: -1000, Max: 1000}).With(text)
		require.Equal(t, want, f.readOK(t).point, text)
	}
	for _, text := range []string{"4", "4, 5, 6", "a, b", "4; ", "2000, 0"} {
		_, err := (&Field{Kind: Place, Parts: 2, Min: -1000, Max: 1000}).With(text).read()
		require.Error(t, err, text)
	}
	require.Equal(t, []float64{1, 2, 3}, (&Field{Kind: Place, Parts: 3}).With("1, 2, 3").readOK(t).point)
}

// A number written with up to three decimals reads back as it was.
func TestNumbersReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := math.Round(rapid.Float64Range(-1000, 1000).Draw(t, "v")*1000) / 1000
		got, err := amount(number(want))
		if err != nil || got != want {
			t.Fatalf("%v is written %q and read as %v, %v", want, number(want), got, err)
		}
	})
}

// Whatever is typed, a field neither panics nor takes more than it holds.
func TestAnyKeysKeepAFieldWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kind := Kind(rapid.IntRange(int(Length), int(Place)).Draw(t, "kind"))
		field := &Field{Kind: kind, Choices: []string{"one", "two"}, Parts: 2, MaxLen: 20}
		f := &Form{Fields: []*Field{field}, Done: func(*Form) error { return nil }}
		for _, k := range rapid.SliceOf(rapid.IntRange(-40, 130)).Draw(t, "keys") {
			switch {
			case k < 0:
				f.Key(tea.KeyMsg{Type: tea.KeyType(k)})
			case k == 128:
				f.Step(1)
			case k == 129:
				f.Answer("2")
			default:
				f.Key(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{rune(k)}})
			}
			before, after := field.Typed()
			if len([]rune(before+after)) > 20 || strings.ContainsFunc(before+after, func(r rune) bool { return r < ' ' }) {
				t.Fatalf("the field holds %q", before+after)
			}
			field.Prompt()
			field.Remark()
		}
	})
}

func twoFields(done func(*Form) error) *Form {
	return &Form{Title: "Saw", Done: done, Fields: []*Field{
		(&Field{Label: "Kerf", Kind: Length, Min: 0.1, Max: 3}).WithNumber(0.4),
		{Label: "Depth", Kind: Length, Max: 50, Optional: "right through"},
	}}
}

func TestAFormIsFilledInAndDone(t *testing.T) {
	var kerf, depth float64
	var blank bool
	f := twoFields(func(f *Form) error {
		kerf, depth, blank = f.Number(0), f.Number(1), f.Blank(1)
		return nil
	})
	require.Equal(t, "Kerf, mm:", f.Fields[0].Prompt())
	typeIn(f, "1/64in") // the first key takes the place of the old value
	require.Equal(t, "Kerf, mm [0.4]:", f.Fields[0].Prompt())
	text, wrong := f.Fields[0].Remark()
	require.Equal(t, "= 0.397 mm", text)
	require.False(t, wrong)
	require.Equal(t, Open, f.Key(key(tea.KeyEnter)))
	require.Equal(t, 1, f.At())
	require.Equal(t, Closed, f.Key(key(tea.KeyEnter)))
	require.InDelta(t, 0.396875, kerf, 1e-12)
	require.Zero(t, depth)
	require.True(t, blank)
}

func TestAnErrorKeepsTheTextBesideTheField(t *testing.T) {
	f := twoFields(func(*Form) error { return nil })
	typeIn(f, "7")
	text, wrong := f.Fields[0].Remark()
	require.Equal(t, "", text, "while it is typed a number is not called wrong")
	require.False(t, wrong)
	require.Equal(t, Open, f.Key(key(tea.KeyEnter)))
	text, wrong = f.Fields[0].Remark()
	require.Equal(t, "7 mm is outside 0.1 to 3 mm", text)
	require.True(t, wrong)
	before, _ := f.Fields[0].Typed()
	require.Equal(t, "7", before)
	require.Equal(t, 0, f.At())
}

func TestDoneRefusesAFieldOrTheWhole(t *testing.T) {
	errs := []error{Wrong{Field: 0, Err: errors.New("too wide")}, errors.New("no room"), nil}
	f := twoFields(func(*Form) error {
		err := errs[0]
		errs = errs[1:]
		return err
	})
	require.Equal(t, Open, f.Key(key(tea.KeyCtrlS)))
	require.Equal(t, 0, f.At())
	text, wrong := f.Fields[0].Remark()
	require.Equal(t, "too wide", text)
	require.True(t, wrong)
	require.Equal(t, Open, f.Key(key(tea.KeyCtrlS)))
	require.Equal(t, "no room", f.Problem())
	typeIn(f, "1")
	require.Empty(t, f.Problem(), "typing takes the message away")
	require.Equal(t, Closed, f.Key(key(tea.KeyCtrlS)))
}

func TestStepsAndChoices(t *testing.T) {
	f := &Form{Done: func(*Form) error { return nil }, Fields: []*Field{
		(&Field{Kind: Choose, Choices: []string{"top", "base", "right through"}}).With("top"),
		(&Field{Kind: Angle, Max: 80, Step: 5}).WithNumber(78),
	}}
	f.Key(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("r")})
	require.Equal(t, 2, f.Choice(0))
	f.Key(key(tea.KeyRight))
	require.Equal(t, 0, f.Choice(0))
	f.Key(key(tea.KeyLeft))
	require.Equal(t, 2, f.Choice(0))
	f.Key(key(tea.KeyTab))
	f.Step(1)
	require.Equal(t, 80.0, f.Number(1), "a step stays in the range")
	f.Step(-2)
	require.Equal(t, 70.0, f.Number(1))
}

func TestAFirmFormIsNotSteppedBackFrom(t *testing.T) {
	f := &Form{Required: true, Fields: []*Field{{Kind: Words}}, Done: func(*Form) error { return nil }}
	require.Equal(t, Open, f.Key(key(tea.KeyEsc)))
	require.NotEmpty(t, f.Problem())
	f.Required = false
	require.Equal(t, Left, f.Key(key(tea.KeyEsc)))
}

func TestSteppingBackDiscardsNothing(t *testing.T) {
	first := twoFields(func(*Form) error { return nil })
	typeIn(first, "0.6")
	require.Equal(t, Left, first.Key(key(tea.KeyEsc)))
	again := twoFields(func(*Form) error { return nil })
	again.Resume(first)
	require.Equal(t, 0.6, again.Number(0))
	require.True(t, again.Blank(1))
	other := twoFields(func(*Form) error { return nil })
	other.Title = "Another"
	other.Resume(first)
	require.Equal(t, 0.4, other.Number(0))
	other.Resume(nil)
}

func TestAnswersInLines(t *testing.T) {
	f := twoFields(func(*Form) error { return nil })
	require.Equal(t, Open, f.Answer("9"))
	require.Equal(t, 0, f.At(), "out of range: asked again")
	require.Equal(t, Open, f.Answer(""))
	before, _ := f.Fields[0].Typed()
	require.Equal(t, "9", before)
	require.Equal(t, Open, f.Answer("0,5"))
	f.Fields[1].WithNumber(3)
	require.Equal(t, Closed, f.Answer("-"))
	require.True(t, f.Blank(1))
	choose := &Form{Fields: []*Field{(&Field{Kind: Choose, Choices: []string{"no", "yes"}}).With("no")},
		Done: func(*Form) error { return nil }}
	require.Equal(t, Open, choose.Answer("3"))
	require.Equal(t, Closed, choose.Answer("2"))
	require.Equal(t, 1, choose.Choice(0))
}

func TestPastedTextLosesItsControlCharacters(t *testing.T) {
	f := &Form{Fields: []*Field{{Kind: Words}}}
	f.Key(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("a\x1b[31mb\nc\u202e"), Paste: true})
	require.Equal(t, "a[31mb c", f.Text(0))
}

func FuzzAmount(f *testing.F) {
	for _, s := range []string{"0.4", "0,4", "1/64", "1 3/8", "-", "", "1e9", "//", " / "} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		v, err := amount(text)
		if err == nil && (math.IsNaN(v) || math.IsInf(v, 0)) {
			t.Fatalf("%s reads as %s", strconv.Quote(text), strconv.FormatFloat(v, 'g', -1, 64))
		}
	})
}

func TestUnsureLengths(t *testing.T) {
	for text, want := range map[string]Span{
		"3": {3, 3, 3, false, false}, "0": {}, "2-5": {2, 3.5, 5, false, false}, "2-3-5": {2, 3, 5, false, false},
		"2,5 - 3,5": {2.5, 3, 3.5, false, false}, "2–5": {2, 3.5, 5, false, false}, "2 to 5": {2, 3.5, 5, false, false},
		"1/8-1/4in": {3.175, 4.7625, 6.35, false, false}, "2mm-1cm": {2, 6, 10, false, false}, "200-500um": {0.2, 0.35, 0.5,
			false, false},
		"2-3-through": {2, 3, 0, false, true}, "2-through": {2, 0, 0, true, true},
	} {
		f := (&Field{Kind: Unsure, Max: 500}).With(text)
		got := f.readOK(t).span
		require.Equal(t, want, got, text)
		again := (&Field{Kind: Unsure}).With(got.Text()).readOK(t).span
		require.Equal(t, want, again, "%s is written %s", text, got.Text())
		require.Equal(t, want.Least == want.Most && !want.Open, got.Sure(), text)
	}
	for text, says := range map[string]string{
		"5-2": "2 mm is less than 5 mm", "through": "only the last", "2-through-5": "only the last",
		"1-2-3-4": "least-likely-most",
		"2-":      "number before the unit", "-1": "outside", "2-9999": "outside", "a-b": "is not a number",
	} {
		_, err := (&Field{Kind: Unsure, Max: 500}).With(text).read()
		require.ErrorContains(t, err, says, text)
	}
	f := (&Field{Kind: Unsure, Odds: func(s Span) string { return "from " + number(s.Least) }}).With("2-5")
	text, _ := f.Remark()
	require.Equal(t, "= from 2", text)
}

func TestSizes(t *testing.T) {
	for text, want := range map[string][]float64{
		"4": {4, 4}, "4x3": {4, 3}, "4 x 3": {4, 3}, "4 3": {4, 3}, "4,5×3,5": {4.5, 3.5}, "4 mm x 3 mm": {4, 3}, "4 mm": {4,
			4}, "1x1/2in": {25.4, 12.7},
		"1/4 in": {6.35, 6.35},
	} {
		require.Equal(t, want, (&Field{Kind: Size, Min: 0.1, Max: 500}).With(text).readOK(t).point, text)
	}
	for _, text := range []string{"x", "4x", "4x3x2", "0", "4x0", "a"} {
		_, err := (&Field{Kind: Size, Min: 0.1, Max: 500}).With(text).read()
		if text != "4x" {
			require.Error(t, err, text)
		}
	}
}

// A list takes line after line, gives the last one back, and ends at an empty one.
func TestAListOfLines(t *testing.T) {
	var got [][]float64
	f := &Form{
		Repeat: true,
		Fields: []*Field{{Label: "x, y", Kind: Place, Parts: 2, Min: -100, Max: 100, Optional: "ends it"}},
		Done: func(f *Form) error {
			if f.Blank(0) {
				return nil
			}
			got = append(got, f.Point(0))
			return nil
		},
		TakeBack: func(*Form) { got = got[:len(got)-1] },
	}
	typeIn(f, "1 2")
	require.Equal(t, Open, f.Key(key(tea.KeyEnter)))
	f.Key(tea.KeyMsg{Type: tea.KeyRunes, Paste: true, Runes: []rune("3\t4\r\n\r\n5,5\t-6\nx\n7 8")})
	require.Equal(t, [][]float64{{1, 2}, {3, 4}, {5.5, -6}}, got)
	require.Contains(t, f.Problem(),
		"line 4 of the 5 pasted was not taken: mend it, or empty it to pass it over; enter goes on")
	before, _ := f.Fields[0].Typed()
	require.Equal(t, "x", before, "what was refused stays")
	f.Key(key(tea.KeyBackspace))
	require.Empty(t, f.Problem())
	f.Key(key(tea.KeyBackspace))
	require.Equal(t, [][]float64{{1, 2}, {3, 4}}, got)
	require.Contains(t, rows(f), "1 line of the paste waits")
	typeIn(f, "9-9")
	require.Equal(t, Open, f.Key(key(tea.KeyEnter)))
	require.Equal(t, [][]float64{{1, 2}, {3, 4}, {9, -9}, {7, 8}}, got, "the lines after it follow")
	require.NotContains(t, rows(f), "waits")
	typeIn(f, "7-8")
	require.Equal(t, Closed, f.Key(key(tea.KeyCtrlS)), "what was typed is taken, then it ends")
	require.Equal(t, []float64{7, -8}, got[4])
	require.Len(t, got, 5)
}

func rows(f *Form) string {
	var out strings.Builder
	for _, r := range f.Rows(style.New(style.NoColour, style.Unknown), 80, 20) {
		out.WriteString(r.Text + "\n")
	}
	return out.String()
}

// numbers is a list of points, as a form that is pasted into takes it.
func numbers() (f *Form, got *[][]float64) {
	got = new([][]float64)
	return &Form{
		Repeat: true,
		Fields: []*Field{{Label: "x, y", Kind: Place, Parts: 2, Min: -100, Max: 100, Optional: "ends it"}},
		Done: func(f *Form) error {
			if !f.Blank(0) {
				*got = append(*got, f.Point(0))
			}
			return nil
		},
	}, got
}

// A line that is no good is passed over by emptying it, or mended and the whole ended.
func TestAPasteGoesOnAfterALineThatIsNoGood(t *testing.T) {
	f, got := numbers()
	paste := func(text string) { f.Key(tea.KeyMsg{Type: tea.KeyRunes, Paste: true, Runes: []rune(text)}) }
	paste("1 2\nx\n3 4\ny\n5 6\n\n")
	require.Contains(t, f.Problem(), "line 2 of the 5 pasted")
	f.Key(key(tea.KeyCtrlU))
	require.Equal(t, Open, f.Key(key(tea.KeyEnter)))
	require.Contains(t, f.Problem(), "line 4 of the 5 pasted")
	f.Key(key(tea.KeyCtrlU))
	typeIn(f, "8 8")
	require.Equal(t, Closed, f.Key(key(tea.KeyCtrlS)))
	require.Equal(t, [][]float64{{1, 2}, {3, 4}, {8, 8}, {5, 6}}, *got)
	f, _ = numbers()
	paste("1 2\nx\n")
	require.NotContains(t, f.Problem(), "goes on", "none is left")
	// Stepping back discards nothing.
	paste("x\n7 8\n")
	again, got := numbers()
	again.Resume(f)
	before, _ := again.Fields[0].Typed()
	require.Equal(t, "x", before)
	again.Key(key(tea.KeyCtrlU))
	again.Key(key(tea.KeyEnter))
	require.Equal(t, [][]float64{{7, 8}}, *got)
}

// A terminal that does not say that something is pasted types it: tabs are then between
// cells and line ends are enters.
func TestWhatIsPastedUnmarkedIsTakenAsTyped(t *testing.T) {
	f, got := numbers()
	for _, line := range []string{"1\t2", "3,5\t-4"} {
		for _, r := range line {
			if r == '\t' {
				f.Key(key(tea.KeyTab))
				continue
			}
			typeIn(f, string(r))
		}
		f.Key(key(tea.KeyCtrlJ))
	}
	require.Equal(t, [][]float64{{1, 2}, {3.5, -4}}, *got)
	require.Empty(t, f.Problem())
}

// However little room there is, the field that is answered, its choice and, where it
// finds room, the title are in sight, and no more lines than there is room for.
func TestTheAnsweredFieldIsInSight(t *testing.T) {
	choices := []string{"any", "cushion", "heart", "marquise", "octagon", "oval", "pear", "rectangle", "round", "square"}
	f := &Form{Title: "What to list", Notes: []string{strings.Repeat("note ", 60)}}
	for i := range 8 {
		f.Fields = append(f.Fields, (&Field{Label: fmt.Sprintf("Field %d", i), Kind: Choose,
			Choices: choices}).With(choices[(3*i)%10]))
	}
	sheet := style.New(style.NoColour, style.Unknown)
	for height := 12; height < 40; height++ {
		for at := range f.Fields {
			f.GoTo(at)
			rows := f.Rows(sheet, 40, height)
			var text []string
			for _, r := range rows {
				text = append(text, r.Text)
			}
			all := strings.Join(text, "\n")
			require.LessOrEqual(t, len(rows), height)
			require.Contains(t, all, "What to list")
			require.Contains(t, all, fmt.Sprintf("▸ Field %d", at), "%d rows", height)
			require.Contains(t, all, "▸ "+fmt.Sprint((3*at)%10+1)+" "+choices[(3*at)%10], "%d rows", height)
		}
	}
}

// A title that is longer than its rule is not cut.
func TestALongTitleStandsInFull(t *testing.T) {
	f := &Form{Title: "Edits from a session that ended before saving: 3, the last \"Move corner 1\"",
		Fields: []*Field{{Label: "A"}}}
	var text []string
	for _, r := range f.Rows(style.New(style.NoColour, style.Unknown), 40, 20) {
		require.LessOrEqual(t, ansi.StringWidth(r.Text), 40)
		text = append(text, r.Text)
	}
	require.Contains(t, strings.Join(strings.Fields(strings.Join(text, " ")), " "), f.Title)
}
