package planner

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/text/currency"
)

// newer are the codes that came to ISO 4217 after the tables of CLDR 32 (2017),
// which golang.org/x/text carries, and replaced those that it has in their
// place: amendments 164 to 177, from memory.
var newer = map[string]bool{"MRU": true, "VES": true, "UYW": true, "VED": true, "SLE": true, "XCG": true, "ZWG": true, "XAD": true}

// older are those that they replaced, out of use since 2018.
var older = map[string]bool{"MRO": true, "VEF": true}

// golang.org/x/text/currency has the codes of CLDR: each that is legal tender
// there is known here, and each known here is known there.
func TestCurrencyCodesAreThoseOfAPublishedTable(t *testing.T) {
	for code := range currencyDigits {
		if _, err := currency.ParseISO(code); err != nil {
			assert.True(t, newer[code], code)
		}
	}
	tender := 0
	for it := currency.Query(); it.Next(); {
		code := it.Unit().String()
		if _, known := CurrencyDigits(code); !known && !older[code] {
			t.Errorf("%s, legal tender of %v, is missing", code, it.Region())
		}
		tender++
	}
	require.Greater(t, tender, 200)
}

func TestCurrencyDigits(t *testing.T) {
	for code, want := range map[string]int{"EUR": 2, "USD": 2, "AUD": 2, "JPY": 0, "KWD": 3, "CLF": 4} {
		got, known := CurrencyDigits(code)
		require.True(t, known)
		require.Equal(t, want, got, code)
	}
	for _, code := range []string{"", "eur", "EURO", "ZZZ", "€"} {
		_, known := CurrencyDigits(code)
		require.False(t, known, code)
	}
}
