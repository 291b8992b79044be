// Package redox works a redox equation by half-reactions: from a skeleton
// equation and a medium to a solution in which every line has a rule, a reason
// and a ledger that closes.
//
// Its words: a change is an element that goes from one oxidation state to
// another; a half is the species tied together by elements that are oxidized,
// or reduced, together; a step is one line of the working.
//
// The method is the half-reaction method as textbooks teach it (OpenStax,
// Chemistry 2e, "Review of Redox Chemistry").
// The answer is found by exact algebra in package balance, the halves by the
// changes; that both agree is checked for every solution, and a solution whose
// ledger does not close is never returned.
//
// Drawing a solution is left to package document, whether the reaction goes to
// package energetics.
package redox
