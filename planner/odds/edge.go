package odds

// onEdge reports whether a place touches a mark so closely that whether it keeps clear is
// a matter of rounding, and its odds depend on it. A limit that is off by a step of the
// grid is as true as one can be; but a mark may be touched whatever its number, such as
// an inside pocket's firm bottom by a flat while its top is asked about: by a hair it
// always spoils the place or never. A place that was sought is to stand off such an edge.
func (j *Judge) onEdge(p Place) bool {
	for k, q := range j.questions {
		strict, far := make([]reach, len(q.slices)), false
		for s, r := range p.Limits[k].reaches {
			h := hint{-1, r.rung + 1, r.rung}
			keeps := func(rung int) bool { return j.keeps(k, s, rung, p.Solid, p.Pose, -fine) }
			strict[s] = q.reachTo(q.find(h, keeps))
			far = far || strict[s].rung < r.rung-1
		}
		if far && q.limit(strict).Factor < p.Limits[k].Factor-closeEnough {
			return true
		}
	}
	return false
}
