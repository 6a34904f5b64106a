package cuts

// frees returns the ids of the cracks and pockets of which something lies in
// the piece before a cut and nothing in what is kept of it.
func (b *Body) frees(before, kept []half) []string {
	ids := []string{}
	for i := range b.sheets {
		if s := &b.sheets[i]; s.any(before) && !s.any(kept) {
			ids = append(ids, s.id)
		}
	}
	for i := range b.hollows {
		if p := &b.hollows[i]; p.any(before) && !p.any(kept) {
			ids = append(ids, p.id)
		}
	}
	return ids
}
