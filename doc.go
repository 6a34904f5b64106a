// Command cabwright plans the cuts on one piece of gem rough.
package main
