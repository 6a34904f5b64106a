// Package style says in which colour each kind of word and mark is shown, and
// of what colours the stone is painted. How a mark is drawn, so that none hangs
// on its colour alone, is the drawing's part.
package style
