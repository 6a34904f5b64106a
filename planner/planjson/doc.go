// Package planjson writes a plan as JSON for other programs, in the form the
// project promises them: the names and the order of the fields never change
// within a version. It writes to an io.Writer and touches nothing else.
package planjson
