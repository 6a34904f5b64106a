//go:build long

package stonefile

// longOr returns the first number, and with the build tag long the second.
func longOr(_, long int) int { return long }
