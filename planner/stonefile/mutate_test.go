package stonefile

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"cabwright/planner/stopwatch"
	"cabwright/presets"

	"github.com/stretchr/testify/require"
)

// pieces are put into files by the mutator: tokens of JSON and of the format,
// and what has broken readers of either.
var pieces = strings.Fields(`{ } [ ] , : " \ null true false NaN Infinity -Infinity 1e999 -1e999 1e-999 -0 0 1 -1 5.5 1000.5 1e308 0x1 1.
	"\u0000" "\ud800" "\u202e" "\u001b[2J" "id" "C1" "P1" "outline" "Outline" "depth" "face" "top" "base" "through" "inside" "between" "version" 2
	[0,0] [[0,0],[1,1]] [0,0,0] {"a":1,"a":2} [[[[[[[[ {{{{{{{{ /* // ' \u {"x":{"x":{"x":`)

// mutate makes a few changes of a text: bytes flipped, taken out, repeated,
// swapped with others, or pieces put in.
func mutate(r *rand.Rand, text []byte) []byte {
	out := bytes.Clone(text)
	for range 1 + r.IntN(4)*r.IntN(2) {
		at := r.IntN(len(out) + 1)
		to := min(len(out), at+r.IntN(40))
		switch r.IntN(11) {
		case 0:
			if at < len(out) {
				out[at] ^= 1 << r.IntN(8)
			}
		case 1:
			out = append(out[:at:at], out[to:]...)
		case 2:
			out = append(out[:to:to], out[at:]...)
		case 3:
			out = append(out[:at:at], append([]byte(pieces[r.IntN(len(pieces))]), out[at:]...)...)
		case 4:
			out = append(out[:at:at], append([]byte(pieces[r.IntN(len(pieces))]), out[to:]...)...)
		case 5, 8, 9, 10: // another number in place of one
			if i := bytes.IndexAny(out[at:], "0123456789"); i >= 0 {
				end := at + i
				for end < len(out) && strings.IndexByte("0123456789.", out[end]) >= 0 {
					end++
				}
				number := fmt.Sprint([]any{r.IntN(10), r.Float64() * 2, r.NormFloat64() * 20, -r.IntN(2000), "1e999",
					"null"}[r.IntN(6)])
				out = append(out[:at+i:at+i], append([]byte(number), out[end:]...)...)
			}
		case 6:
			out = out[:at]
		case 7:
			if at < len(out) {
				out[at] = byte(r.IntN(256))
			}
		}
		if len(out) == 0 {
			return out
		}
	}
	return out
}

// checkParse reads a text; what is read must be written so that it reads the
// same, and an error must be one line fit to be shown.
func checkParse(t testing.TB, data []byte) (good bool) {
	t.Helper()
	d, err := parse("x.stone", data, presets.Builtin())
	if err != nil {
		text := err.Error()
		if !strings.HasPrefix(text, "x.stone: ") || strings.ContainsAny(text, "\n\x1b\x00") || len(text) > 1000 {
			t.Fatalf("%q gives the error %q", data, text)
		}
		return false
	}
	written := format(d.Stone)
	again, err := parse("x.stone", written, presets.Builtin())
	if err != nil {
		t.Fatalf("%q is written as %q, which gives %v", data, written, err)
	}
	if !again.Stone.Equal(d.Stone) || !bytes.Equal(format(again.Stone), written) {
		t.Fatalf("%q is written as %q, which is another stone", data, written)
	}
	return true
}

func TestMutatedFilesAreReadOrRefused(t *testing.T) {
	seeds := [][]byte{[]byte(sample), []byte(worked), format(parseSample(t).Stone)}
	for _, b := range badFiles {
		if b.old != sample {
			seeds = append(seeds, []byte(changed(t, b.old, b.put)))
		}
	}
	times, good, slowest := longOr(10_000, 1_000_000), 0, time.Duration(0)
	r := rand.New(rand.NewPCG(1, 2))
	for range times {
		seed := seeds[r.IntN(2)] // half the time from a sample itself
		if r.IntN(2) == 0 {
			seed = seeds[r.IntN(len(seeds))]
		}
		data := mutate(r, seed)
		slowest = max(slowest, stopwatch.Took(func() {
			if checkParse(t, data) {
				good++
			}
		}))
	}
	require.Greater(t, good, times/20, "too few are good to say that those read back")
	require.Less(t, good, times*9/10)
	require.Less(t, slowest, patience)
	t.Logf("%d files, %d of them good, the slowest took %v", times, good, slowest)
}

func FuzzParse(f *testing.F) {
	f.Add([]byte(sample))
	f.Add([]byte(worked))
	for _, b := range badFiles {
		if b.old == sample {
			f.Add([]byte(b.put))
		} else {
			f.Add([]byte(changed(f, b.old, b.put)))
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) { checkParse(t, data) })
}

// checkJournal reads a journal's bytes; what it tells must hold together.
func checkJournal(t testing.TB, data []byte) {
	t.Helper()
	st, err := readStory(data)
	if err != nil {
		return
	}
	if len(st.text) > 2*maxSize || len(st.sums) == 0 {
		t.Fatalf("%q tells %+v", data, st)
	}
	if doc, err := draft("x", st.text, presets.Builtin()); err == nil {
		if again, err := draft("x", format(doc.Stone), presets.Builtin()); err != nil || !again.Stone.Equal(doc.Stone) {
			t.Fatalf("%q is not written as it was read: %v", st.text, err)
		}
	}
}

// FuzzJournal changes what is behind the checksums, which a fuzzer can't hit.
func FuzzJournal(f *testing.F) {
	data, ends := journalBytes(f)
	from := 0
	for _, end := range ends {
		f.Add(string(data[from+9 : end-1]))
		from = end
	}
	f.Add(`{"kind":"start","format":"cabwright-journal-1","text":"","edits":-1}`)
	f.Add(`{"kind":"edit","seq":2,"at":-1,"cut":9223372036854775807,"put":"x"}`)
	f.Fuzz(func(t *testing.T, bodies string) {
		checkJournal(t, []byte(bodies))
		var sealed []byte
		sealed = append(sealed, data[:ends[0]]...)
		for _, body := range strings.Split(bodies, "\n") {
			sealed = append(sealed, seal([]byte(body+"\n"))...)
		}
		checkJournal(t, sealed)
		checkJournal(t, sealed[ends[0]:])
	})
}

// TestMutatedJournals is the same with changed bytes, sealed and not.
func TestMutatedJournals(t *testing.T) {
	data, ends := journalBytes(t)
	r := rand.New(rand.NewPCG(3, 4))
	times := longOr(2000, 200_000)
	for range times {
		checkJournal(t, mutate(r, data))
		var sealed []byte
		from := 0
		for _, end := range ends {
			body := data[from+9 : end]
			if r.IntN(2) == 0 {
				body = append(bytes.ReplaceAll(mutate(r, body), []byte("\n"), nil), '\n')
			}
			sealed = append(sealed, seal(body)...)
			from = end
		}
		checkJournal(t, sealed)
	}
	t.Logf("%d journals", 2*times)
}
