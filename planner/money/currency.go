package money

import (
	"slices"
	"strings"
	"sync"
)

// Currency is a currency by its code and by how finely it is paid in.
type Currency struct {
	Code   string // three capital letters, ISO 4217
	Digits int    // behind the decimal point: 2 for EUR, 0 for JPY, 3 for KWD
}

// None is the code of ISO 4217 for "no currency": what is meant when nobody has
// said which money it is.
const None = "XXX"

// codes are the codes of ISO 4217:2015, list one (active codes for currencies and
// funds, as published on 2026-01-01), by the minor unit given there.
var codes = map[int]string{
	0: "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF",
	2: "AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BMD BND BOB BOV BRL BSD BTN BWP BYN BZD CAD CDF " +
		"CHE CHF CHW CNY COP COU CRC CUP CVE CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD " +
		"GTQ GYD HKD HNL HTG HUF IDR ILS INR IRR JMD KES KGS KHR KPW KYD KZT LAK LBP LKR LRD LSL MAD MDL " +
		"MGA MKD MMK MNT MOP MRU MUR MVR MWK MXN MXV MYR MZN NAD NGN NIO NOK NPR NZD PAB PEN PGK PHP PKR " +
		"PLN QAR RON RSD RUB SAR SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP STN SVC SYP SZL THB TJS TMT TOP " +
		"TRY TTD TWD TZS UAH USD USN UYU UZS VED VES WST XAD XCD XCG YER ZAR ZMW ZWG",
	3: "BHD IQD JOD KWD LYD OMR TND",
	4: "CLF UYW",
}

// Codes without a minor unit in list one (metals, units of account, testing, no
// currency) and codes taken out of it since 2020, which old files may name (from
// memory). Both count hundredths, a convention of our own.
const (
	noMinorUnit = "XAG XAU XBA XBB XBC XBD XDR XPD XPT XSU XTS XUA XXX"
	withdrawn   = "ANG BGN CUC HRK SLL ZWL"
)

var table = sync.OnceValue(func() map[string]int {
	digits := map[string]int{}
	for n, list := range codes {
		for _, code := range strings.Fields(list) {
			digits[code] = n
		}
	}
	for _, code := range strings.Fields(noMinorUnit + " " + withdrawn) {
		digits[code] = 2
	}
	return digits
})

// Lookup returns the currency of a code, which is written in capitals.
func Lookup(code string) (Currency, bool) {
	digits, known := table()[code]
	return Currency{Code: code, Digits: digits}, known
}

// Codes returns all codes in the order of the alphabet.
func Codes() []string {
	var out []string
	for code := range table() {
		out = append(out, code)
	}
	slices.Sort(out)
	return out
}
