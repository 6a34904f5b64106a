// Package certify bounds the clearance of one placed solid on the exact geometry: what
// a fit is accepted by, and what names the obstacles that limit it.
package certify
