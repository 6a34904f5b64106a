package stonefile

import (
	"bytes"
	"fmt"
	"slices"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/presets"
)

// decoder turns the text of a stone file into a stone. It checks that each key
// holds the kind of value it should; whether the values make sense together is
// for planner.Validate.
type decoder struct {
	scanner
	set      *presets.Set // for what the file leaves out
	ends     map[int]int  // where a value at the top that is not known begins and ends
	warnings []planner.Warning
}

// topKeys and the others are the keys of each level, for hints.
var (
	topKeys = []string{
		"format", "version", "name", "material", "sg", "scale_ct", "outline", "top", "base", "cracks", "pockets", "colour",
		"allowances", "cuts", "cost", "diary",
	}
	crackKeys = []string{"id", "path", "face", "depth", "lean", "toward", "run_on", "sealed",
		"depth_range", "run_on_range", "chance"}
	pocketKeys = []string{"id", "outline", "face", "depth", "between",
		"depth_range", "top_range", "bottom_range", "chance"}
	zoneKeys      = []string{"id", "face", "outline", "grade", "pattern", "depth"}
	allowanceKeys = []string{"skin", "crack", "sealed_crack", "pocket"}
)

const (
	formatName = "cabwright-stone"
	version    = 1
)

// frame reads the whole text once for its syntax, for keys given twice and for
// the format, so that a file of a newer version is called that and nothing else.
func (d *decoder) frame() {
	var hasFormat, hasVersion bool
	d.ends = map[int]int{}
	d.object(func(key string) {
		switch key {
		case "format":
			hasFormat = true
			if name := d.text(); d.err == nil && name != formatName {
				d.fail("%s is not %q: no stone file", showKey(name), formatName)
			}
		case "version":
			hasVersion = true
			if v := d.number(); d.err == nil && v != version {
				d.wrongVersion(v)
			}
		default:
			d.peek()
			from := d.pos
			if d.value(); !slices.Contains(topKeys, key) {
				d.ends[from] = d.pos
			}
		}
	})
	d.end()
	switch {
	case d.err != nil:
	case !hasFormat:
		d.missing("format")
	case !hasVersion:
		d.missing("version")
	}
}

func (d *decoder) wrongVersion(v float64) {
	d.fail("unsupported version %v; this program reads %d", v, version)
}

// missing reports a key that should be in the object that was just read.
func (d *decoder) missing(key string) {
	if d.err == nil && d.down(step{key: key, index: -1}) {
		d.fail("missing")
		d.up()
	}
}

func (d *decoder) warn(format string, args ...any) {
	d.warnings = append(d.warnings, planner.Warning{Place: d.place(), What: fmt.Sprintf(format, args...)})
}

// unknown keeps a key that this version does not know.
func (d *decoder) unknown(key string, known []string) planner.UnknownKey {
	d.warn("key not known here: kept as it is%s", planner.DidYouMean(key, known))
	d.peek()
	from := d.pos
	if end, checked := d.ends[from]; checked {
		d.pos = end // what is long and unknown is not looked through again
	} else {
		d.value()
	}
	return planner.UnknownKey{Name: key, Value: bytes.Clone(d.data[from:d.pos])}
}

// empty is a stone with what the presets give for the keys that are left out.
func (d *decoder) empty() planner.Stone {
	keep := d.set.Allowances
	return planner.Stone{
		Material: d.set.Defaults.Material,
		Allowances: planner.Allowances{
			Skin:        keep.Skin,
			Crack:       keep.Crack,
			SealedCrack: keep.SealedCrack,
			Pocket:      keep.Pocket,
		},
	}
}

func (d *decoder) stone() planner.Stone {
	s := d.empty()
	d.object(func(key string) {
		switch key {
		case "format", "version":
			d.value()
		case "name":
			s.Name = d.text()
		case "material":
			s.Material = d.text()
		case "sg":
			if s.SG = d.number(); d.err == nil && s.SG == 0 {
				d.fail("0 lies outside 0.5 to 10")
			}
		case "scale_ct":
			s.ScaleCt = d.number()
		case "outline":
			s.Outline = d.points()
		case "top":
			s.Top = d.readings()
		case "base":
			s.Base = d.readings()
		case "cracks":
			d.list(planner.MaxMarks, "marks", func() { s.Cracks = append(s.Cracks, d.crack()) })
		case "pockets":
			d.list(planner.MaxMarks, "marks", func() { s.Pockets = append(s.Pockets, d.pocket()) })
		case "colour":
			d.list(planner.MaxMarks, "marks", func() { s.Colour = append(s.Colour, d.zone()) })
		case "allowances":
			d.allowances(&s.Allowances)
		case "cuts":
			d.list(planner.MaxCuts, "cuts", func() { s.Cuts = append(s.Cuts, d.cut()) })
		case "cost":
			s.Cost = d.cost()
		case "diary":
			s.Diary = d.diary()
		default:
			s.Unknown = append(s.Unknown, d.unknown(key, topKeys))
		}
	})
	if d.err == nil {
		d.nameMarks(&s)
	}
	return s
}

// list reads a list of objects and stops at once where there are too many.
func (d *decoder) list(most int, what string, each func()) {
	d.array(func(i int) {
		if i >= most {
			d.fail("more than %d %s", most, what)
			return
		}
		each()
	})
}

