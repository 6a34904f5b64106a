package widget

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// value is what a text was read as.
type value struct {
	number     float64
	choice     int
	point      []float64
	span       Span
	understood string // when the number differs from what was typed
}

// lengthUnits are the units of length a cutter may type, in millimetres. The
// inch is exact by the international yard and pound agreement of 1959.
var lengthUnits = []struct {
	name string
	mm   float64
}{
	{"mm", 1}, {"um", 0.001}, {"µm", 0.001}, {"μm", 0.001}, {"cm", 10},
	{"inches", 25.4}, {"inch", 25.4}, {"in", 25.4}, {`"`, 25.4}, {"m", 1000},
}

// caratUnits are units of weight in metric carats (200 mg exactly, 4th General
// Conference on Weights and Measures, 1907).
var caratUnits = []struct {
	name string
	mm   float64
}{
	{"carats", 1}, {"carat", 1}, {"ct", 1}, {"mg", 0.005}, {"kg", 5000}, {"grams", 5}, {"gram", 5}, {"g", 5},
}

var angleUnits = []struct {
	name string
	mm   float64
}{
	{"degrees", 1}, {"deg", 1}, {"°", 1}, {"rad", 180 / math.Pi},
}

// read reads the text of the field.
func (f *Field) read() (value, error) {
	text := strings.TrimSpace(f.text())
	if text == "" {
		if f.Optional == "" && f.Kind != Words {
			return value{}, fmt.Errorf("type a value")
		}
		return value{}, nil
	}
	switch f.Kind {
	case Words, TableRow:
		return value{}, nil
	case Choose:
		return value{choice: f.index()}, nil
	case Place:
		return f.place(text)
	case Size:
		return f.size(text)
	case Unsure:
		return f.unsure(text)
	}
	v, err := f.quantity(text)
	if err != nil {
		return value{}, err
	}
	if err := f.within(v); err != nil {
		return value{}, err
	}
	out := value{number: v}
	if plain, err := strconv.ParseFloat(text, 64); err != nil || plain != v {
		out.understood = f.unit(v)
	}
	return out, nil
}

// within says that a number lies outside the field's limits.
func (f *Field) within(v float64) error {
	if (f.Min != 0 || f.Max != 0) && (v < f.Min || v > f.Max) {
		return fmt.Errorf("%s is outside %s to %s", f.unit(v), number(f.Min), f.unit(f.Max))
	}
	return nil
}

func (f *Field) unit(v float64) string {
	switch f.Kind {
	case Length, Place, Size, Unsure:
		return number(v) + " mm"
	case Angle:
		return number(v) + "°"
	case Carat:
		return number(v) + " ct"
	}
	return number(v)
}

// quantity reads a number and the unit that may follow it.
func (f *Field) quantity(text string) (float64, error) {
	units := lengthUnits
	switch f.Kind {
	case Angle:
		units = angleUnits
	case Carat:
		units = caratUnits
	case Plain:
		units = nil
	}
	lower := strings.ToLower(text)
	for _, u := range units {
		if head, ok := strings.CutSuffix(lower, u.name); ok {
			v, err := amount(strings.TrimSpace(head))
			if err != nil {
				return 0, err
			}
			return settle(v * u.mm), nil
		}
	}
	return amount(lower)
}

// settle rounds away what binary fractions add to a conversion: a picometre.
func settle(v float64) float64 {
	r := math.Round(v*1e9) / 1e9
	if math.IsInf(r, 0) || math.IsNaN(r) {
		return v
	}
	return r
}

// amount reads "0.4", "0,4", "1/64" and "1 3/8".
func amount(text string) (float64, error) {
	text = strings.ReplaceAll(text, "−", "-")
	bad := fmt.Errorf("%q is not a number: type one like 0.4, 0,4 or 1/64in", text)
	if text == "" {
		return 0, fmt.Errorf("type a number before the unit")
	}
	sign := 1.0
	if rest, ok := strings.CutPrefix(text, "-"); ok {
		sign, text = -1, strings.TrimSpace(rest)
	}
	whole := 0.0
	if head, frac, ok := strings.Cut(text, " "); ok {
		v, err := decimal(head)
		if err != nil || !strings.Contains(frac, "/") {
			return 0, bad
		}
		whole, text = v, strings.TrimSpace(frac)
	}
	if up, down, ok := strings.Cut(text, "/"); ok {
		a, errA := decimal(strings.TrimSpace(up))
		b, errB := decimal(strings.TrimSpace(down))
		if errA != nil || errB != nil || b == 0 {
			return 0, bad
		}
		return sign * (whole + a/b), nil
	}
	v, err := decimal(text)
	if err != nil {
		return 0, bad
	}
	return sign * v, nil
}

// decimal reads a plain number with a point or one comma; words like "inf" or
// "nan" and hexadecimal numbers are none.
func decimal(text string) (float64, error) {
	for _, r := range text {
		if (r < '0' || r > '9') && r != '.' && r != ',' && r != 'e' && r != '-' && r != '+' {
			return 0, strconv.ErrSyntax
		}
	}
	if strings.Count(text, ",") == 1 && !strings.Contains(text, ".") {
		text = strings.Replace(text, ",", ".", 1)
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsInf(v, 0) {
		return 0, strconv.ErrSyntax
	}
	return v, nil
}

// signed is a minus that follows a figure at once: the next number begins there.
var signed = regexp.MustCompile(`([0-9.])-`)

// place reads "4.2, 7.9" or "4,2; 7,9" or "4.2 7.9" or "4.2-7.9".
func (f *Field) place(text string) (value, error) {
	bad := fmt.Errorf("type %s in mm, like %s", [...]string{2: "x, y", 3: "x, y, height"}[f.Parts],
		[...]string{2: "4.2, -7.9", 3: "4.2, -7.9, 6.5"}[f.Parts])
	split := func(r rune) bool { return r == ',' || r == ' ' || r == ';' }
	text = signed.ReplaceAllString(text, "$1;-")
	if strings.Contains(text, ";") {
		split = func(r rune) bool { return r == ';' }
	} else if strings.Contains(text, ", ") || strings.Count(text, ",") != f.Parts-1 && strings.Contains(text, " ") {
		text = strings.ReplaceAll(text, ", ", ";")
		text = strings.ReplaceAll(text, " ", ";")
		split = func(r rune) bool { return r == ';' }
	}
	parts := strings.FieldsFunc(text, split)
	if len(parts) != f.Parts {
		return value{}, bad
	}
	out := value{}
	var said []string
	for _, p := range parts {
		v, err := (&Field{Kind: Length}).quantity(strings.TrimSpace(p))
		if err != nil {
			return value{}, err
		}
		if err := f.within(v); err != nil {
			return value{}, err
		}
		out.point = append(out.point, v)
		said = append(said, number(v))
	}
	out.understood = strings.Join(said, ", ") + " mm"
	return out, nil
}

// number writes a number with up to three decimals and none to spare.
func number(v float64) string {
	s := strconv.FormatFloat(v, 'f', 3, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}
