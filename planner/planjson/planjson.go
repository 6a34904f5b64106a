package planjson

import (
	"bytes"
	"encoding/json"
	"io"
	"math"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/search"
)

// Rough is what the plan is headed with: the stone as it was weighed.
type Rough struct {
	Material string  // the key the plan was made with
	SG       float64 // the specific gravity that was used
	Volume   float64 // of the rough, mm3
}

type stone struct {
	Name     text      `json:"name"`
	Material text      `json:"material"`
	SG       exact     `json:"sg"`
	Volume   measured  `json:"volume_mm3"`
	ModelCt  measured  `json:"model_ct"`
	ScaleCt  *measured `json:"scale_ct"` // null: not weighed
}

type run struct {
	Sizes     int      `json:"sizes"`
	TiltMax   exact    `json:"tilt_max_deg"`
	Tolerance exact    `json:"tolerance_mm"`
	Seconds   measured `json:"seconds"`
}

type vec2 [2]exact
type vec3 [3]exact

type fit struct {
	Rank       int      `json:"rank"`
	Shape      text     `json:"shape"`
	Length     exact    `json:"length_mm"`
	Width      exact    `json:"width_mm"`
	Wall       exact    `json:"wall_mm"`
	WallLean   exact    `json:"wall_lean_deg"`
	Dome       exact    `json:"dome_mm"`
	Back       exact    `json:"back_mm"`
	Sides      int      `json:"sides"`
	DomeStyle  text     `json:"dome_style"`
	Face       text     `json:"face"`
	Outline    []vec2   `json:"outline_mm,omitempty"` // freeform only
	Origin     vec3     `json:"origin_mm"`
	LengthAxis vec3     `json:"length_axis"`
	WidthAxis  vec3     `json:"width_axis"`
	DomeAxis   vec3     `json:"dome_axis"`
	Clearance  measured `json:"clearance_mm"`
	LimitedBy  []text   `json:"limited_by"`
	Volume     measured `json:"volume_mm3"`
	Carat      measured `json:"carat"`
	CaratLow   measured `json:"carat_low"`
	CaratHigh  measured `json:"carat_high"`
	Colour     measured `json:"colour_share"`
	Proved     bool     `json:"proved"`
}

type ruledOut struct {
	Shape     text   `json:"shape"`
	Length    exact  `json:"length_mm"`
	Width     exact  `json:"width_mm"`
	Wall      exact  `json:"wall_mm"`
	WallLean  exact  `json:"wall_lean_deg"`
	Dome      exact  `json:"dome_mm"`
	Back      exact  `json:"back_mm"`
	Sides     int    `json:"sides"`
	DomeStyle text   `json:"dome_style"`
	Face      text   `json:"face"`
	Outline   []vec2 `json:"outline_mm,omitempty"`
	Below     *bound `json:"clearance_below_mm,omitempty"` // refused only
	// Between is for what is undecided: from the best pose known to the bound, null
	// where nothing is known.
	Between   []any  `json:"clearance_between_mm,omitempty"`
	LimitedBy []text `json:"limited_by"`
	Why       text   `json:"why,omitempty"` // undecided only
}

// Write writes the plan as one JSON object, a line for each fit, each size ruled
// out, and each size left undecided. Two runs of one search give the same bytes
// but for the seconds. More members follow in the order given.
func Write(w io.Writer, plan search.Plan, rough Rough, more ...Member) error {
	var fits, out, open []any
	for i, f := range plan.Fits {
		fits = append(fits, fitOf(i+1, f))
	}
	for _, r := range plan.RuledOut {
		if r.Verdict == search.CannotFit {
			out = append(out, ruledOutOf(r, ""))
		} else {
			open = append(open, ruledOutOf(r, WhyOpen(r, plan)))
		}
	}
	b := &builder{}
	b.raw("{\n  \"format\": \"cabwright-plan\", \"version\": 1,\n  \"stone\": ")
	b.value(head(plan.Stone, rough))
	b.raw(",\n  \"search\": ")
	b.value(run{
		Sizes: plan.Sizes, TiltMax: exact(plan.TiltMaxDeg), Tolerance: exact(plan.Tolerance),
		Seconds: measured(plan.Elapsed.Seconds()),
	})
	b.list("fits", fits)
	b.list("ruled_out", out)
	b.list("undecided", open)
	for _, m := range more {
		b.member(m)
	}
	b.raw("\n}\n")
	if b.err != nil {
		return b.err
	}
	_, err := w.Write(b.Bytes())
	return err
}

