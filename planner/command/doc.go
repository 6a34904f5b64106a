// Package command is the command line: what each command takes, does and prints.
// Results go to standard output, progress and messages to standard error. What
// may come in: flags, tables and messages; nothing that decides how a stone is
// read, weighed or searched.
package command
