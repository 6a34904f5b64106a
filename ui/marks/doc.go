// Package marks is view 2: cracks, pockets and colour zones, drawn on both faces
// of the rough side by side and picked from a list.
package marks
