// Package balance conserves atoms and charge, exactly.
//
// Its words: a law is the conservation of one element or of charge; a vector
// gives each species a signed whole number, negative on the left and positive
// on the right; the null space holds the vectors that keep every law; an
// elementary equation is one that uses as few species as possible, so that no
// other equation lies within it.
//
// The method is linear algebra over the whole numbers: common practice, no
// source; elementary equations by the tableau method for nonnegative
// solutions of homogeneous systems (J. Farkas, J. reine angew. Math. 124,
// 1–27, 1902), kept minimal by support.
//
// Guarantee: 64-bit integers while they fit, big integers after; never a
// rounded value. Which species take part, and whether the answer is
// chemistry, is left to package redox.
package balance
