// Package ui is the workbench: the root that knows the views, lays out the
// screen, routes keys and mouse, runs the search and keeps the work. Each view
// is a package of its own and knows nothing of the others; what they share is
// in package view. Nothing here reads a file or searches on the event loop.
package ui
