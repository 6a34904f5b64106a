// Package search answers, for one stone, which finished cabochons it still
// holds: for every preset solid, on both faces, turned and tilted, it either
// finds a pose that keeps every allowance, or proves that there is none.
package search
