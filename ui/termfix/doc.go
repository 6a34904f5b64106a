// Package termfix keeps the program from asking the terminal for its colours.
//
// The terminal library asks for the background in an init function, even for
// --version, and a terminal that stays silent holds up the start by 5 seconds.
// An answer given beforehand stops the question. Go initialises packages in the
// order of their import paths as their dependencies allow (the Go Programming
// Language Specification, "Program initialization"), and this one's path sorts
// before the library's; for that alone it is a package of its own.
package termfix
