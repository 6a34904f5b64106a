// Package stonefile reads and saves stone files, keeps the journal of edits
// beside them, and locks them. It is the only package of the planner that
// touches files. What may come in: whatever decides how bytes reach a disk and
// come back; nothing of what a stone means beyond its file.
package stonefile
