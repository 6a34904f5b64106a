// Package diaryview is the view of a stone's diary: its entries from the lot to the
// sale, each with the stone as it was then, one alone or two beside each other, and
// what each changed. What may come in: how that is shown and asked for; what an
// entry does to a stone is the planner's.
package diaryview
