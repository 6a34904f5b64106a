// Package canvas is a grid of dots for drawing in a terminal: lines, hatched
// areas, marks and labels given in millimetres, to one scale in both
// directions. Each cell carries a class that says what it shows; a caller's
// paint function turns classes into colours. What may come in: rasters, strokes
// and text placing. Nothing in here knows of stones, colours or keys.
package canvas
