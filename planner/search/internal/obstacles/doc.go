// Package obstacles turns a stone into the field that is searched: the one step from
// cracks, pockets and saw cuts to sheets, prisms and half-spaces.
package obstacles
