package marks

import (
	"cabwright/geometry"
	"cabwright/ui/edit"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

// leaves returns where a path first goes out of an outline; ok is false when it
// stays inside.
func leaves(path, outline []geometry.Vec2) (out geometry.Vec2, ok bool) {
	if len(outline) < 3 || len(path) == 0 {
		return geometry.Vec2{}, false
	}
	if !geometry.InPolygon(outline, path[0]) {
		return path[0], true
	}
	for i := 1; i < len(path); i++ {
		if hits := meets(path[i-1], path[i], outline); len(hits) > 0 {
			return hits[0], true
		}
	}
	return geometry.Vec2{}, false
}

// meets returns where the segment from a to b meets an outline, from a on.
func meets(a, b geometry.Vec2, outline []geometry.Vec2) []geometry.Vec2 {
	d := b.Sub(a)
	var ts []float64
	for i, p := range outline {
		q := outline[(i+1)%len(outline)]
		e, w := q.Sub(p), p.Sub(a)
		across := d.Cross(e)
		if across == 0 {
			continue
		}
		t, u := w.Cross(e)/across, w.Cross(d)/across
		if t > 0 && t < 1 && u >= 0 && u <= 1 {
			k := len(ts)
			for k > 0 && ts[k-1] > t {
				k--
			}
			ts = append(ts[:k], append([]float64{t}, ts[k:]...)...)
		}
	}
	out := make([]geometry.Vec2, len(ts))
	for i, t := range ts {
		out[i] = a.Add(d.Scale(t))
	}
	return out
}

// inside returns the longest piece of a path that lies inside an outline, nil
// when none does.
func inside(path, outline []geometry.Vec2) []geometry.Vec2 {
	var best, piece []geometry.Vec2
	longest := 0.0
	end := func() {
		length := 0.0
		for i := 1; i < len(piece); i++ {
			length += piece[i].Sub(piece[i-1]).Norm()
		}
		if length > longest {
			best, longest = piece, length
		}
		piece = nil
	}
	for i := 1; i < len(path); i++ {
		stops := append(append([]geometry.Vec2{path[i-1]}, meets(path[i-1], path[i], outline)...), path[i])
		for k := 1; k < len(stops); k++ {
			from, to := stops[k-1], stops[k]
			if !geometry.InPolygon(outline, from.Add(to).Scale(0.5)) {
				end()
				continue
			}
			if piece == nil {
				piece = append(piece, from)
			}
			piece = append(piece, to)
		}
	}
	end()
	return best
}

// warnLeaves says where a crack goes out of the stone, and what to do about it.
func (v *View) warnLeaves(s *view.State, t view.Selection) {
	if t.Kind != view.Crack {
		return
	}
	if p, out := leaves(points(s.Stone(), t), s.Stone().Outline); out {
		s.Say(
			style.Warn,
			"Crack %s leaves the outline at %s mm: x clips it, . and the arrows move its end.",
			id(s.Stone(), t),
			edit.At(p),
		)
	}
}

// clip cuts off what of a crack leaves the stone.
func (v *View) clip(s *view.State, t view.Selection) {
	path := points(s.Stone(), t)
	if _, out := leaves(path, s.Stone().Outline); !out {
		s.Say(style.Text, "Crack %s does not leave the outline.", id(s.Stone(), t))
		return
	}
	piece := inside(path, s.Stone().Outline)
	var kept []geometry.Vec2
	for _, p := range piece {
		if p = edit.Tidy(p); len(kept) == 0 ||
			p.Sub(kept[len(kept)-1]).Norm() > 0.001 { // closer than this the stone file calls them one spot
			kept = append(kept, p)
		}
	}
	if len(kept) < 2 {
		s.Say(style.Warn, "All of crack %s lies outside the stone: move it, or d deletes it.", id(s.Stone(), t))
		return
	}
	t.Point = -1
	if v.replace(s, t, kept, "Clip crack "+id(s.Stone(), t), s.Do) == nil {
		s.Selected = t
	}
}
