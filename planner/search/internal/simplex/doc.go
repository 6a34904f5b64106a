// Package simplex solves the small linear programme that bounds a box of poses.
package simplex
