package planner

// Changed names what of two stones differs that a plan hangs on: the ids of
// marks, then "the outline", "the top", "the base", "the allowances" and "the
// specific gravity". What no fit depends on, such as the name, is left out.
func Changed(before, after Stone) []string {
	var out []string
	out = append(out, changedMarks(before.Cracks, after.Cracks, func(k Crack) string { return k.ID }, Crack.equal)...)
	out = append(out, changedMarks(before.Pockets, after.Pockets, func(p Pocket) string { return p.ID }, Pocket.equal)...)
	out = append(out, changedMarks(before.Colour, after.Colour, func(z Zone) string { return z.ID }, Zone.equal)...)
	gravity := before.SG == after.SG && before.Material == after.Material && before.ScaleCt == after.ScaleCt
	for _, part := range []struct {
		same bool
		name string
	}{
		{same(before.Outline, after.Outline), "the outline"},
		{same(before.Top, after.Top), "the top"},
		{same(before.Base, after.Base), "the base"},
		{before.Allowances.equal(after.Allowances), "the allowances"},
		{gravity, "the specific gravity"},
	} {
		if !part.same {
			out = append(out, part.name)
		}
	}
	return out
}

// changedMarks returns the ids of the marks that only one of two lists has, or
// that differ, those of the first list first.
func changedMarks[E any](before, after []E, id func(E) string, equal func(E, E) bool) []string {
	if shared(before, after) {
		return nil
	}
	later := map[string]E{}
	for _, e := range after {
		later[id(e)] = e
	}
	var out []string
	for _, e := range before {
		now, there := later[id(e)]
		if !there || !equal(e, now) {
			out = append(out, id(e))
		}
		delete(later, id(e))
	}
	for _, e := range after {
		if _, added := later[id(e)]; added {
			out = append(out, id(e))
		}
	}
	return out
}
