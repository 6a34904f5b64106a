// Package field measures how far a point keeps from obstacles: the outside of
// a body between two surfaces, thin sheets, and prisms, each with an allowance.
//
// The clearance D(p) is the least, over the obstacles, of the distance from p
// minus the allowance; inside an obstacle the distance counts as negative (or
// as zero for a sheet, which has no inside). Three kinds of answer are given,
// never mixed:
//
//   - Rows: linear upper bounds on D around a point. They are what a proof that
//     something cannot fit is built of, so each one is optimistic.
//   - Lower: a lower bound on D at a point, from the exact surfaces. It is what
//     a fit is accepted by, so it is pessimistic; near an obstacle that
//     bends gently it is exact to a few micrometres, deep inside strongly bent
//     surfaces it can be some tenths of a millimetre too low.
//   - Estimate and Slopes: neither bound holds, near D though they are. They show
//     a search the way; nothing is proved or accepted by them.
//
// Lengths are millimetres.
package field
