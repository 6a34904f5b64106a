package money

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestFiguresOfAFileAreKept(t *testing.T) {
	for _, bad := range []string{"", "-1", "+1", "1e3", ".5", "5.", "007", "1,5", "1 000", "NaN", "0x1",
		"1000000000000000", "1/3"} {
		_, err := ParseFigures(bad)
		require.ErrorIs(t, err, ErrFigures, bad)
	}
	a, err := ParseFigures("70.00")
	require.NoError(t, err)
	assert.Equal(t, "70.00", a.Figures())
	assert.Equal(t, "70", a.Plus(Amount{}).Figures(), "what was worked out has as many as it needs")
	assert.Equal(t, "0", Amount{}.Figures())
	// A tenth is no binary fraction: ten of them make 1 in figures alone.
	tenth, err := ParseFigures("0.10")
	require.NoError(t, err)
	sum := Amount{}
	for range 10 {
		sum = sum.Plus(tenth)
	}
	assert.Zero(t, sum.Compare(Of(1)))
}

// What is typed is kept in figures that a file can hold.
func TestTypedSumsHaveFiguresOfAFile(t *testing.T) {
	for typed, want := range map[string]string{"0": "0", "007": "7", "24,40": "24.40", "024.40": "24.40", "0,5": "0.5",
		"000": "0"} {
		a, err := Parse(typed)
		require.NoError(t, err)
		assert.Equal(t, want, a.Figures(), "%q", typed)
	}
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[0-9]{1,6}([.,][0-9]{1,6})?`).Draw(t, "typed")
		a, err := Parse(text)
		if err != nil {
			return // 2,232 can be read in two ways
		}
		again, err := ParseFigures(a.Figures())
		if err != nil || again.Compare(a) != 0 || again.Figures() != a.Figures() {
			t.Fatalf("%q: %q, %v", text, a.Figures(), err)
		}
	})
}
