package keys

import (
	"slices"
	"strings"
)

// Search returns the actions in which every word of a query occurs, in their
// name, their other words, help or key. Those whose name begins with the query
// come first, then those with a word of the name that does, then those that go
// by another word for it, then the rest.
func Search(actions []Action, query string) []Action {
	words := strings.Fields(strings.ToLower(query))
	if len(words) == 0 {
		return slices.Clone(actions)
	}
	var ranked [4][]Action
	for _, a := range actions {
		if holdsAll(a, words) {
			r := rank(a, strings.Join(words, " "))
			ranked[r] = append(ranked[r], a)
		}
	}
	return slices.Concat(ranked[:]...)
}

func holdsAll(a Action, words []string) bool {
	text := strings.ToLower(strings.Join([]string{a.Name, a.Words, a.Help, strings.Join(labels(a.Keys), " ")}, " "))
	for _, w := range words {
		if !strings.Contains(text, w) {
			return false
		}
	}
	return true
}

// rank says how well an action is meant by a query in lower case: 0 is best.
func rank(a Action, query string) int {
	name := strings.ToLower(a.Name)
	switch {
	case strings.HasPrefix(name, query):
		return 0
	case strings.Contains(" "+name, " "+query):
		return 1
	case strings.Contains(" "+strings.ToLower(a.Words), " "+query):
		return 2
	}
	return 3
}
