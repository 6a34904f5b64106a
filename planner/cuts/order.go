package cuts

import (
	"slices"

	"cabwright/geometry"
)

// withTrims adds to parting cuts what frees and trims each stone. What frees
// without harm to another stone comes before everything else, on the whole
// rough: a crack that is off cannot run any more.
func (b *Body) withTrims(parts []Cut, fits []Placed, bench Bench) ([]Cut, []Placed) {
	var first, last []Cut
	own := make([][]Cut, len(fits))
	geometry.SideBySide(len(fits), func(i int) { own[i], _ = b.Trims(fits[i], parts, bench) })
	for i := range fits {
		var stay []Cut
		for _, c := range own[i] {
			if len(parts) > 0 && c.Kind == Free && b.harmless(c, fits, first) {
				first = append(first, c)
			} else {
				stay = append(stay, c)
			}
		}
		own[i] = stay
	}
	first = b.chain(first, "", nil)
	before := ""
	for range first {
		before += "-"
	}
	for i := range parts {
		parts[i].Piece = before + parts[i].Piece
	}
	for i := range fits {
		made := append(slices.Clone(first), parts...)
		fits[i].Piece = before + fits[i].Piece
		chain := b.chain(own[i], fits[i].Piece, made)
		last = append(last, chain...)
		for range chain {
			fits[i].Piece += "-"
		}
	}
	return append(append(first, parts...), last...), fits
}

// harmless tells whether a freeing cut through the whole rough leaves every
// stone on the kept side, its skin on, and runs into no open crack.
func (b *Body) harmless(c Cut, fits []Placed, made []Cut) bool {
	for _, f := range fits {
		if c.Room(f.Fit, -1, b.Stone.Allowances.Skin) < 0 {
			return false
		}
	}
	var sides []half
	for _, m := range made {
		sides = append(sides, m.side(-1))
	}
	for i := range b.sheets {
		if s := &b.sheets[i]; !s.sealed && s.meets(c, sides) {
			return false
		}
	}
	return true
}
