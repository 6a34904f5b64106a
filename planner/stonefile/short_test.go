//go:build !long

package stonefile

// longOr returns the first number, and with the build tag long the second.
func longOr(short, _ int) int { return short }
