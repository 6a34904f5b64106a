package planjson

import (
	"encoding/json"
	"fmt"
	"math"

	"cabwright/geometry"
	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
	"cabwright/planner"
	"cabwright/planner/search"
)

// Fit returns a fit as a plan prints it, for a diary to keep.
func Fit(rank int, f search.Fit) json.RawMessage {
	b := &builder{}
	b.value(fitOf(rank, f))
	if b.err != nil {
		return nil
	}
	return b.Bytes()
}

// Planned returns the fit that a stone was to become when its diary kept one last;
// nil when it never did.
func Planned(s planner.Stone) *search.Fit {
	for i := len(s.Diary) - 1; i >= 0; i-- {
		if s.Diary[i].Planned == nil {
			continue
		}
		if f, err := ReadFit(s.Diary[i].Planned); err == nil {
			return &f
		}
	}
	return nil
}

// readFit is what of a printed fit is taken back. Numbers that a program of
// another time did not print are pointers.
type readFit struct {
	Shape      string       `json:"shape"`
	Length     float64      `json:"length_mm"`
	Width      float64      `json:"width_mm"`
	Wall       float64      `json:"wall_mm"`
	WallLean   float64      `json:"wall_lean_deg"`
	Dome       float64      `json:"dome_mm"`
	Back       float64      `json:"back_mm"`
	Sides      int          `json:"sides"`
	DomeStyle  string       `json:"dome_style"`
	Face       string       `json:"face"`
	Outline    [][2]float64 `json:"outline_mm"`
	Origin     *[3]float64  `json:"origin_mm"`
	LengthAxis [3]float64   `json:"length_axis"`
	WidthAxis  [3]float64   `json:"width_axis"`
	DomeAxis   [3]float64   `json:"dome_axis"`
	Clearance  float64      `json:"clearance_mm"`
	LimitedBy  []string     `json:"limited_by"`
	Volume     float64      `json:"volume_mm3"`
	Carat      float64      `json:"carat"`
	CaratLow   *float64     `json:"carat_low"`
	CaratHigh  *float64     `json:"carat_high"`
	Colour     float64      `json:"colour_share"`
	Proved     bool         `json:"proved"`
}

// ReadFit takes back a fit that a plan printed. The error says what it lacks.
func ReadFit(text json.RawMessage) (search.Fit, error) {
	var r readFit
	if err := json.Unmarshal(text, &r); err != nil {
		return search.Fit{}, fmt.Errorf("the planned fit cannot be read: %w", err)
	}
	o, err := r.outline()
	if err != nil {
		return search.Fit{}, fmt.Errorf("the planned fit cannot be read: %w", err)
	}
	f := search.Fit{
		Candidate: search.Candidate{
			Solid: solid.Cabochon{Outline: o, Wall: r.Wall, WallLeanDeg: r.WallLean, Dome: r.Dome, Back: r.Back, Sides: r.Sides},
			Face:  planner.Face(r.Face), DomeStyle: r.DomeStyle,
		},
		Clearance: r.Clearance, LimitedBy: r.LimitedBy, Volume: r.Volume, Colour: r.Colour, Proved: r.Proved,
		Carat: r.Carat, CaratLow: r.Carat, CaratHigh: r.Carat,
	}
	if r.CaratLow != nil && r.CaratHigh != nil {
		f.CaratLow, f.CaratHigh = *r.CaratLow, *r.CaratHigh
	}
	if r.Origin != nil {
		f.Pose.Origin = vec(*r.Origin)
		f.Pose.Axes = geometry.Mat3{U: vec(r.LengthAxis), V: vec(r.WidthAxis), W: vec(r.DomeAxis)}
	}
	for _, v := range []float64{f.Carat, r.Wall, r.Dome, r.Back} {
		if !(v >= 0) || math.IsInf(v, 0) {
			return search.Fit{}, fmt.Errorf("the planned fit cannot be read: %v is no measure of a stone", v)
		}
	}
	return f, nil
}

func (r readFit) outline() (outline.Outline, error) {
	if len(r.Outline) == 0 {
		return outline.New(r.Shape, r.Length, r.Width)
	}
	var corners []geometry.Vec2
	for _, p := range r.Outline {
		corners = append(corners, geometry.Vec2{X: p[0], Y: p[1]})
	}
	return outline.Freeform(corners)
}

func vec(v [3]float64) geometry.Vec3 { return geometry.Vec3{X: v[0], Y: v[1], Z: v[2]} }
