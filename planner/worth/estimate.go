package worth

import (
	"math"

	"cabwright/planner"
	"cabwright/presets"
)

// Form is the shape of a piece of rough that is known only by three measures,
// from a photograph or a seller's words.
type Form struct {
	Name  string
	Share float64 // of the box of length x width x height
	About string
}

// Forms returns the forms a piece can have, with the exact share of the box that
// each body fills.
func Forms() []Form {
	return []Form{
		{"block", 1, "sawn on all sides"},
		{"slab", math.Pi / 4, "flat, with a round outline: an elliptic cylinder"},
		{"nodule", math.Pi / 6, "rounded all over: an ellipsoid"},
		{"domed", math.Pi / 6, "one flat side: half an ellipsoid"},
		{"ridged", 0.5, "a ridge along the length: a prism of triangles"},
		{"chip", 1.0 / 3, "pointed: a pyramid"},
	}
}

// sizeDoubt is the share by which each measure off a photograph may be wrong, to
// either side: half a millimetre in ten. A convention of our own; a typed doubt
// takes its place.
const sizeDoubt = 0.05

// SizeDoubt returns that share.
func SizeDoubt() float64 { return sizeDoubt }

// Estimate returns the carats of a piece of a form and of three measures in mm,
// as a band: every measure smaller by the doubt at the lowest specific gravity,
// as given at the typical one, every measure larger at the highest.
func Estimate(size [3]float64, f Form, sg presets.Range, doubt float64) planner.Band {
	box := size[0] * size[1] * size[2] * f.Share
	return planner.Band{
		Low:    planner.Carat(box*math.Pow(1-doubt, 3), sg.Low),
		Likely: planner.Carat(box, sg.Typical),
		High:   planner.Carat(box*math.Pow(1+doubt, 3), sg.High),
	}
}
