// Package planner holds the craft: the stone and its defects as the cutter
// sees them, and every edit made to them, undoable by name. Its sub-packages
// do one job each: stonefile reads and saves (the only place that touches
// files), search finds and proves the best fits, command is the command line.
package planner
