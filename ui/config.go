package ui

import (
	"os"
	"strings"

	"cabwright/presets"
	"cabwright/ui/style"
)

// Config is what the workbench is started with.
type Config struct {
	Path    string // the stone file; "" for a demo stone
	Plain   bool   // lines of text with numbered choices instead of a full screen
	Version string
	In, Out *os.File
	Getenv  func(string) string // nil: the process's environment

	Presets *presets.Set
	Search  Search
	Open    Open

	Colours style.Colours
	Ground  style.Ground
}

// utf8Locale reports whether a locale's name says UTF-8.
func utf8Locale(name string) bool {
	name = strings.ToLower(name)
	return strings.Contains(name, "utf-8") || strings.Contains(name, "utf8")
}