func (d *decoder) crack() planner.Crack {
	k := planner.Crack{Face: planner.Top, Through: true, RunOn: d.set.Allowances.RunOn}
	d.object(func(key string) {
		switch key {
		case "id":
			k.ID = d.text()
		case "path":
			k.Path = d.points()
		case "face":
			k.Face = planner.Face(d.text())
		case "depth":
			if !d.null() {
				k.Through, k.Depth = false, d.number()
			}
		case "lean":
			k.Lean = d.number()
		case "toward":
			k.Toward = d.number()
		case "run_on":
			k.RunOn = d.number()
		case "sealed":
			k.Sealed = d.boolean()
		case "depth_range":
			k.DepthRange = d.span()
		case "run_on_range":
			k.RunOnRange = d.span()
		case "chance":
			k.Chance = d.chance()
		default:
			k.Unknown = append(k.Unknown, d.unknown(key, crackKeys))
		}
	})
	return k
}

func (d *decoder) pocket() planner.Pocket {
	p := planner.Pocket{Face: planner.Top}
	var depth, between bool
	d.object(func(key string) {
		switch key {
		case "id":
			p.ID = d.text()
		case "outline":
			p.Outline = d.points()
		case "face":
			p.Face = planner.Face(d.text())
		case "depth":
			depth, p.Depth = true, d.number()
		case "between":
			between = true
			heights := d.numbers(2, "two heights")
			p.Low, p.High = heights[0], heights[1]
		case "depth_range":
			p.DepthRange = d.span()
		case "top_range":
			p.TopRange = d.span()
		case "bottom_range":
			p.BottomRange = d.span()
		case "chance":
			p.Chance = d.chance()
		default:
			p.Unknown = append(p.Unknown, d.unknown(key, pocketKeys))
		}
	})
	switch fromFace := p.Face == planner.Top || p.Face == planner.Base; {
	case fromFace && !depth:
		d.missing("depth")
	case p.Face == planner.Inside && !between:
		d.missing("between")
	}
	return p
}

func (d *decoder) zone() planner.Zone {
	z := planner.Zone{Face: planner.Top}
	var graded bool
	d.object(func(key string) {
		switch key {
		case "id":
			z.ID = d.text()
		case "face":
			z.Face = planner.Face(d.text())
		case "outline":
			z.Outline = d.points()
		case "grade":
			graded, z.Grade = true, d.number()
		case "pattern":
			z.Pattern = d.text()
		case "depth":
			if !d.null() {
				z.Depth = d.number()
				z.OnSkin = z.Depth == 0
			}
		default:
			z.Unknown = append(z.Unknown, d.unknown(key, zoneKeys))
		}
	})
	if !graded {
		d.missing("grade")
	}
	return z
}

func (d *decoder) allowances(a *planner.Allowances) {
	d.object(func(key string) {
		switch key {
		case "skin":
			a.Skin = d.number()
		case "crack":
			a.Crack = d.number()
		case "sealed_crack":
			a.SealedCrack = d.number()
		case "pocket":
			a.Pocket = d.number()
		default:
			a.Unknown = append(a.Unknown, d.unknown(key, allowanceKeys))
		}
	})
}

// points reads a list of [x, y].
func (d *decoder) points() (points []geometry.Vec2) {
	d.array(func(i int) {
		if i >= planner.MaxCorners {
			d.fail("more than %d corners", planner.MaxCorners)
			return
		}
		v := d.numbers(2, "[x, y]")
		points = append(points, geometry.Vec2{X: v[0], Y: v[1]})
	})
	return points
}

// readings reads a list of [x, y, z].
func (d *decoder) readings() (readings []geometry.Vec3) {
	d.array(func(i int) {
		if i >= planner.MaxReadings {
			d.fail("more than %d readings", planner.MaxReadings)
			return
		}
		v := d.numbers(3, "[x, y, z]")
		readings = append(readings, geometry.Vec3{X: v[0], Y: v[1], Z: v[2]})
	})
	return readings
}

// numbers reads a list of exactly n numbers.
func (d *decoder) numbers(n int, what string) (v [3]float64) {
	count := 0
	d.array(func(i int) {
		if i >= n {
			d.up() // the fault is the list's, not that of the number too many
			d.fail("should be %s, has more than %d numbers", what, n)
			d.down(step{index: i})
			return
		}
		v[i] = d.number()
		count++
	})
	if d.err == nil && count < n {
		d.fail("should be %s, has %d of %d numbers", what, count, n)
	}
	return v
}

// nameMarks gives each mark without an id the first free one, and says so.
func (d *decoder) nameMarks(s *planner.Stone) {
	used := planner.MarkIDs(*s)
	name := func(place string, i int, letter string, id *string) {
		if *id != "" {
			return
		}
		*id = planner.FreeID(used, letter)
		used[*id] = true
		d.warnings = append(d.warnings, planner.Warning{
			Place: fmt.Sprintf("%s[%d].id", place, i), What: "missing: called " + *id,
		})
	}
	for i := range s.Cracks {
		name("cracks", i, "C", &s.Cracks[i].ID)
	}
	for i := range s.Pockets {
		name("pockets", i, "P", &s.Pockets[i].ID)
	}
	for i := range s.Colour {
		name("colour", i, "Z", &s.Colour[i].ID)
	}
	for i := range s.Cuts {
		name("cuts", i, "K", &s.Cuts[i].ID)
	}
}
