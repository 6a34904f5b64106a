// Package fits is the view of what the stone still holds: the ranked list as it
// is found, the chosen fit drawn in the stone and nudged by hand, fits beside
// each other, and the reasons why others cannot fit. It searches nothing itself.
package fits
