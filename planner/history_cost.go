package planner

import "unsafe"

// ownBytes estimates the memory in bytes that a stone holds and its
// predecessor does not.
func ownBytes(s, before Stone) int {
	n := int(unsafe.Sizeof(step{})) + ownText(s.Name, before.Name) + ownText(s.Material, before.Material)
	n += ownSlice(s.Outline, before.Outline) + ownSlice(s.Top, before.Top) + ownSlice(s.Base, before.Base)
	n += ownUnknown(s.Unknown, before.Unknown) + ownUnknown(s.Allowances.Unknown, before.Allowances.Unknown)
	if !shared(s.Cracks, before.Cracks) {
		n += ownSlice(s.Cracks, nil)
		for i, k := range s.Cracks {
			old := markBefore(before.Cracks, i, s.Cracks)
			n += ownSlice(k.Path, old.Path) + ownUnknown(k.Unknown, old.Unknown)
		}
	}
	if !shared(s.Pockets, before.Pockets) {
		n += ownSlice(s.Pockets, nil)
		for i, p := range s.Pockets {
			old := markBefore(before.Pockets, i, s.Pockets)
			n += ownSlice(p.Outline, old.Outline) + ownUnknown(p.Unknown, old.Unknown)
		}
	}
	if !shared(s.Colour, before.Colour) {
		n += ownSlice(s.Colour, nil)
		for i, z := range s.Colour {
			old := markBefore(before.Colour, i, s.Colour)
			n += ownSlice(z.Outline, old.Outline) + ownUnknown(z.Unknown, old.Unknown)
		}
	}
	n += ownSlice(s.Cuts, before.Cuts) + ownSlice(s.Diary, before.Diary)
	if !shared(s.Cuts, before.Cuts) {
		for i, k := range s.Cuts {
			n += ownUnknown(k.Unknown, markBefore(before.Cuts, i, s.Cuts).Unknown)
		}
	}
	if s.Cost != nil && s.Cost != before.Cost {
		n += int(unsafe.Sizeof(Cost{}) + unsafe.Sizeof(Lot{}))
	}
	for _, e := range s.Diary[min(len(before.Diary), len(s.Diary)):] {
		n += len(e.Note) + len(e.Planned) + len(e.Stone) + ownUnknown(e.Unknown, nil)
	}
	return n
}

// markBefore returns the mark that stood where mark i of the new list came from: an
// edit adds, changes or takes away one, so that counting from the end serves
// behind a mark that went.
func markBefore[E any](old []E, i int, now []E) E {
	if j := i + len(old) - len(now); len(old) > len(now) && j < len(old) {
		i = j
	}
	if i < len(old) {
		return old[i]
	}
	var none E
	return none
}

func ownSlice[E any](s, before []E) int {
	if shared(s, before) {
		return 0
	}
	var e E
	return cap(s) * int(unsafe.Sizeof(e))
}

func ownText(s, before string) int {
	if s == before {
		return 0
	}
	return len(s)
}

func ownUnknown(s, before []UnknownKey) int {
	if shared(s, before) {
		return 0
	}
	n := ownSlice(s, nil)
	for _, k := range s {
		n += len(k.Name) + len(k.Value)
	}
	return n
}
