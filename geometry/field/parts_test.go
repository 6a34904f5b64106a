package field

import "cabwright/geometry"

// each calls do with a lower bound of the clearance at p from every obstacle (exact
// below enough), in order of index.
func (f *Field) each(p geometry.Vec3, enough float64, do func(obstacle int, clearance float64)) {
	least := make([]float64, f.Obstacles())
	for k := range least {
		v := f.AroundOnly(k, p, 0, 1e300)
		c := v.Corner(p, enough)
		least[k] = v.Least(&c)
	}
	for k, d := range least {
		do(k, d)
	}
}

// prisms returns the prisms, in order.
func (f *Field) prisms() (out []*prism) {
	for _, q := range f.parts {
		if p, ok := q.obstacle.(*prism); ok {
			out = append(out, p)
		}
	}
	return out
}
