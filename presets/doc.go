// Package presets holds the tables a plan starts from: materials, calibrated
// sizes, dome and back styles, walls, saws, wheels, and the distances kept
// from defects. Every row says where its figures come from. The package is
// data and the structs it fills; it knows nothing of outlines or stones.
//
// # Adding a row
//
// The built-in rows are in builtin/*.json, one row a line. A cutter's own go
// into presets.json in the folder cabwright of the configuration folder
// (normally ~/.config/cabwright/presets.json), in the same form; README.md
// here shows one of each kind.
//
// A new kind of outline is a curve of its own: it needs a file in
// geometry/outline before a size can name it.
package presets
