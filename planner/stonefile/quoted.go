package stonefile

import (
	"bytes"
	"strconv"
	"unicode/utf16"
	"unicode/utf8"
)

// quoted reads a text in double quotes. Half a surrogate pair is an error: it
// stands for no character, and could not be written back.
func (s *scanner) quoted() string {
	s.pos++
	from := s.pos
	end := bytes.IndexAny(s.data[from:], "\"\\\n")
	if end >= 0 && s.data[from+end] == '"' && !hasControl(s.data[from:from+end]) {
		s.pos = from + end + 1
		return string(s.data[from : from+end])
	}
	var out []byte
	for s.pos < len(s.data) {
		switch c := s.data[s.pos]; {
		case c == '"':
			s.pos++
			return string(out)
		case c == '\\':
			if out = s.escape(out); s.err != nil {
				return ""
			}
		case c < 0x20:
			s.syntax("control character %s inside a text", s.found())
			return ""
		default:
			out = append(out, c)
			s.pos++
		}
	}
	s.syntax("a text that never ends")
	return ""
}

func hasControl(text []byte) bool {
	for _, c := range text {
		if c < 0x20 {
			return true
		}
	}
	return false
}

// escape appends what a backslash and what follows it stand for.
func (s *scanner) escape(out []byte) []byte {
	s.pos++
	if s.pos >= len(s.data) {
		s.syntax("a text that never ends")
		return nil
	}
	c := s.data[s.pos]
	if i := bytes.IndexByte([]byte(`"\/bfnrt`), c); i >= 0 {
		s.pos++
		return append(out, "\"\\/\b\f\n\r\t"[i])
	}
	if c != 'u' {
		s.syntax("%s after a backslash", s.found())
		return nil
	}
	r := s.fourHex()
	if utf16.IsSurrogate(r) {
		low := rune(-1)
		if s.err == nil && s.has(`\u`) {
			s.pos++
			low = s.fourHex()
		}
		if r = utf16.DecodeRune(r, low); r == utf8.RuneError {
			s.syntax("half a surrogate pair")
			return nil
		}
	}
	return utf8.AppendRune(out, r)
}

// fourHex reads the digits after the u of an escape.
func (s *scanner) fourHex() rune {
	s.pos++
	if s.pos+4 <= len(s.data) {
		if v, err := strconv.ParseUint(string(s.data[s.pos:s.pos+4]), 16, 32); err == nil {
			s.pos += 4
			return rune(v)
		}
	}
	s.syntax("\\u without four hexadecimal digits")
	return utf8.RuneError
}
