// Package searchtest has what the tests of the search and of its parts share: stones,
// fields and slow twins. Nothing else imports it.
package searchtest
