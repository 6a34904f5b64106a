package diary

import (
	"strings"

	"cabwright/planner"
	"cabwright/presets"
)

// treatment is a kind of treatment with the words that name it and what a buyer is
// told of it.
type treatment struct {
	words []string
	tell  string
}

// treatments follow the Guides for the Jewelry, Precious Metals, and Pewter
// Industries of the Federal Trade Commission: a treatment is disclosed when it is
// not permanent, calls for special care or changes a stone's value much (16 CFR
// 23.24). What each needs in care is common practice.
var treatments = []treatment{
	{[]string{"glue", "cyanoacrylate", "superglue", "epoxy", "adhesive", "sealed"},
		"This stone has been treated: cracks in it are filled with glue. " +
			"The filling may not be permanent: keep it from heat, hot water, solvents and ultrasonic cleaning."},
	{[]string{"fill", "filling", "filled", "resin", "polymer", "stabilised", "stabilized"},
		"This stone has been treated: it is filled with resin. " +
			"The filling may not be permanent: keep it from heat, solvents and ultrasonic cleaning."},
	{[]string{"dye", "dyed", "ink", "stain", "stained"},
		"This stone has been treated: its colour is dyed. Dye may fade in light and come off in water or solvents."},
	{[]string{"smoke", "smoked", "sugar", "carbon"},
		"This stone has been treated: its body is darkened with smoke or sugar. " +
			"The colour lies in the surface: it may wear and must not be repolished without saying so."},
	{[]string{"oil", "oiled", "wax", "waxed"},
		"This stone has been treated: it is oiled or waxed. " +
			"The effect may not be permanent: keep it from heat and detergents."},
	{[]string{"heat", "heated", "irradiated", "bleached", "coated", "coating", "diffusion"},
		"This stone has been treated by heat, irradiation, bleaching or coating, which changes its look."},
	{[]string{"backed", "backing", "doublet", "triplet", "assembled"},
		"This stone is assembled: it is glued to a backing or under a cap. Keep it out of water."},
}

// DisclosureSource names where the duty to disclose comes from.
const DisclosureSource = "16 CFR 23.24"

// hydrophaneCare is what a buyer of hydrophane opal needs to know (GIA Lab Notes,
// Fall 2013 and Spring 2016).
const hydrophaneCare = "Care: hydrophane opal takes up water, oil and perfume. " +
	"Wet, it turns clear and takes days to a week to come back; " +
	"soaking can crack it. Wipe it with a dry cloth and keep it out of water, soap and ultrasonic cleaning."

// Disclosures returns the sentences that a buyer must be told: one for each kind of
// treatment that the diary or a sealed crack tells of, and the care note of
// hydrophane opal. A treatment in words that are not known is told as it stands.
func Disclosures(s planner.Stone, material presets.Material) []string {
	var out []string
	told := map[string]bool{}
	say := func(text string) {
		if !told[text] {
			told[text] = true
			out = append(out, text)
		}
	}
	for _, k := range s.Cracks {
		if k.Sealed {
			say(treatments[0].tell)
		}
	}
	for _, text := range Treatments(s) {
		known := names([]string{"none", "untreated"}, text)
		for _, t := range treatments {
			if names(t.words, text) {
				say(t.tell)
				known = true
			}
		}
		if !known {
			say("This stone has been treated: " + text + ".")
		}
	}
	if strings.Contains(material.Key, "hydrophane") {
		say(hydrophaneCare)
	}
	return out
}

// Treatments returns what the diary records of treatments, each once, in order.
func Treatments(s planner.Stone) []string {
	var out []string
	seen := map[string]bool{}
	for _, e := range s.Diary {
		for _, t := range e.Treatments {
			t = strings.TrimSpace(t)
			if t != "" && !seen[strings.ToLower(t)] {
				seen[strings.ToLower(t)] = true
				out = append(out, t)
			}
		}
	}
	return out
}

// names reports whether a text holds one of the words.
func names(words []string, text string) bool {
	for _, field := range strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return r < 'a' || r > 'z' }) {
		for _, w := range words {
			if field == w {
				return true
			}
		}
	}
	return false
}
