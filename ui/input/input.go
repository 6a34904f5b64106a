package input

import (
	"os"
	"time"
	"unicode/utf8"
)

// escapeWait is how long a lone escape character waits for the rest of a
// sequence before it counts as the escape key. A terminal writes a sequence at
// once; over a slow line it may arrive in two parts. 30 ms is well under what a
// person feels as late (about 100 ms: Miller 1968) and above the usual jitter of
// a network on one continent.
const escapeWait = 30 * time.Millisecond

// readMost is the most one Read returns. The library's buffer has 256 bytes and
// it takes a full one to mean that more is to come; one byte less is always whole.
const readMost = 255

// longest is the longest unfinished sequence that is waited for. A mouse report
// has at most 20 bytes; what runs on longer is noise and dropped.
const longest = 64

// Reader is a terminal's input. It stands in for the file towards the library.
type Reader struct {
	*os.File
	held    []byte // the start of a sequence whose rest has not come yet
	escaped bool   // the last thing handed over was a lone escape that had waited
	ready   func(time.Duration) bool
}

// New returns a reader of a terminal.
func New(f *os.File) *Reader {
	r := &Reader{File: f}
	r.ready = func(wait time.Duration) bool { return ready(f, wait) }
	return r
}

// Read hands over whole keys and mouse reports. It returns 0 bytes and no error
// when only part of one has come.
func (r *Reader) Read(p []byte) (int, error) {
	room := min(len(p), readMost)
	buf := make([]byte, max(1, room-len(r.held)))
	n, err := r.File.Read(buf)
	if err != nil {
		return 0, err
	}
	out := r.take(buf[:n])
	if len(r.held) == 1 && r.held[0] == esc && !r.ready(escapeWait) {
		out, r.held, r.escaped = append(out, esc), nil, true
	}
	return copy(p, out), nil
}

const esc = 0x1b

// take joins what has come to what was held back and returns the whole sequences.
func (r *Reader) take(data []byte) []byte {
	if r.escaped && len(r.held) == 0 {
		// The rest of a mouse report whose escape was taken for the key.
		if n := reportTail(data); n > 0 {
			data = data[n:]
		}
	}
	r.escaped = false
	all := append(append([]byte(nil), r.held...), data...)
	r.held = nil
	out := make([]byte, 0, len(all))
	motionAt, motionButton := -1, ""
	for i := 0; i < len(all); {
		n, whole := token(all[i:])
		switch {
		case n == 0:
			if rest := all[i:]; len(rest) <= longest {
				r.held = append([]byte(nil), rest...)
			}
			return out
		case !whole:
		default:
			button := motion(all[i : i+n])
			if button != "" && motionAt >= 0 && button == motionButton {
				out = out[:motionAt]
			}
			motionAt, motionButton = len(out), button
			if button == "" {
				motionAt = -1
			}
			out = append(out, all[i:i+n]...)
		}
		i += n
	}
	return out
}

// token returns the length of the first key or report of b; 0 when it is not
// finished. A broken sequence has its length and whole false: it is dropped.
func token(b []byte) (n int, whole bool) {
	if b[0] != esc {
		if !utf8.FullRune(b) {
			return 0, false
		}
		_, n = utf8.DecodeRune(b)
		return n, true
	}
	if len(b) == 1 {
		return 0, false
	}
	switch b[1] {
	case '[':
		return csi(b)
	case 'O':
		// A function key; the letter that follows belongs to it.
		if len(b) < 3 {
			return 0, false
		}
		return 3, true
	case esc:
		return 1, true
	}
	if !utf8.FullRune(b[1:]) {
		return 0, false
	}
	_, n = utf8.DecodeRune(b[1:])
	return 1 + n, true
}

// csi is token for what begins with escape and a square bracket (ECMA-48, 5.4).
func csi(b []byte) (n int, whole bool) {
	if len(b) < 3 {
		return 0, false
	}
	switch b[2] {
	case 'M': // an old mouse report: three bytes follow
		if len(b) < 6 {
			return 0, false
		}
		return 6, true
	case '[': // a function key of the Linux console
		if len(b) < 4 {
			return 0, false
		}
		return 4, true
	}
	for i := 2; i < len(b); i++ {
		switch c := b[i]; {
		case c >= 0x40 && c <= 0x7e:
			return i + 1, true
		case c < 0x20 || c > 0x3f:
			return i, false
		}
	}
	return 0, false
}

// motion returns the button part of a drag's report (xterm's SGR form, ESC [ <
// button ; column ; row M, with 32 added to the button), or "".
func motion(b []byte) string {
	if len(b) < 9 || b[1] != '[' || b[2] != '<' || b[len(b)-1] != 'M' {
		return ""
	}
	button := 0
	for i := 3; i < len(b); i++ {
		if b[i] == ';' {
			if button&32 != 0 && button < 64 {
				return string(b[3:i])
			}
			return ""
		}
		button = button*10 + int(b[i]-'0')
	}
	return ""
}

// reportTail returns the length of a mouse report that lacks its escape
// character at the start of b, or 0.
func reportTail(b []byte) int {
	if len(b) < 2 || b[0] != '[' || b[1] != '<' {
		return 0
	}
	for i := 2; i < len(b); i++ {
		switch c := b[i]; {
		case c == 'M' || c == 'm':
			return i + 1
		case c != ';' && (c < '0' || c > '9'):
			return 0
		}
	}
	return 0
}
