package planner

import (
	"fmt"
	"math"
	"strings"

	"cabwright/geometry"
	"cabwright/presets"
)

// Form is the shape of a new stone's top.
type Form string

// The forms a new stone can have.
const (
	Domed  Form = "domed"  // highest in the middle, falling off all round
	Flat   Form = "flat"   // one level, as of a slab
	Ridged Form = "ridged" // a ridge along the length, falling off to both sides
)

// Forms lists the forms of a new stone's top.
func Forms() []Form { return []Form{Domed, Flat, Ridged} }

// How far the top falls from its highest point to the rim, as a share of the
// height: common practice for tumbled nodules is a rim of about half the height.
const rimFall = 0.45

// newCorners is the number of corners a new outline has: few enough to be moved
// one by one. An edge, not a corner, stands at each end of the length and the
// width, where calipers would touch.
const newCorners = 16

// NewStone returns a stone to start from: an oval outline of a length and a
// width, a level base at 0 and a top of a form that reaches the height, all in
// mm, with the readings a cutter would take: in the middle and part way out.
func NewStone(name, material string, size geometry.Vec3, form Form, set *presets.Set) (Stone, error) {
	for i, v := range []float64{size.X, size.Y, size.Z} {
		if !(v >= 0.1 && v <= maxReach) {
			return Stone{}, Problem{
				Place: [...]string{"length", "width", "height"}[i],
				What:  fmt.Sprintf("%v mm lies outside 0.1 to %v mm", v, maxReach),
			}
		}
	}
	keep := set.Allowances
	s := Stone{Name: name, Material: material,
		Allowances: Allowances{Skin: keep.Skin, Crack: keep.Crack, SealedCrack: keep.SealedCrack, Pocket: keep.Pocket}}
	a, b := size.X/2, size.Y/2
	for i := range newCorners {
		sin, cos := math.Sincos(2 * math.Pi * (float64(i) + 0.5) / newCorners)
		grow := 1 / math.Cos(math.Pi/newCorners)
		s.Outline = append(s.Outline, tidy2(geometry.Vec2{X: a * grow * cos, Y: b * grow * sin}))
	}
	height, err := topOf(form, size.Z)
	if err != nil {
		return Stone{}, err
	}
	for _, at := range []geometry.Vec2{{}, {X: -0.8}, {X: 0.8}, {Y: 0.8}, {Y: -0.8}} {
		spot := tidy2(geometry.Vec2{X: a * at.X, Y: b * at.Y})
		s.Top = append(s.Top, geometry.Vec3{X: spot.X, Y: spot.Y, Z: tidy(height(at))})
		s.Base = append(s.Base, geometry.Vec3{X: spot.X, Y: spot.Y, Z: 0})
	}
	if problems := Validate(s, set); len(problems) > 0 {
		return Stone{}, problems[0]
	}
	return s, nil
}

// topOf returns the height of the top at a place given in half lengths and half
// widths from the middle.
func topOf(form Form, height float64) (func(geometry.Vec2) float64, error) {
	switch form {
	case Domed:
		return func(p geometry.Vec2) float64 { return height * (1 - rimFall*p.Dot(p)) }, nil
	case Flat:
		return func(geometry.Vec2) float64 { return height }, nil
	case Ridged:
		return func(p geometry.Vec2) float64 { return height * (1 - rimFall*math.Abs(p.Y)) }, nil
	}
	var names []string
	for _, f := range Forms() {
		names = append(names, string(f))
	}
	return nil, Problem{
		Place: "form",
		What:  fmt.Sprintf("%q is none of %s", Visible(string(form)), strings.Join(names, ", ")),
	}
}
