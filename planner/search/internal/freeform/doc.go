// Package freeform looks for the freeform outline of greatest volume about a place.
package freeform
