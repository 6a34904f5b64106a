// Package bounds says how much clearance the poses of a box can have. For single poses it
// has the clearance as the samples see it, and the linear model that a climb follows.
//
// A bound is optimistic: what it rules out is ruled out. A value is an estimate.
package bounds
