package planner

import (
	"encoding/json"

	"cabwright/geometry"
)

// Face names one of the two faces of the rough.
type Face string

// The faces, and the two further places a pocket can have.
const (
	Top     Face = "top"
	Base    Face = "base"
	Through Face = "through" // pockets only: the whole thickness
	Inside  Face = "inside"  // pockets only: between two heights
)

// UnknownKey is a key of a stone file that this version does not know. It is
// kept as it came and written back on saving.
type UnknownKey struct {
	Name  string
	Value json.RawMessage
}

// Stone is one piece of rough as the cutter has measured it: the in-memory
// form of a stone file. Lengths are millimetres, angles degrees, weights metric
// carats. Treat a Stone as a value: an edit replaces whole slices and never
// changes the elements of one, so that copies can share them.
type Stone struct {
	Name       string
	Material   string  // a material's key in presets
	SG         float64 // specific gravity; 0: take the material's typical one
	ScaleCt    float64 // weight on the scale; 0: not weighed
	Outline    []geometry.Vec2
	Top, Base  []geometry.Vec3 // readings of the two surfaces
	Cracks     []Crack
	Pockets    []Pocket
	Colour     []Zone
	Allowances Allowances
	Cuts       []Cut   // saw cuts placed by hand
	Cost       *Cost   // what it cost; nil: not said
	Diary      []Entry // in the order they were made, never changed
	Unknown    []UnknownKey
}

// Crack is a sheet that starts as a line on one face and runs into the stone.
type Crack struct {
	ID      string
	Path    []geometry.Vec2
	Face    Face    // Top or Base
	Through bool    // runs right through; Depth is not used
	Depth   float64 // measured straight down (or up) from the face
	Lean    float64 // from the vertical, 0 to 80 degrees
	Toward  float64 // compass direction of the lean, degrees counter-clockwise from +x
	RunOn   float64 // straight extension at both ends
	Sealed  bool    // filled with thin cyanoacrylate

	DepthRange, RunOnRange *Range   // nil: Depth and RunOn are sure
	Chance                 *float64 // that it is there at all, 0 to 1; nil: it is

	Unknown []UnknownKey
}

// Pocket is sand, clay or any hollow: a prism over an outline.
type Pocket struct {
	ID      string
	Outline []geometry.Vec2
	Face    Face    // Top, Base, Through or Inside
	Depth   float64 // from the face, for Top and Base
	Low     float64 // for Inside: the heights it lies between
	High    float64

	DepthRange            *Range   // of Depth, for Top and Base; nil: it is sure
	TopRange, BottomRange *Range   // of High and Low, for Inside; nil: sure
	Chance                *float64 // that it is there at all, 0 to 1; nil: it is

	Unknown []UnknownKey
}

// Zone is one play-of-colour seen on a face.
type Zone struct {
	ID      string
	Face    Face // Top or Base
	Outline []geometry.Vec2
	Grade   float64 // 0 (potch) to 5 (brilliant)
	Pattern string
	Depth   float64 // how far in the colour goes, from the face; 0: all the way through
	OnSkin  bool    // Depth is 0 as measured: colour on the skin alone
	Unknown []UnknownKey
}

// Allowances are the least distances in space that every point of a finished
// stone keeps from each kind of obstacle, in millimetres.
type Allowances struct {
	Skin, Crack, SealedCrack, Pocket float64
	Unknown                          []UnknownKey
}
