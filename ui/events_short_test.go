//go:build !long

package ui

// events is how many keys, clicks and sizes one random run takes; with the 100
// runs of a check 40,000 in all. With -tags long it is a million.
const events = 400
