//go:build long

package ui

const events = 10_000
