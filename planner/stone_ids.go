package planner

import "strconv"

// MarkIDs returns the ids of all marks and cuts of a stone.
func MarkIDs(s Stone) map[string]bool {
	ids := make(map[string]bool, len(s.Cracks)+len(s.Pockets)+len(s.Colour)+len(s.Cuts))
	for _, k := range s.Cracks {
		ids[k.ID] = true
	}
	for _, p := range s.Pockets {
		ids[p.ID] = true
	}
	for _, z := range s.Colour {
		ids[z.ID] = true
	}
	for _, k := range s.Cuts {
		ids[k.ID] = true
	}
	return ids
}

// FreeID returns the first of C1, C2, ... (for the letter C) that is not used.
func FreeID(used map[string]bool, letter string) string {
	for n := 1; ; n++ {
		if id := letter + strconv.Itoa(n); !used[id] {
			return id
		}
	}
}
