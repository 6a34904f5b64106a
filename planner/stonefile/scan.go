package stonefile

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"cabwright/planner"
)

const (
	// maxDepth is how deep values may be nested: the stone file's own keys go
	// eight deep, and what is unknown need not go further than this.
	maxDepth = 64
	// maxKeys of one object, so that finding a key given twice stays cheap.
	maxKeys = 100_000
)

// scanner reads JSON (RFC 8259) strictly, value by value, and knows at each
// moment where in the file's structure it stands. The standard decoder is no
// use here: it takes keys in any case and given twice, and can't say where it
// was. After the first error all its methods do nothing.
type scanner struct {
	data []byte
	pos  int
	path []step
	err  *Error
}

// step is one step down into the structure: a key of an object, or the index
// of a list's item.
type step struct {
	key   string
	index int // -1 for a key
}

// place says where the scanner stands: cracks[0].depth.
func (s *scanner) place() string {
	var b strings.Builder
	for _, p := range s.path {
		if p.index >= 0 {
			fmt.Fprintf(&b, "[%d]", p.index)
			continue
		}
		if b.Len() > 0 {
			b.WriteByte('.')
		}
		b.WriteString(showKey(p.key))
	}
	return b.String()
}

// showKey returns a key fit to be shown, cut to 40 characters.
func showKey(key string) string {
	if runes := []rune(key); len(runes) > 40 {
		key = string(runes[:40]) + "..."
	}
	key = planner.Visible(key)
	if strings.ContainsAny(key, ". []\"") || key == "" {
		return strconv.Quote(key)
	}
	return key
}

func (s *scanner) fail(format string, args ...any) {
	if s.err == nil {
		s.err = &Error{Place: s.place(), What: fmt.Sprintf(format, args...)}
	}
}

// syntax reports text that is not JSON, with the line and the column it is in.
func (s *scanner) syntax(format string, args ...any) {
	done := s.data[:min(s.pos, len(s.data))]
	line := bytes.Count(done, []byte("\n")) + 1
	column := utf8.RuneCount(done[bytes.LastIndexByte(done, '\n')+1:]) + 1
	s.fail("not JSON: %s (line %d, column %d)", fmt.Sprintf(format, args...), line, column)
}

// found names what stands at the present position.
func (s *scanner) found() string {
	if s.pos >= len(s.data) {
		return "the end of the file"
	}
	r, _ := utf8.DecodeRune(s.data[s.pos:])
	return "'" + planner.Visible(string(r)) + "'"
}

// peek skips white space and returns the byte that comes, 0 at the end.
func (s *scanner) peek() byte {
	for s.pos < len(s.data) {
		switch c := s.data[s.pos]; c {
		case ' ', '\t', '\n', '\r':
			s.pos++
		default:
			return c
		}
	}
	return 0
}

// expect consumes one byte. or names what could have stood there as well.
func (s *scanner) expect(c byte, or string) bool {
	if s.err != nil {
		return false
	}
	if s.peek() != c {
		s.syntax("expected %s'%c' but found %s", or, c, s.found())
		return false
	}
	s.pos++
	return true
}

// end checks that nothing but white space follows.
func (s *scanner) end() {
	if s.err == nil && (s.peek() != 0 || s.pos < len(s.data)) {
		s.syntax("%s after the end of the value", s.found())
	}
}

// kind names the value that comes, for messages.
func (s *scanner) kind() string {
	switch c := s.peek(); {
	case c == '{':
		return "an object"
	case c == '[':
		return "a list"
	case c == '"':
		return "a text"
	case c == 't' || c == 'f':
		return "true or false"
	case c == 'n' && s.has("null"):
		return "null"
	}
	return "a number"
}

func (s *scanner) has(word string) bool { return bytes.HasPrefix(s.data[s.pos:], []byte(word)) }

// wants checks that the value that comes begins with one of the bytes given.
func (s *scanner) wants(first, what string) bool {
	if s.err != nil {
		return false
	}
	c := s.peek()
	if c != 0 && strings.IndexByte(first, c) >= 0 {
		return true
	}
	if c == 0 || strings.IndexByte("{[\"tfn-0123456789", c) < 0 || s.notNumber() {
		s.value() // not a value at all: let it say what is wrong
		return false
	}
	s.fail("should be %s, is %s", what, s.kind())
	return false
}

func (s *scanner) down(p step) bool {
	if len(s.path) >= maxDepth {
		s.fail("nested more than %d deep", maxDepth)
		return false
	}
	s.path = append(s.path, p)
	return true
}

func (s *scanner) up() { s.path = s.path[:len(s.path)-1] }

