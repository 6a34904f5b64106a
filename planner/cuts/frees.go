package cuts

// frees returns the ids of the cracks and pockets of which something lies in
// the piece before a cut and nothing in what is kept of it.
func (b *Body) frees(before, kept []half) []string {
	ids := []string{}
	for i := range b.sheets {
		if b.any(&b.sheets[i], before) && !b.any(&b.sheets[i], kept) {
			ids = append(ids, b.sheets[i].id)
		}
	}
	for i := range b.Stone.Pockets {
		p := &b.Stone.Pockets[i]
		if len(b.pocketEnds(p, before).points) > 0 && len(b.pocketEnds(p, kept).points) == 0 {
			ids = append(ids, p.ID)
		}
	}
	return ids
}
