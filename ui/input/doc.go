// Package input reads the terminal for the terminal library, which takes the end
// of each read for the end of a key: a mouse report cut in two by a full buffer
// would turn into keys nobody pressed. This reader hands over whole sequences
// only, and of a run of drags in one read only the last.
package input
