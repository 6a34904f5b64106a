package presets

import "slices"

// The limits of what a row may say. Specific gravity: as in a stone file.
// Mohs: the scale itself. Lengths: up to the 1 m of a stone file. The shares
// are limits of sense: a dome higher than the stone is wide, or a back that
// takes all of the height, is a slip of the keyboard.
const (
	sgLow, sgHigh     = 0.5, 10
	mohsLow, mohsHigh = 1, 10
	tiny, metre       = 0.001, 1000
	domeHigh          = 1
	backHigh          = 0.8
	wallHigh          = 20
	leanHigh          = 45
	kerfHigh          = 10
	allowanceHigh     = 100
)

func (r *reader) cautions(file *fields) error {
	return r.rows(file, "cautions", func(f *fields) {
		r.set.Cautions = put(r.set.Cautions, Caution{
			Key: r.keyOf(f), General: f.flag("general"), Text: f.text("text"), Source: r.sourceOf(f),
		})
	})
}

func (r *reader) materials(file *fields) error {
	return r.rows(file, "materials", func(f *fields) {
		m := Material{Key: r.keyOf(f), Name: f.text("name")}
		sg := f.rising("sg", 3, sgLow, sgHigh)
		mohs := f.rising("mohs", 2, mohsLow, mohsHigh)
		m.SG = Range{sg[0], sg[1], sg[2]}
		m.MohsLow, m.MohsHigh = mohs[0], mohs[1]
		m.Porous = f.flag("porous")
		m.Sensitive = f.texts("sensitive")
		m.Cautions = f.texts("cautions")
		m.Source = r.sourceOf(f)
		for _, key := range m.Cautions {
			if _, ok := find(r.set.Cautions, key); !ok {
				f.fail("cautions", "there is no caution %q", key)
			}
		}
		r.set.Materials = put(r.set.Materials, m)
	})
}

// sizes reads the calibrated sizes. Which shapes there are is the built-in
// table's say; whether a curve can have these proportions is the outline's.
func (r *reader) sizes(file *fields) error {
	var known []string
	for _, s := range r.set.Sizes {
		if !slices.Contains(known, s.Shape) {
			known = append(known, s.Shape)
		}
	}
	return r.rows(file, "sizes", func(f *fields) {
		s := Size{
			Shape:  f.text("shape"),
			Length: f.number("length_mm", tiny, metre),
			Width:  f.number("width_mm", tiny, metre),
			Source: r.sourceOf(f),
		}
		if f.err == nil && len(known) > 0 && !slices.Contains(known, s.Shape) {
			f.fail("shape", "unknown outline %q: known are %v", s.Shape, known)
		}
		if f.err == nil && s.Length < s.Width {
			f.fail("length_mm", "%g is below the width %g: the length is the longer side", s.Length, s.Width)
		}
		if f.err == nil && s.Length != s.Width && (s.Shape == "round" || s.Shape == "square") {
			f.fail("length_mm", "%g: a %s is as long as it is wide, %g", s.Length, s.Shape, s.Width)
		}
		r.set.Sizes = putSize(r.set.Sizes, s)
	})
}

func putSize(table []Size, one Size) []Size {
	table = slices.Clone(table)
	for i, s := range table {
		if s.Shape == one.Shape && s.Length == one.Length && s.Width == one.Width {
			table[i] = one
			return table
		}
	}
	return append(table, one)
}

func (r *reader) domeStyles(file *fields) error {
	return r.rows(file, "dome_styles", func(f *fields) {
		r.set.DomeStyles = put(r.set.DomeStyles, DomeStyle{
			Key: r.keyOf(f), Name: f.text("name"),
			HeightByWidth: f.number("height_by_width", 0.01, domeHigh), Source: r.sourceOf(f),
		})
	})
}

func (r *reader) backStyles(file *fields) error {
	return r.rows(file, "back_styles", func(f *fields) {
		r.set.BackStyles = put(r.set.BackStyles, BackStyle{
			Key: r.keyOf(f), Name: f.text("name"),
			OfHeight: f.numberOr("of_height", 0, backHigh, 0), OfDome: f.numberOr("of_dome", 0, 2, 0),
			Source: r.sourceOf(f),
		})
	})
}

func (r *reader) walls(file *fields) error {
	return r.rows(file, "walls", func(f *fields) {
		r.set.Walls = put(r.set.Walls, Wall{
			Key: r.keyOf(f), Name: f.text("name"),
			Height: f.number("height_mm", 0, wallHigh), LeanDeg: f.number("lean_deg", 0, leanHigh),
			Source: r.sourceOf(f),
		})
	})
}

func (r *reader) saws(file *fields) error {
	return r.rows(file, "saws", func(f *fields) {
		r.set.Saws = put(r.set.Saws, Saw{
			Key: r.keyOf(f), Name: f.text("name"), Kerf: f.number("kerf_mm", 0, kerfHigh),
			Depth: f.numberOr("depth_mm", 0, metre, 0), Source: r.sourceOf(f),
		})
	})
}

func (r *reader) wheels(file *fields) error {
	return r.rows(file, "wheels", func(f *fields) {
		r.set.Wheels = put(r.set.Wheels, Wheel{
			Key: r.keyOf(f), Name: f.text("name"), Left: f.number("left_mm", 0, kerfHigh), Source: r.sourceOf(f),
		})
	})
}

// allowances reads the one row of distances; what is left out stays as it is.
func (r *reader) allowances(file *fields) error {
	return r.one(file, "allowances", func(f *fields) {
		a := r.set.Allowances
		a.Skin = f.numberOr("skin_mm", 0, allowanceHigh, a.Skin)
		a.Crack = f.numberOr("crack_mm", 0, allowanceHigh, a.Crack)
		a.SealedCrack = f.numberOr("sealed_crack_mm", 0, allowanceHigh, a.SealedCrack)
		a.Pocket = f.numberOr("pocket_mm", 0, allowanceHigh, a.Pocket)
		a.RunOn = f.numberOr("run_on_mm", 0, allowanceHigh, a.RunOn)
		a.Source = r.sourceOf(f)
		r.set.Allowances = a
	})
}

// defaults reads the one row of keys to take when nothing is said.
func (r *reader) defaults(file *fields) error {
	return r.one(file, "defaults", func(f *fields) {
		d := r.set.Defaults
		d.Material = f.textOr("material", d.Material)
		d.Wall = f.textOr("wall", d.Wall)
		d.Saw = f.textOr("saw", d.Saw)
		d.ScaleDivision = f.numberOr("scale_division_ct", 0.0001, 10, d.ScaleDivision)
		d.Source = r.sourceOf(f)
		r.set.Defaults = d
		for _, c := range []struct {
			name, key string
			known     bool
		}{
			{"material", d.Material, has(r.set.Materials, d.Material)},
			{"wall", d.Wall, has(r.set.Walls, d.Wall)},
			{"saw", d.Saw, has(r.set.Saws, d.Saw)},
		} {
			if !c.known {
				f.fail(c.name, "there is no %s %q", c.name, c.key)
			}
		}
	})
}

func has[R row](table []R, key string) bool {
	_, ok := find(table, key)
	return ok
}

// one reads a table that is a single row.
func (r *reader) one(file *fields, name string, read func(*fields)) error {
	file.known[name] = true
	raw, ok := file.raw[name]
	if !ok {
		return nil
	}
	f := newFields(name, raw)
	if f.err == nil {
		read(f)
	}
	if f.err == nil {
		r.note(f)
	}
	return f.err
}
