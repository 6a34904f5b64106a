package planner

import (
	"bytes"
	"slices"
)

// Equal reports whether two stones say the same, unknown keys included. Slices
// that the two share are not looked into.
func (s Stone) Equal(t Stone) bool {
	return s.Name == t.Name && s.Material == t.Material && s.SG == t.SG && s.ScaleCt == t.ScaleCt &&
		same(s.Outline, t.Outline) && same(s.Top, t.Top) && same(s.Base, t.Base) &&
		sameFunc(s.Cracks, t.Cracks, Crack.equal) && sameFunc(s.Pockets, t.Pockets, Pocket.equal) &&
		sameFunc(s.Colour, t.Colour, Zone.equal) &&
		s.Allowances.equal(t.Allowances) && sameFunc(s.Cuts, t.Cuts, Cut.equal) &&
		(s.Cost == t.Cost || s.Cost != nil && t.Cost != nil && s.Cost.equal(*t.Cost)) &&
		sameFunc(s.Diary, t.Diary, Entry.equal) && sameFunc(s.Unknown, t.Unknown, UnknownKey.equal)
}

func (k Crack) equal(o Crack) bool {
	return k.ID == o.ID && same(k.Path, o.Path) && k.Face == o.Face && k.Through == o.Through && k.Depth == o.Depth &&
		k.Lean == o.Lean && k.Toward == o.Toward && k.RunOn == o.RunOn && k.Sealed == o.Sealed &&
		sameAt(k.DepthRange, o.DepthRange) && sameAt(k.RunOnRange, o.RunOnRange) && sameAt(k.Chance, o.Chance) &&
		sameFunc(k.Unknown, o.Unknown, UnknownKey.equal)
}

func (p Pocket) equal(o Pocket) bool {
	return p.ID == o.ID && same(p.Outline, o.Outline) && p.Face == o.Face && p.Depth == o.Depth &&
		p.Low == o.Low && p.High == o.High && sameAt(p.DepthRange, o.DepthRange) && sameAt(p.TopRange, o.TopRange) &&
		sameAt(p.BottomRange, o.BottomRange) && sameAt(p.Chance, o.Chance) && sameFunc(p.Unknown, o.Unknown, UnknownKey.equal)
}

func (z Zone) equal(o Zone) bool {
	return z.ID == o.ID && z.Face == o.Face && same(z.Outline, o.Outline) && z.Grade == o.Grade &&
		z.Pattern == o.Pattern && z.Depth == o.Depth && z.OnSkin == o.OnSkin &&
		sameFunc(z.Unknown, o.Unknown, UnknownKey.equal)
}

func (a Allowances) equal(b Allowances) bool {
	return a.Skin == b.Skin && a.Crack == b.Crack && a.SealedCrack == b.SealedCrack && a.Pocket == b.Pocket &&
		sameFunc(a.Unknown, b.Unknown, UnknownKey.equal)
}

func (k Cut) equal(o Cut) bool {
	return k.ID == o.ID && k.Point == o.Point && k.Normal == o.Normal && k.Kerf == o.Kerf &&
		sameFunc(k.Unknown, o.Unknown, UnknownKey.equal)
}

func (k UnknownKey) equal(o UnknownKey) bool {
	return k.Name == o.Name && bytes.Equal(k.Value, o.Value)
}

func same[E comparable](a, b []E) bool { return shared(a, b) || slices.Equal(a, b) }

func sameFunc[E any](a, b []E, equal func(E, E) bool) bool {
	return shared(a, b) || slices.EqualFunc(a, b, equal)
}

// shared reports whether two slices are the same piece of memory.
func shared[E any](a, b []E) bool {
	return len(a) == len(b) && (len(a) == 0 || &a[0] == &b[0])
}