// head is the stone as it was weighed.
func head(s planner.Stone, rough Rough) stone {
	h := stone{
		Name: text(s.Name), Material: text(rough.Material), SG: exact(rough.SG),
		Volume: measured(rough.Volume), ModelCt: measured(planner.Carat(rough.Volume, rough.SG)),
	}
	if s.ScaleCt > 0 {
		ct := measured(s.ScaleCt)
		h.ScaleCt = &ct
	}
	return h
}

// WhyOpen says in a few words why a candidate is left undecided.
func WhyOpen(r search.RuledOut, plan search.Plan) string {
	switch {
	case plan.Stopped == search.Cancelled:
		return "the search was stopped"
	case r.Bound <= plan.Tolerance:
		return "within the tolerance"
	default:
		return "the search's budget was used up"
	}
}

func fitOf(rank int, f search.Fit) fit {
	c := f.Solid
	slack := poseSlack(c.Outline.Length, c.Outline.Width, c.Height())
	return fit{
		Rank: rank, Shape: text(c.Outline.Shape), Length: exact(c.Outline.Length), Width: exact(c.Outline.Width),
		Wall: exact(c.Wall), WallLean: exact(c.WallLeanDeg), Dome: exact(c.Dome), Back: exact(c.BackDepth()),
		Sides: c.Sides, DomeStyle: text(f.DomeStyle), Face: text(f.Face), Outline: polygon(c.Outline.Polygon),
		Origin: vector(f.Pose.Origin), LengthAxis: vector(f.Pose.Axes.U), WidthAxis: vector(f.Pose.Axes.V),
		DomeAxis: vector(f.Pose.Axes.W), Clearance: down(f.Clearance, slack), LimitedBy: texts(f.LimitedBy),
		Volume: measured(f.Volume), Carat: measured(f.Carat),
		CaratLow: measured(f.CaratLow), CaratHigh: measured(f.CaratHigh), Colour: measured(f.Colour), Proved: f.Proved,
	}
}

func ruledOutOf(r search.RuledOut, why string) ruledOut {
	c := r.Solid
	out := ruledOut{
		Shape: text(c.Outline.Shape), Length: exact(c.Outline.Length), Width: exact(c.Outline.Width),
		Wall: exact(c.Wall), WallLean: exact(c.WallLeanDeg), Dome: exact(c.Dome), Back: exact(c.BackDepth()),
		Sides: c.Sides, DomeStyle: text(r.DomeStyle), Face: text(r.Face), Outline: polygon(c.Outline.Polygon),
		LimitedBy: texts(r.LimitedBy), Why: text(why),
	}
	high := bound(r.Bound)
	if r.Verdict == search.CannotFit {
		out.Below = &high
		return out
	}
	var low any
	if r.Clearance < 0 {
		low = measured(math.Floor(r.Clearance*1e4) / 1e4)
	}
	out.Between = []any{low, high}
	return out
}

func vector(v geometry.Vec3) vec3 { return vec3{exact(v.X), exact(v.Y), exact(v.Z)} }

// polygon returns the corners without those that are printed like the one
// before: an edge of no length would have no direction for a reader.
func polygon(pts []geometry.Vec2) []vec2 {
	var out []vec2
	same := func(a, b vec2) bool {
		return bytes.Equal(decimal(float64(a[0]), exactDigits), decimal(float64(b[0]), exactDigits)) &&
			bytes.Equal(decimal(float64(a[1]), exactDigits), decimal(float64(b[1]), exactDigits))
	}
	for _, p := range pts {
		if q := (vec2{exact(p.X), exact(p.Y)}); len(out) == 0 || !same(q, out[len(out)-1]) {
			out = append(out, q)
		}
	}
	if n := len(out); n > 1 && same(out[0], out[n-1]) {
		out = out[:n-1]
	}
	return out
}

func texts(in []string) []text {
	out := make([]text, len(in))
	for i, s := range in {
		out[i] = text(s)
	}
	return out
}

// builder puts the object together, a line for each member of its lists.
type builder struct {
	bytes.Buffer
	err error
}

func (b *builder) raw(s string) { b.WriteString(s) }

func (b *builder) value(v any) {
	var buf bytes.Buffer
	enc := json.NewEncoder(&buf)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil && b.err == nil {
		b.err = err
	}
	b.Write(bytes.TrimRight(buf.Bytes(), "\n"))
}

func (b *builder) list(name string, items []any) {
	b.raw(",\n  \"" + name + "\": [")
	for i, item := range items {
		if i > 0 {
			b.raw(",")
		}
		b.raw("\n    ")
		b.value(item)
	}
	if len(items) > 0 {
		b.raw("\n  ")
	}
	b.raw("]")
}
