// Package drawing draws one piece of rough and what is planned in it: the plan
// from above, the base as it is seen with the stone turned over, and cuts. It
// holds plain functions from a stone, its surfaces and a fit to a canvas; keys,
// colours and windows are the views' part.
//
// One rule runs through all of it: what lies on the face looked at is drawn
// solid or dashed, what lies deeper or is only likely is dotted.
package drawing
