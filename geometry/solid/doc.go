// Package solid describes the finished cabochon as a body: its upper side, its
// back, its volume, and points on its skin. The body is defined word for word
// in the project's stone and plan contract.
package solid
