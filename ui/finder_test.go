package ui

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/require"

	"cabwright/ui/keys"
)

// What a cutter would call a thing finds it, whatever the program calls it.
func TestTheListFindsByMeaning(t *testing.T) {
	m := settled(t, "nodule.stone", 80, 24)
	for query, want := range map[string]string{
		"print": "summary", "help": "All actions", "legend": "Signs and colours", "leave": "Leave",
		"quit": "Leave", "exit": "Leave",
		"caliper": "calipers", "paste": "Table of readings", "unsure": "sure", "sand": "pocket", "settings": "details",
	} {
		found := keys.Search(m.everything(), query)
		require.NotEmpty(t, found, query)
		var names []string
		for _, a := range found {
			names = append(names, a.Name)
		}
		require.Contains(t, strings.Join(names, "; "), want, query)
	}
}

func TestF1AndCtrlPOpenTheListToo(t *testing.T) {
	for _, k := range []tea.KeyType{tea.KeyF1, tea.KeyCtrlP} {
		m := settled(t, "nodule.stone", 80, 24)
		m.Update(tea.KeyMsg{Type: k})
		require.NotNil(t, m.finder, k)
	}
}
