// Package proofs is the branch and bound over the boxes of poses of one solid.
package proofs
