// Package view is what the views of the workbench share: the interface each of
// them meets, and the state they work on together. To add a view, write a type
// that meets View in a package of its own and name it in the root's list.
package view
