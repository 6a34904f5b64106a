// Package diary keeps the story of one stone from the lot to the sale: the stages
// of the work, whether the stone is dry, what was found against what was thought,
// what an entry changed in the plan, and what a buyer must be told. What may come
// in: what one stone's entries say; no files, no searching, nothing of a screen.
package diary
