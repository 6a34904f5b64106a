// Package canvas is a grid of dots for drawing in a terminal: lines, hatched
// areas, marks and labels given in millimetres, to one scale in both
// directions. Each cell carries a class that says what it shows; a caller's
// paint function turns classes into colours. The classes are named after what a
// stone's drawing is made of (an edge, a crack, a dome), but nothing in here knows
// how a stone is drawn, a colour or a key. What may come in: rasters, strokes and
// text placing.
package canvas
