package view

import "strings"

// pasts are the verbs that the names of edits begin with, and their past forms:
// the list of actions says what can be done, the status line what was done.
var pasts = map[string]string{
	"Add": "Added", "Bend": "Bent", "Change": "Changed", "Clip": "Clipped", "Delete": "Deleted",
	"Draw": "Drew", "Give": "Gave", "Look": "Looked",
	"Make": "Made", "Move": "Moved", "Place": "Placed", "Put": "Put", "Read": "Read",
	"Recover": "Recovered", "Scale": "Scaled", "Seal": "Sealed",
	"Set": "Set", "Split": "Split", "Start": "Started", "Suppose": "Supposed", "Take": "Took",
	"Tilt": "Tilted", "Turn": "Turned",
	"Write": "Wrote",
}

// done says that the edit of a name was made: "Moved corner 3, u undoes it.".
func done(name string) string {
	verb, rest, _ := strings.Cut(name, " ")
	if past, known := pasts[verb]; known {
		name = past + " " + rest
	}
	return name + ", u undoes it."
}
