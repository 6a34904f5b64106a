// Package widget is what the workbench asks with: a line to type into, a form of
// such lines that takes what cutters type ("0,4", "400um", "1/64in", "2-5") and
// says what it understood, and the searchable list of actions. The line itself
// is the text input of the bubbles library; reading units, keeping a wrong text
// with what is wrong beside it, and searching actions are our own.
package widget
