package widget

import (
	"errors"
	"fmt"
	"strings"
)

// Span is a length in mm that may not be known for sure. What is sure has Least,
// Likely and Most the same.
type Span struct {
	Least, Likely, Most float64
	Through             bool // likely right through: Likely is not used
	Open                bool // it may go right through: Most is not used
}

// Sure reports whether the length is known.
func (s Span) Sure() bool { return !s.Open && s.Least == s.Most }

// through is the word for a depth without an end.
const through = "through"

// unsure reads "3", "2-5", "2-3-5" or "2-3-through", each with units if wanted. A
// unit at the end holds for the numbers before it that have none. Of two numbers
// the middle is likely.
func (f *Field) unsure(text string) (value, error) {
	parts := parts(text)
	if len(parts) > 3 {
		return value{}, errors.New("type one number, least-most like 2-5, or least-likely-most like 2-3-5")
	}
	unit := unitOf(parts[len(parts)-1])
	var v []float64
	open := false
	for i, p := range parts {
		if p == through {
			open = true
			if i == 0 || i < len(parts)-1 {
				return value{}, errors.New("only the last of the numbers can be \"through\"")
			}
			continue
		}
		mm, err := f.lengthOf(p, unit)
		if err != nil {
			return value{}, err
		}
		if len(v) > 0 && mm < v[len(v)-1] {
			return value{}, fmt.Errorf(
				"%s is less than %s: type them from the least to the most",
				f.unit(mm),
				f.unit(v[len(v)-1]),
			)
		}
		v = append(v, mm)
	}
	out := value{span: spanOf(v, open)}
	out.number = out.span.Likely
	switch {
	case !out.span.Sure() && f.Odds != nil:
		out.understood = f.Odds(out.span)
	case out.span.Sure() && number(v[0]) != strings.ReplaceAll(text, ",", "."):
		out.understood = f.unit(v[0])
	}
	return out, nil
}

// spanOf returns the span of one to three rising numbers.
func spanOf(v []float64, open bool) Span {
	switch {
	case open && len(v) == 1:
		return Span{Least: v[0], Through: true, Open: true}
	case open:
		return Span{Least: v[0], Likely: v[1], Open: true}
	case len(v) == 1:
		return Span{Least: v[0], Likely: v[0], Most: v[0]}
	case len(v) == 2:
		return Span{Least: v[0], Likely: settle((v[0] + v[1]) / 2), Most: v[1]}
	}
	return Span{Least: v[0], Likely: v[1], Most: v[2]}
}

// parts splits a range at its dashes. A dash before the first figure of a number
// is its sign.
func parts(text string) []string {
	text = strings.NewReplacer("–", "-", "−", "-", " to ", "-").Replace(strings.ToLower(strings.TrimSpace(text)))
	var out []string
	now := ""
	for _, r := range text {
		if r == '-' && strings.TrimSpace(now) != "" {
			out = append(out, strings.TrimSpace(now))
			now = ""
			continue
		}
		now += string(r)
	}
	return append(out, strings.TrimSpace(now))
}

// unitOf returns the unit of length at the end of a text, "" when there is none.
func unitOf(text string) string {
	for _, u := range lengthUnits {
		if strings.HasSuffix(strings.ToLower(text), u.name) {
			return u.name
		}
	}
	return ""
}

// lengthOf reads one of several lengths; unit holds for one that has none.
func (f *Field) lengthOf(text, unit string) (float64, error) {
	if unitOf(text) == "" {
		text += unit
	}
	mm, err := (&Field{Kind: Length}).quantity(text)
	if err != nil {
		return 0, err
	}
	return mm, f.within(mm)
}

// Text writes a span as it is typed.
func (s Span) Text() string {
	last := number(s.Most)
	if s.Open {
		last = through
	}
	switch {
	case s.Open && s.Through:
		return number(s.Least) + "-" + last
	case s.Sure():
		return number(s.Likely)
	case settle((s.Least+s.Most)/2) == s.Likely && !s.Open:
		return number(s.Least) + "-" + last
	}
	return number(s.Least) + "-" + number(s.Likely) + "-" + last
}

// Span returns what field i, an Unsure one, reads as.
func (f *Form) Span(i int) Span {
	v, _ := f.Fields[i].read()
	return v.span
}

// size reads "4", "4x3", "4 x 3" or "4 3". The length comes first.
func (f *Field) size(text string) (value, error) {
	split := func(r rune) bool { return r == 'x' || r == '×' || r == '*' || r == ';' }
	parts := strings.FieldsFunc(strings.ToLower(text), split)
	if _, err := (&Field{Kind: Length}).quantity(text); err != nil && len(parts) == 1 {
		parts = strings.Fields(parts[0])
	}
	if len(parts) == 0 || len(parts) > 2 {
		return value{}, errors.New("type a length, or a length and a width like 4x3")
	}
	unit := unitOf(parts[len(parts)-1])
	out := value{}
	for _, p := range parts {
		mm, err := f.lengthOf(strings.TrimSpace(p), unit)
		if err != nil {
			return value{}, err
		}
		out.point = append(out.point, mm)
	}
	out.understood = f.unit(out.point[0])
	if len(out.point) == 1 {
		out.point = append(out.point, out.point[0])
	} else {
		out.understood = fmt.Sprintf("%s x %s", number(out.point[0]), f.unit(out.point[1]))
	}
	return out, nil
}
