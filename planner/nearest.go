package planner

import (
	"slices"
	"strings"
)

// Nearest returns the words that a mistyped one may stand for: those that begin
// with it, or else those fewest editDistance away, a third of its letters at most; none
// when nothing is near.
func Nearest(word string, known []string) []string {
	word = strings.ToLower(word)
	if len(word) > 2 {
		begun := slices.DeleteFunc(
			slices.Clone(known), func(k string) bool { return !strings.HasPrefix(strings.ToLower(k), word) },
		)
		if len(begun) > 0 {
			return begun
		}
	}
	least := max(1, len([]rune(word))/3)
	var near []string
	for _, k := range known {
		switch d := editDistance(word, strings.ToLower(k)); {
		case d < least:
			least, near = d, []string{k}
		case d == least:
			near = append(near, k)
		}
	}
	return near
}

// DidYouMean is the end of an error about a word that is not known: "; did you
// mean opal?", or "" when nothing is near.
func DidYouMean(word string, known []string) string {
	near := Nearest(word, known)
	if len(near) == 0 {
		return ""
	}
	return "; did you mean " + strings.Join(near, " or ") + "?"
}

// editDistance returns how many letters have to be changed, put in, taken out or swapped
// with the next one to make one word another (Damerau 1964; the restricted form,
// in which no letter is touched twice).
func editDistance(a, b string) int {
	x, y := []rune(a), []rune(b)
	rows := [3][]int{make([]int, len(y)+1), make([]int, len(y)+1), make([]int, len(y)+1)}
	before, last, now := rows[0], rows[1], rows[2]
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(x); i++ {
		now[0] = i
		for j := 1; j <= len(y); j++ {
			change := last[j-1]
			if x[i-1] != y[j-1] {
				change++
			}
			now[j] = min(change, last[j]+1, now[j-1]+1)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				now[j] = min(now[j], before[j-2]+1)
			}
		}
		before, last, now = last, now, before
	}
	return last[len(y)]
}
