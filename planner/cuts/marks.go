package cuts

import (
	"math"

	"cabwright/geometry"
)

// Mark is where a blade meets the rim of the rough, as it is scribed: measured
// from a corner along an edge, with a second measure that proves it. Corners
// count from 1 in the order of the stone's outline.
type Mark struct {
	From, To    int     // the edge's two corners
	Corner      int     // the one that is measured from
	Along       float64 // mm from it
	CheckCorner int
	Check       float64 // straight distance from the mark to that corner, mm
	At          geometry.Vec2
}

// mark describes the point at the share t along the edge from corner i.
func (b *Body) mark(edge int, t float64) Mark {
	outline := b.Stone.Outline
	n := len(outline)
	p, q := outline[edge], outline[(edge+1)%n]
	at := p.Add(q.Sub(p).Scale(t))
	m := Mark{From: edge + 1, To: (edge+1)%n + 1, Corner: edge + 1, Along: at.Sub(p).Norm(), At: at}
	if t > 0.5 {
		m.Corner, m.Along = m.To, at.Sub(q).Norm()
	}
	// A corner that is seen along the edge feels a slip along it most; one
	// nearer than a caliper's jaws are wide says little.
	along, best := q.Sub(p).Scale(1/q.Sub(p).Norm()), math.Inf(-1)
	for i, c := range outline {
		far := c.Sub(at)
		if i+1 == m.From || i+1 == m.To {
			continue
		}
		sensitivity := math.Abs(far.Dot(along)) / math.Max(far.Norm(), 1e-9)
		if far.Norm() < 4 {
			sensitivity -= 1
		}
		// Among those that feel it alike the nearest is the easiest to measure.
		if sensitivity -= far.Norm() / 400; sensitivity > best {
			best, m.CheckCorner, m.Check = sensitivity, i+1, far.Norm()
		}
	}
	return m
}

// marks returns where the blade goes in and out on the rim of the whole rough
// at the given height: the two ends of the part of its trace that the piece
// has most of. All cuts are scribed before the first one is made. A cut with
// no such trace, as one that runs level, has no marks.
func (b *Body) marks(c Cut, piece []half, height float64) []Mark {
	type crossing struct {
		mark  Mark
		along float64
	}
	trace := geometry.Vec2{X: -c.Normal.Y, Y: c.Normal.X}
	if trace.Norm() < 0.2 {
		return nil // nearer to level than to upright: its trace tells nothing
	}
	var met []crossing
	outline := b.Stone.Outline
	for i := range outline {
		for _, t := range b.crossEdge(c, i, height) {
			m := b.mark(i, t)
			met = append(met, crossing{m, trace.Dot(m.At)})
		}
	}
	if len(met) < 2 {
		return nil
	}
	var in, out *crossing
	most := math.Inf(-1)
	for i := range met {
		for j := range met {
			if met[j].along <= met[i].along+1e-6 ||
				b.gapBetween(met[i].along, met[j].along, func(k int) float64 { return met[k].along }, len(met)) {
				continue
			}
			if held := b.heldBetween(met[i].mark.At, met[j].mark.At, piece, height); held > most {
				most, in, out = held, &met[i], &met[j]
			}
		}
	}
	if in == nil {
		return nil
	}
	return []Mark{in.mark, out.mark}
}

// gapBetween tells whether another crossing lies between two.
func (b *Body) gapBetween(from, to float64, along func(int) float64, n int) bool {
	for k := range n {
		if a := along(k); a > from+1e-6 && a < to-1e-6 {
			return true
		}
	}
	return false
}

// heldBetween returns how much of the way between two points of the rim lies in
// the piece.
func (b *Body) heldBetween(p, q geometry.Vec2, piece []half, height float64) float64 {
	const parts = 40
	held := 0.0
	for k := 0; k < parts; k++ {
		at := p.Add(q.Sub(p).Scale((float64(k) + 0.5) / parts))
		if !geometry.InPolygon(b.Rough.Outline, at) {
			continue
		}
		inside := true
		for _, h := range piece {
			inside = inside && h.normal.Dot(geometry.Vec3{X: at.X, Y: at.Y, Z: height}) >= h.from
		}
		if inside {
			held += q.Sub(p).Norm() / parts
		}
	}
	return held
}

// crossEdge returns the shares along an edge at which the plane passes through
// the rim at the given height; where the rough is not solid at that height,
// at the nearest height at which it is.
func (b *Body) crossEdge(c Cut, edge int, height float64) []float64 {
	p, q := b.Stone.Outline[edge], b.Stone.Outline[(edge+1)%len(b.Stone.Outline)]
	over := func(t float64) float64 {
		at := p.Add(q.Sub(p).Scale(t))
		z := height
		if math.Abs(c.Normal.Z) >= upright {
			low, high := b.Rough.Base(at.X, at.Y), b.Rough.Top(at.X, at.Y)
			if z = math.Max(low, math.Min(high, height)); high < low {
				z = (low + high) / 2
			}
		}
		return c.Height(geometry.Vec3{X: at.X, Y: at.Y, Z: z})
	}
	parts := 1
	if math.Abs(c.Normal.Z) >= upright {
		parts = 16
	}
	var out []float64
	for k := range parts {
		t0, t1 := float64(k)/float64(parts), float64(k+1)/float64(parts)
		v0, v1 := over(t0), over(t1)
		if (v0 > 0) == (v1 > 0) {
			continue
		}
		for range 50 {
			if t := (t0 + t1) / 2; (over(t) > 0) == (v0 > 0) {
				t0 = t
			} else {
				t1 = t
			}
		}
		out = append(out, (t0+t1)/2)
	}
	return out
}
