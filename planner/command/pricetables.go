package command

import (
	"fmt"
	"strings"

	"cabwright/planner"
	"cabwright/presets"
)

// priceTable and roughPriceTable show the cutter's own prices.
var (
	priceTable = presetTable{
		name: "prices", about: "what finished stones bring a carat; all your own", member: "prices",
		count: func(s *presets.Set) int { return len(s.Prices) }, text: pricesText,
		rows: each(func(s *presets.Set) []presets.Price { return s.Prices }, func(p presets.Price) any {
			return priceRow{p.Name, p.Material, ends(p.Carat), ends(p.Grade), ends(p.Colour), p.Pattern, p.Sides, p.Face,
				[]float64{p.PerCarat.Low, p.PerCarat.Typical, p.PerCarat.High}, p.Currency, p.Source}
		}),
	}
	roughPriceTable = presetTable{
		name: "rough-prices", about: "what rough brings a carat; all your own", member: "rough_prices",
		count: func(s *presets.Set) int { return len(s.RoughPrices) }, text: roughPricesText,
		rows: each(func(s *presets.Set) []presets.RoughPrice { return s.RoughPrices }, func(p presets.RoughPrice) any {
			return roughPriceRow{
				p.Material,
				[]float64{p.PerCarat.Low, p.PerCarat.Typical, p.PerCarat.High},
				p.Currency,
				p.Source,
			}
		}),
	}
)

// The rows with the names that a presets file gives them.
type (
	priceRow struct {
		Name     string    `json:"name"`
		Material string    `json:"material,omitempty"`
		Carat    []float64 `json:"carat,omitempty"`
		Grade    []float64 `json:"grade,omitempty"`
		Colour   []float64 `json:"colour_share,omitempty"`
		Pattern  string    `json:"pattern,omitempty"`
		Sides    int       `json:"sides,omitempty"`
		Face     string    `json:"face,omitempty"`
		PerCarat []float64 `json:"per_carat"`
		Currency string    `json:"currency"`
		Source   string    `json:"source"`
	}
	roughPriceRow struct {
		Material string    `json:"material,omitempty"`
		PerCarat []float64 `json:"per_carat"`
		Currency string    `json:"currency"`
		Source   string    `json:"source"`
	}
)

// ends returns the two ends of a span, none when it holds everything.
func ends(s presets.Span) []float64 {
	if s == (presets.Span{}) {
		return nil
	}
	return []float64{s.Low, s.High}
}

// noPrices says how a price is added, when there is none.
const noPrices = "No prices yet: what a stone brings is yours to know. Rows go into the file\n" +
	"that 'cabwright presets' names; the README of the presets shows one.\n"

func pricesText(s *presets.Set) string {
	if len(s.Prices) == 0 {
		return noPrices
	}
	t := listing([]int{1}, "price", "a carat", "for", "source")
	for _, p := range s.Prices {
		t.add(
			planner.Visible(p.Name), span(p.PerCarat.Low, p.PerCarat.High)+" "+p.Currency, priceKind(p),
			planner.Visible(p.Source),
		)
	}
	return t.String()
}

// priceKind says which stones a price is for.
func priceKind(p presets.Price) string {
	var kind []string
	say := func(there bool, format string, args ...any) {
		if there {
			kind = append(kind, fmt.Sprintf(format, args...))
		}
	}
	say(p.Material != "", "%s", planner.Visible(p.Material))
	say(p.Carat != presets.Span{}, "%s ct", span(p.Carat.Low, p.Carat.High))
	say(p.Grade != presets.Span{}, "grade %s", span(p.Grade.Low, p.Grade.High))
	say(p.Colour != presets.Span{}, "%s%% colour", span(100*p.Colour.Low, 100*p.Colour.High))
	say(p.Pattern != "", "%s", planner.Visible(p.Pattern))
	say(p.Sides > 0, "%s", map[int]string{1: "flat back", 2: "domed back"}[p.Sides])
	say(p.Face != "", "%s up", p.Face)
	if len(kind) == 0 {
		return "any"
	}
	return strings.Join(kind, ", ")
}

func roughPricesText(s *presets.Set) string {
	if len(s.RoughPrices) == 0 {
		return noPrices
	}
	t := listing([]int{1}, "rough", "a carat", "source")
	for _, p := range s.RoughPrices {
		material := planner.Visible(p.Material)
		if material == "" {
			material = "any"
		}
		t.add(material, span(p.PerCarat.Low, p.PerCarat.High)+" "+p.Currency, planner.Visible(p.Source))
	}
	return t.String()
}
