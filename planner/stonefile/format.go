package stonefile

import (
	"bytes"
	"encoding/json"
	"strconv"
	"strings"

	"cabwright/geometry"
	"cabwright/planner"
)

// wide is the number of characters after which a line is broken.
const wide = 120

// format returns the text of a stone file. The same stone gives the same text:
// keys in the contract's order, lists of points in as few lines of 120
// characters as hold them, unknown keys last in each object.
func format(s planner.Stone) []byte {
	var f fields
	f.add("format", quote(formatName))
	f.add("version", strconv.Itoa(version))
	f.add("name", quote(s.Name))
	f.add("material", quote(s.Material))
	if s.SG != 0 {
		f.add("sg", number(s.SG))
	}
	if s.ScaleCt != 0 {
		f.add("scale_ct", number(s.ScaleCt))
	}
	f.add("outline", points(s.Outline, 4))
	f.add("top", readings(s.Top))
	f.add("base", readings(s.Base))
	f.list("cracks", len(s.Cracks), func(i int) fields { return crackFields(s.Cracks[i]) })
	f.list("pockets", len(s.Pockets), func(i int) fields { return pocketFields(s.Pockets[i]) })
	f.list("colour", len(s.Colour), func(i int) fields { return zoneFields(s.Colour[i]) })
	f.add("allowances", allowanceFields(s.Allowances).object(2))
	f.list("cuts", len(s.Cuts), func(i int) fields { return cutFields(s.Cuts[i]) })
	if s.Cost != nil {
		f.add("cost", costFields(*s.Cost).object(2))
	}
	f.list("diary", len(s.Diary), func(i int) fields { return entryFields(s.Diary[i]) })
	f.unknown(s.Unknown)
	return []byte("{\n  " + strings.Join(f, ",\n  ") + "\n}\n")
}

func crackFields(k planner.Crack) fields {
	var f fields
	f.add("id", quote(k.ID))
	f.add("path", points(k.Path, 6))
	f.add("face", quote(string(k.Face)))
	if !k.Through {
		f.add("depth", number(k.Depth))
	}
	f.add("lean", number(k.Lean))
	f.add("toward", number(k.Toward))
	f.add("run_on", number(k.RunOn))
	f.add("sealed", strconv.FormatBool(k.Sealed))
	f.span("depth_range", k.DepthRange)
	f.span("run_on_range", k.RunOnRange)
	f.chance(k.Chance)
	f.unknown(k.Unknown)
	return f
}

func pocketFields(p planner.Pocket) fields {
	var f fields
	f.add("id", quote(p.ID))
	f.add("outline", points(p.Outline, 6))
	f.add("face", quote(string(p.Face)))
	if p.Depth != 0 || p.Face == planner.Top || p.Face == planner.Base {
		f.add("depth", number(p.Depth))
	}
	if p.Low != 0 || p.High != 0 || p.Face == planner.Inside {
		f.add("between", "["+number(p.Low)+", "+number(p.High)+"]")
	}
	f.span("depth_range", p.DepthRange)
	f.span("top_range", p.TopRange)
	f.span("bottom_range", p.BottomRange)
	f.chance(p.Chance)
	f.unknown(p.Unknown)
	return f
}

func zoneFields(z planner.Zone) fields {
	var f fields
	f.add("id", quote(z.ID))
	f.add("face", quote(string(z.Face)))
	f.add("outline", points(z.Outline, 6))
	f.add("grade", number(z.Grade))
	if z.Pattern != "" {
		f.add("pattern", quote(z.Pattern))
	}
	if z.Depth != 0 || z.OnSkin {
		f.add("depth", number(z.Depth))
	}
	f.unknown(z.Unknown)
	return f
}

func allowanceFields(a planner.Allowances) fields {
	var f fields
	f.add("skin", number(a.Skin))
	f.add("crack", number(a.Crack))
	f.add("sealed_crack", number(a.SealedCrack))
	f.add("pocket", number(a.Pocket))
	f.unknown(a.Unknown)
	return f
}

// fields are the written keys and values of one object.
type fields []string

func (f *fields) add(key, value string) { *f = append(*f, quote(key)+": "+value) }

func (f *fields) unknown(keys []planner.UnknownKey) {
	for _, k := range keys {
		f.add(k.Name, string(k.Value))
	}
}

// list adds a list of n objects, one or more lines each; none when n is 0.
func (f *fields) list(key string, n int, object func(i int) fields) {
	if n == 0 {
		return
	}
	items := make([]string, n)
	for i := range items {
		items[i] = object(i).object(4)
	}
	f.add(key, "[\n    "+strings.Join(items, ",\n    ")+"\n  ]")
}

// object writes the fields after one another, the first line indented already.
func (f fields) object(indent int) string { return "{" + wrap(f, indent+1) + "}" }

// wrap joins items by commas, breaking lines before they grow too wide.
func wrap(items []string, indent int) string {
	var b strings.Builder
	column := indent
	for i, item := range items {
		if i > 0 {
			b.WriteByte(',')
			if column+len(item)+2 > wide {
				b.WriteString("\n" + strings.Repeat(" ", indent))
				column = indent
			} else {
				b.WriteByte(' ')
				column += 2
			}
		}
		b.WriteString(item)
		if last := strings.LastIndexByte(item, '\n'); last >= 0 {
			column = len(item) - last
		} else {
			column += len(item)
		}
	}
	return b.String()
}

func points(list []geometry.Vec2, indent int) string {
	items := make([]string, len(list))
	for i, p := range list {
		items[i] = "[" + number(p.X) + ", " + number(p.Y) + "]"
	}
	return "[" + wrap(items, indent+10) + "]"
}

func readings(list []geometry.Vec3) string {
	items := make([]string, len(list))
	for i, p := range list {
		items[i] = "[" + number(p.X) + ", " + number(p.Y) + ", " + number(p.Z) + "]"
	}
	return "[" + wrap(items, 11) + "]"
}

// number writes the shortest decimal that reads back as v.
func number(v float64) string {
	if v == 0 {
		return "0" // not -0
	}
	if a := max(v, -v); a < 1e-6 || a >= 1e15 {
		return strconv.FormatFloat(v, 'g', -1, 64)
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// quote writes a text as JSON, its letters as they are.
func quote(s string) string {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(s); err != nil {
		panic(err) // a string always encodes
	}
	return strings.TrimSuffix(b.String(), "\n")
}
