// Package keys holds what a user can do as data: each action has a name, keys,
// a line of help and what it does. The list of all actions, the bottom line and
// the plain dialogue are made from it, so none can say what the program does
// not do. Bindings are those of the bubbles library; what is our own here is
// what that library has no place for: an action that can't be done now is still
// found, and says why.
package keys