// object reads an object; each is called with every key and reads its value.
func (s *scanner) object(each func(key string)) {
	if !s.wants("{", "an object") {
		return
	}
	s.pos++
	if s.peek() == '}' {
		s.pos++
		return
	}
	var keys keySet
	for s.err == nil {
		if s.peek() != '"' {
			s.syntax("expected a key in double quotes but found %s", s.found())
			return
		}
		key := s.quoted()
		if s.err != nil || !s.down(step{key: key, index: -1}) {
			return
		}
		if keys.add(key) {
			s.fail("key given twice")
		} else if keys.count > maxKeys {
			s.fail("more than %d keys in one object", maxKeys)
		}
		if s.expect(':', "") {
			each(key)
		}
		s.up()
		if !s.comma('}') {
			return
		}
	}
}

// array reads a list; each is called with every index and reads its value.
func (s *scanner) array(each func(i int)) {
	if !s.wants("[", "a list") {
		return
	}
	s.pos++
	if s.peek() == ']' {
		s.pos++
		return
	}
	for i := 0; s.err == nil; i++ {
		if !s.down(step{index: i}) {
			return
		}
		each(i)
		s.up()
		if !s.comma(']') {
			return
		}
	}
}

// comma consumes a comma, or the byte that closes an object or a list; true
// when more comes.
func (s *scanner) comma(closing byte) bool {
	if s.err == nil && s.peek() == ',' {
		s.pos++
		return true
	}
	s.expect(closing, "',' or ")
	return false
}

// keySet finds a key that is given twice: by looking at each of a few, by a map
// of many.
type keySet struct {
	few   [12]string
	many  map[string]bool
	count int
}

func (k *keySet) add(key string) (twice bool) {
	if k.many != nil {
		twice = k.many[key]
		k.many[key] = true
		k.count++
		return twice
	}
	for _, old := range k.few[:k.count] {
		if old == key {
			return true
		}
	}
	if k.count < len(k.few) {
		k.few[k.count] = key
	} else {
		k.many = map[string]bool{key: true}
		for _, old := range k.few {
			k.many[old] = true
		}
	}
	k.count++
	return false
}

// notNumber reports one of the words that other writers use for a number that
// is none.
func (s *scanner) notNumber() bool {
	rest := s.data[s.pos:min(s.pos+9, len(s.data))]
	word := strings.ToLower(strings.TrimLeft(string(rest), "+-"))
	return strings.HasPrefix(word, "nan") || strings.HasPrefix(word, "inf")
}

// number reads a number. One too large for a double is an error.
func (s *scanner) number() float64 {
	if !s.wants("-0123456789", "a number") {
		return 0
	}
	text := s.numeral()
	if s.err != nil {
		return 0
	}
	v, err := strconv.ParseFloat(string(text), 64)
	if err != nil || math.IsInf(v, 0) {
		s.fail("%s is too large for a number", showKey(string(text)))
	}
	return v + 0 // -0 becomes 0
}

// numeral consumes the text of a number.
func (s *scanner) numeral() []byte {
	from := s.pos
	digits := func() int {
		start := s.pos
		for s.pos < len(s.data) && s.data[s.pos] >= '0' && s.data[s.pos] <= '9' {
			s.pos++
		}
		return s.pos - start
	}
	next := func(set string) bool {
		if s.pos < len(s.data) && strings.IndexByte(set, s.data[s.pos]) >= 0 {
			s.pos++
			return true
		}
		return false
	}
	next("-")
	if !next("0") && digits() == 0 {
		s.syntax("expected a digit but found %s", s.found())
		return nil
	}
	if next(".") && digits() == 0 {
		s.syntax("expected a digit but found %s", s.found())
		return nil
	}
	if next("eE") {
		next("+-")
		if digits() == 0 {
			s.syntax("expected a digit but found %s", s.found())
			return nil
		}
	}
	return s.data[from:s.pos]
}

func (s *scanner) text() string {
	if !s.wants("\"", "a text") {
		return ""
	}
	return s.quoted()
}

func (s *scanner) boolean() bool {
	if !s.wants("tf", "true or false") {
		return false
	}
	v := s.data[s.pos] == 't'
	s.value()
	return v
}

// null consumes null when it comes.
func (s *scanner) null() bool {
	if s.err != nil || s.peek() != 'n' || !s.has("null") {
		return false
	}
	s.pos += len("null")
	return true
}

// value consumes any value, checking it all the way down.
func (s *scanner) value() {
	if s.err != nil {
		return
	}
	switch c := s.peek(); {
	case c == '{':
		s.object(func(string) { s.value() })
	case c == '[':
		s.array(func(int) { s.value() })
	case c == '"':
		s.quoted()
	case c >= '0' && c <= '9' || c == '-' && !s.notNumber():
		s.numeral()
	case s.notNumber():
		s.fail("NaN and infinity are not numbers a stone file can hold")
	default:
		for _, word := range []string{"true", "false", "null"} {
			if s.has(word) {
				s.pos += len(word)
				return
			}
		}
		s.syntax("expected a value but found %s", s.found())
	}
}
