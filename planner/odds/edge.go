package odds

// onEdge reports whether a place touches a mark so closely that whether it keeps clear is
// a matter of rounding, and its odds depend on it. A limit that is off by a step of the
// grid is as true as one can be; but a mark may be touched whatever its number, such as
// an inside pocket's firm bottom by a flat while its top is asked about: by a hair it
// always spoils the place or never. A place that was sought is to stand off such an edge.
func (j *Judge) onEdge(p Place) bool {
	for k := range j.questions {
		if j.touches(p, k) {
			return true
		}
	}
	return false
}

// touches is onEdge for one question.
func (j *Judge) touches(p Place, k int) bool {
	q, old, step := &j.questions[k], p.Limits[k].reaches, 1
	if q.What == There {
		step = 0 // there is no grid to be off by
	}
	strict, far := make([]reach, len(old)), false
	// One slice's run-on holds the one's before: what a longer one leaves clear by more
	// than a hair, a shorter one does.
	clear := -1
	for s := len(old) - 1; s >= 0; s-- {
		strict[s] = old[s]
		before := old[s].rung - step
		keeps := func(rung int) bool { return j.keeps(k, s, rung, p.Solid, p.Pose, -fine) }
		if before <= clear || keeps(before) {
			clear = max(clear, before)
			continue
		}
		far = true
		strict[s] = q.reachTo(q.find(hint{-1, before, before - 1}, keeps))
		clear = max(clear, strict[s].rung)
	}
	return far && q.limit(strict).Factor < p.Limits[k].Factor-closeEnough
}
