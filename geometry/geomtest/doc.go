// Package geomtest helps the tests of the geometry: random shapes, and slow
// ways to the same answers that share nothing with the fast ones. Only tests
// import it.
package geomtest
