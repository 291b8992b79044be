// Package marking judges a student's working of a redox question by
// half-reactions: each line stands, follows, or slips, and the first slip is
// named with the numbers that show it.
//
// Its words: a statement is one equation of a line; its thread is the half, or
// the whole, that it is about; a rung is how far a half is balanced (other atoms,
// oxygen, hydrogen, charge); a line is true if it is right by itself, and follows
// if it is a legal move from the student's own earlier lines.
//
// A statement is kept twice: as two lists of terms, as written, and as one vector,
// right less left. Truth and following are judged on vectors, where cancelling is
// nothing, multiplying is a factor and adding is a sum; what was left uncombined
// or uncancelled is judged on the lists.
//
// The package is a pure function of question, text and scheme. Reading files,
// pages and tables of a class are left to others.
package marking
