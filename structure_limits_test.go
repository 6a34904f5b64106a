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
	// Still to be taken apart. One that has become simple must leave the list.
	over := map[string]bool{
		"geometry/field/blocks.go (*surface).nearest":    true,
		"planner/search/bound.go (*prober).bracket":      true,
		"planner/search/freeform.go (*freeform).improve": true,
		"planner/search/prove.go (*prober).prove":        true,
		"planner/search/pool.go (*prober).starts":        true,
	}
	for _, s := range sources(t) {
		if s.test {
			continue
		}
		for _, f := range gocognit.ComplexityStats(s.file, s.set, nil) {
			name := s.path + " " + f.FuncName
			if over[name] {
				assert.Greater(t, f.Complexity, most, "%s is simple now: take it off the list", name)
				continue
			}
			assert.LessOrEqual(t, f.Complexity, most, name)
		}
	}
}

// Lines are read without scrolling: 120 columns at most, a tab counting as one. Tests
// may be wider: a row of a table stands on one line.
func TestLinesStayShort(t *testing.T) {
	const most = 120
	// Still to be wrapped. A folder that has become clean must leave the list.
	wide := map[string]int{"planner/search": 0, "geometry/field": 0}
	for _, s := range sources(t) {
		if s.test {
			continue
		}
		file, err := os.Open(s.path)
		require.NoError(t, err)
		scan := bufio.NewScanner(file)
		scan.Buffer(nil, 1<<20)
		for n := 1; scan.Scan(); n++ {
			columns := utf8.RuneCountInString(scan.Text())
			switch _, known := wide[s.dir]; {
			case columns <= most || strings.Contains(scan.Text(), "http"):
			case known:
				wide[s.dir]++
			default:
				t.Errorf("%s:%d has %d columns", s.path, n, columns)
			}
		}
		require.NoError(t, scan.Err())
		require.NoError(t, file.Close())
	}
	for dir, lines := range wide {
		assert.Positive(t, lines, "%s has short lines now: take it off the list", dir)
	}
}
