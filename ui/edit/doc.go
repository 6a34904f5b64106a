// Package edit is how the hands work in a view that edits the stone in plan:
// selecting a thing and going to the next, finding the one nearest to the
// pointer, dragging, stepping with the arrow keys, setting points one after the
// other, and remembering which points are only as exact as a cell. The views say
// what their things are and how each is changed.
package edit
