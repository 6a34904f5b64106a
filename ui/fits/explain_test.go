package fits

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"cabwright/planner"
)

// What holds a fit is said in words: kinds, names and the part of the skin.
func TestWhatHoldsAFitInWords(t *testing.T) {
	stone := planner.Stone{
		Cracks:  []planner.Crack{{ID: "C1"}, {ID: "C2"}},
		Pockets: []planner.Pocket{{ID: "P1"}, {ID: "P2"}, {ID: "P3"}},
	}
	for _, c := range []struct {
		by    []string
		where string
		want  string
	}{
		{nil, "", ""},
		{[]string{"skin"}, "", "the skin"},
		{[]string{"skin", "C1"}, "top", "the skin of the top, crack C1"},
		{[]string{"P1", "C2", "skin", "C1", "P2", "P3"}, "outline",
			"the skin at the outline, cracks C2 and C1, pockets P1, P2 and P3"},
		{[]string{"K1"}, "", "K1"},
	} {
		assert.Equal(t, c.want, limitSentence(stone, c.by, c.where))
	}
}
