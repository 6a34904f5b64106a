package planner

import "strings"

// currencies are the codes of ISO 4217 (list one, and the amendments to 2025,
// from memory) by how many decimal figures their smallest unit has. Those that
// went out of use lately stay, for old bills.
var currencies = map[int]string{
	0: `BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF`,
	2: `AED AFN ALL AMD ANG AOA ARS AUD AWG AZN BAM BBD BDT BGN BMD BND BOB BOV BRL BSD BTN BWP BYN BZD
	    CAD CDF CHE CHF CHW CNY COP COU CRC CUC CUP CVE CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD
	    GTQ GYD HKD HNL HRK HTG HUF IDR ILS INR IRR JMD KES KGS KHR KPW KYD KZT LAK LBP LKR LRD LSL MAD MDL MGA MKD
	    MMK MNT MOP MRU MUR MVR MWK MXN MXV MYR MZN NAD NGN NIO NOK NPR NZD PAB PEN PGK PHP PKR PLN QAR RON RSD RUB
	    SAR SBD SCR SDG SEK SGD SHP SLE SLL SOS SRD SSP STN SVC SYP SZL THB TJS TMT TOP TRY TTD TWD TZS UAH USD USN
	    UYU UZS VED VES WST XAD XCD XCG YER ZAR ZMW ZWG ZWL`,
	3: `BHD IQD JOD KWD LYD OMR TND`,
	4: `CLF UYW`,
}

// currencyDigits is currencies the other way round.
var currencyDigits = func() map[string]int {
	out := map[string]int{}
	for digits, codes := range currencies {
		for _, code := range strings.Fields(codes) {
			out[code] = digits
		}
	}
	return out
}()

// CurrencyDigits returns how many decimal figures the smallest unit of a
// currency has (2 for EUR, 0 for JPY), and whether its code is one of ISO 4217.
func CurrencyDigits(code string) (digits int, known bool) {
	digits, known = currencyDigits[code]
	return digits, known
}
