package main

import (
	"bufio"
	"os"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/uudashr/gocognit"
)

// A function is understood at one reading: its cognitive complexity (G. Ann
// Campbell, Cognitive Complexity, SonarSource 2018) is 25 at most.
func TestFunctionsStaySimple(t *testing.T) {
	const most = 25
	for _, s := range sources(t) {
		if s.test {
			continue
		}
		for _, f := range gocognit.ComplexityStats(s.file, s.set, nil) {
			assert.LessOrEqual(t, f.Complexity, most, s.path+" "+f.FuncName)
		}
	}
}

// Lines are read without scrolling: 120 columns at most, a tab counting as one. Tests
// may be wider: a row of a table stands on one line.
func TestLinesStayShort(t *testing.T) {
	const most = 120
	for _, s := range sources(t) {
		if s.test {
			continue
		}
		file, err := os.Open(s.path)
		require.NoError(t, err)
		scan := bufio.NewScanner(file)
		scan.Buffer(nil, 1<<20)
		for n := 1; scan.Scan(); n++ {
			if columns := utf8.RuneCountInString(scan.Text()); columns > most && !strings.Contains(scan.Text(), "http") {
				t.Errorf("%s:%d has %d columns", s.path, n, columns)
			}
		}
		require.NoError(t, scan.Err())
		require.NoError(t, file.Close())
	}
}
