package main

import (
	"bufio"
	"go/ast"
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

// Lines are read without scrolling: 120 columns at most, a tab counting as one. What a
// test quotes on several lines stands as it is: a stone's file, a screen.
func TestLinesStayShort(t *testing.T) {
	const most = 120
	for _, s := range sources(t) {
		quoted := quotedLines(s)
		file, err := os.Open(s.path)
		require.NoError(t, err)
		scan := bufio.NewScanner(file)
		scan.Buffer(nil, 1<<20)
		for n := 1; scan.Scan(); n++ {
			columns, address := utf8.RuneCountInString(scan.Text()), strings.Contains(scan.Text(), "http")
			if columns > most && !quoted[n] && !address {
				t.Errorf("%s:%d has %d columns", s.path, n, columns)
			}
		}
		require.NoError(t, scan.Err())
		require.NoError(t, file.Close())
	}
}

// quotedLines are the lines of a file that a literal of several lines runs over.
func quotedLines(s source) map[int]bool {
	lines := map[int]bool{}
	ast.Inspect(s.file, func(n ast.Node) bool {
		if text, ok := n.(*ast.BasicLit); ok {
			from, to := s.set.Position(text.Pos()).Line, s.set.Position(text.End()).Line
			for k := from; from < to && k <= to; k++ {
				lines[k] = true
			}
		}
		return true
	})
	return lines
}
