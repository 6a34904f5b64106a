package planner

// Changed names what of two stones differs that a plan hangs on: the ids of
// marks, then "the outline", "the top", "the base", "the allowances" and "the
// specific gravity". What no fit depends on is left out, such as the name, or how sure
// a mark's likely size is.
func Changed(before, after Stone) []string {
	var out []string
	out = append(out, changedMarks(before.Cracks, after.Cracks, func(k Crack) string { return k.ID }, Crack.alike)...)
	out = append(out, changedMarks(before.Pockets, after.Pockets, func(p Pocket) string { return p.ID }, Pocket.alike)...)
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

// alike reports whether two cracks are most likely the same.
func (k Crack) alike(o Crack) bool {
	k.DepthRange, k.RunOnRange, k.Chance = o.DepthRange, o.RunOnRange, o.Chance
	return k.equal(o)
}

// alike reports whether two pockets are most likely the same.
func (p Pocket) alike(o Pocket) bool {
	p.DepthRange, p.TopRange, p.BottomRange, p.Chance = o.DepthRange, o.TopRange, o.BottomRange, o.Chance
	return p.equal(o)
}
