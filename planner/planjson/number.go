package planjson

import (
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf16"
)

// Digits behind the decimal point. What a fit is rebuilt from, its dimensions
// and its pose, is given so finely that the rounding moves no point of the
// stone by more than poseSlack; what was measured on it is given to 0.0001.
const (
	exactDigits    = 9
	measuredDigits = 4
)

// poseSlack bounds in mm how far rounding to exactDigits moves the points of a
// solid of the given length, width and height. Each of the pose's 12 numbers is
// off by at most 5e-10. An axis then moves by at most sqrt(3) 5e-10 < 1e-9 of
// the local coordinate along it, and the origin by less than 1e-9 mm; another
// 1e-9 mm a dimension is allowed for the rounding of the dimensions themselves.
func poseSlack(length, width, height float64) float64 {
	return 1e-9 * (4 + length + width + height)
}

// exact and measured are numbers written with at most so many digits behind
// the point and no trailing zeros.
type (
	exact    float64
	measured float64
)

// MarshalJSON writes the number rounded to nine digits behind the point.
func (x exact) MarshalJSON() ([]byte, error) { return decimal(float64(x), exactDigits), nil }

// MarshalJSON writes the number rounded to four digits behind the point.
func (x measured) MarshalJSON() ([]byte, error) { return decimal(float64(x), measuredDigits), nil }

func decimal(x float64, digits int) []byte {
	s := strconv.FormatFloat(x, 'f', digits, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" || s == "" {
		s = "0"
	}
	return []byte(s)
}

// down returns a clearance that the rounded pose still has for certain: less
// the slack, rounded down. It is never below 0, as no fit's is.
func down(clearance, slack float64) measured {
	return measured(math.Max(0, math.Floor((clearance-slack)*1e4)/1e4))
}

// unknown is above any bound that was proved, mm: no stone is so large.
const unknown = 1e6

// bound is an upper bound, written rounded up; one that is below 0 stays so,
// if need be with more digits. No bound yet, an infinite one, is null.
type bound float64

// MarshalJSON writes the bound rounded up.
func (b bound) MarshalJSON() ([]byte, error) {
	if math.Abs(float64(b)) >= unknown || math.IsNaN(float64(b)) {
		return []byte("null"), nil
	}
	up := math.Ceil(float64(b)*1e4) / 1e4
	if b < 0 && up >= 0 {
		return strconv.AppendFloat(nil, float64(b), 'g', -1, 64), nil
	}
	return decimal(up, measuredDigits), nil
}

// text is a string that may come from a file. Whatever does not print, or turns
// the writing direction round, is written as an escape of JSON's own, so that
// the output can also be looked at on a terminal.
type text string

// MarshalJSON writes the string in quotes.
func (t text) MarshalJSON() ([]byte, error) {
	out := []byte{'"'}
	for _, r := range string(t) {
		switch {
		case r == '"' || r == '\\':
			out = append(out, '\\', byte(r))
		case unicode.IsPrint(r) && r != unicode.ReplacementChar:
			out = append(out, string(r)...)
		case r > 0xffff:
			high, low := utf16.EncodeRune(r)
			out = unit(unit(out, high), low)
		default:
			out = unit(out, r)
		}
	}
	return append(out, '"'), nil
}

// unit appends one UTF-16 code unit as \uXXXX (RFC 8259, section 7).
func unit(out []byte, r rune) []byte {
	const hex = "0123456789abcdef"
	return append(out, '\\', 'u', hex[r>>12&15], hex[r>>8&15], hex[r>>4&15], hex[r&15])
}
