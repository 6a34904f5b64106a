// Package outlineview is view 1: the rough's outline and the heights read on its
// two faces, drawn, moved, typed and measured.
package outlineview
