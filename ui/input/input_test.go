package input

import (
	"bytes"
	"fmt"
	"os"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// feed hands the chunks to a reader one by one, as a terminal would write them,
// and returns what comes out of all reads together.
func feed(t require.TestingT, ready bool, chunks ...string) string {
	read, write, err := os.Pipe()
	require.NoError(t, err)
	defer read.Close()
	defer write.Close()
	r := New(read)
	r.ready = func(time.Duration) bool { return ready }
	var out bytes.Buffer
	p := make([]byte, 256)
	for _, c := range chunks {
		_, err := write.WriteString(c)
		require.NoError(t, err)
		for left := len(c); left > 0; {
			before := len(r.held)
			n, err := r.Read(p)
			require.NoError(t, err)
			require.Less(t, n, 256, "a full buffer makes the library wait for more")
			out.Write(p[:n])
			took := min(left, 255-before)
			left -= took
		}
	}
	return out.String()
}

func TestReaderHandsOverWholeSequences(t *testing.T) {
	for name, c := range map[string]struct {
		ready  bool
		chunks []string
		want   string
	}{
		"nothing special":             {false, []string{"abc"}, "abc"},
		"lone escape":                 {false, []string{"\x1b"}, "\x1b"},
		"escape right after a key":    {false, []string{"e\x1b", "d"}, "e\x1bd"},
		"escape, then its rest":       {true, []string{"\x1b", "[A"}, "\x1b[A"},
		"arrow in three parts":        {true, []string{"\x1b", "[", "A"}, "\x1b[A"},
		"report cut in the numbers":   {false, []string{"\x1b[<0;1", "2;3M"}, "\x1b[<0;12;3M"},
		"report cut after bracket":    {false, []string{"x\x1b[", "<0;12;3Mx"}, "x\x1b[<0;12;3Mx"},
		"report cut after escape":     {false, []string{"x\x1b", "y"}, "x\x1by"},
		"late rest of a report":       {false, []string{"\x1b", "[<32;5;6Mq"}, "\x1bq"},
		"step key after escape":       {false, []string{"\x1b", "["}, "\x1b["},
		"old mouse report cut":        {false, []string{"\x1b[M !", "!"}, "\x1b[M !!"},
		"letter of two bytes cut":     {false, []string{"\xc2", "\xb5"}, "µ"},
		"report that broke off":       {false, []string{"\x1b[<0;1\x1b[A"}, "\x1b[A"},
		"alt and a letter":            {false, []string{"\x1ba"}, "\x1ba"},
		"endless sequence is dropped": {false, []string{"\x1b[" + string(bytes.Repeat([]byte("1"), 100)), "q"}, "q"},
		"drags collapse":              {false, []string{"\x1b[<32;1;1M\x1b[<32;2;1M\x1b[<32;3;1M"}, "\x1b[<32;3;1M"},
		"buttons apart":               {false, []string{"\x1b[<32;1;1M\x1b[<34;2;1M"}, "\x1b[<32;1;1M\x1b[<34;2;1M"},
		"wheel turns all count":       {false, []string{"\x1b[<64;1;1M\x1b[<64;1;1M"}, "\x1b[<64;1;1M\x1b[<64;1;1M"},
		"key between two drags":       {false, []string{"\x1b[<32;1;1Ma\x1b[<32;2;1M"}, "\x1b[<32;1;1Ma\x1b[<32;2;1M"},
		"press, drags, release": {false, []string{"\x1b[<0;1;1M\x1b[<32;2;1M\x1b[<32;3;1M\x1b[<0;3;1m"},
			"\x1b[<0;1;1M\x1b[<32;3;1M\x1b[<0;3;1m"},
	} {
		t.Run(name, func(t *testing.T) {
			require.Equal(t, c.want, feed(t, c.ready, c.chunks...))
		})
	}
}

// A lone escape is handed over in the read that brought it: the next read may
// come much later, and would make it alt and a letter.
func TestALoneEscapeIsNotKeptForTheNextKey(t *testing.T) {
	for _, typed := range []string{"\x1b", "e\x1b", "\x1b[A\x1b"} {
		read, write, err := os.Pipe()
		require.NoError(t, err)
		r := New(read)
		r.ready = func(time.Duration) bool { return false }
		write.WriteString(typed)
		p := make([]byte, 256)
		n, err := r.Read(p)
		require.NoError(t, err)
		require.Equal(t, typed, string(p[:n]))
		read.Close()
		write.Close()
	}
}

// However a stream of presses, letters and arrows is cut, the same comes out.
func TestReaderDoesNotDependOnTheCuts(t *testing.T) {
	parts := []string{"a", "7", "é", "\x1b[A", "\x1bOP", "\x1b[1;2C", "\x1b[<0;12;3M", "\x1b[<0;113;45m", "\x1b[M !!",
		"\x1b[200~text\x1b[201~"}
	rapid.Check(t, func(t *rapid.T) {
		stream := ""
		for _, i := range rapid.SliceOfN(rapid.IntRange(0, len(parts)-1), 1, 60).Draw(t, "parts") {
			stream += parts[i]
		}
		var chunks []string
		for rest := stream; rest != ""; {
			n := rapid.IntRange(1, len(rest)).Draw(t, "cut")
			chunks = append(chunks, rest[:n])
			rest = rest[n:]
		}
		require.Equal(t, stream, feed(t, true, chunks...))
	})
}

// A drag of 20,000 motions, written as fast as a pipe takes it, ends where it
// ended and makes no key.
func TestLongDragMakesNoKey(t *testing.T) {
	var stream bytes.Buffer
	for i := range 20000 {
		fmt.Fprintf(&stream, "\x1b[<32;%d;%dM", 1+i%200, 1+i%50)
	}
	read, write, err := os.Pipe()
	require.NoError(t, err)
	go func() {
		write.Write(stream.Bytes())
		write.Close()
	}()
	r := New(read)
	p := make([]byte, 256)
	reports, last := 0, ""
	for {
		n, err := r.Read(p)
		if err != nil {
			break
		}
		for b := p[:n]; len(b) > 0; {
			n, whole := token(b)
			require.True(t, whole && n > 0 && motion(b[:n]) != "", "%q is no drag", b)
			reports, last = reports+1, string(b[:n])
			b = b[n:]
		}
	}
	require.Equal(t, fmt.Sprintf("\x1b[<32;%d;%dM", 1+19999%200, 1+19999%50), last)
	require.Less(t, reports, 4000, "drags of one read collapse into the last")
}
