// Package section is the view of a cut through the stone: the line it runs
// along in plan, and what lies in it, stepped through the stone like slices.
package section
