// Package question chooses and varies redox questions: from pairs of couples of
// the reference table, from a curated library of whole equations, and from a
// user's own lines, into sets and versions.
//
// Its words: a question is a skeleton with its medium and its proved answer; a
// feature is something that its working asks of a student; its difficulty is
// added up from the features of the worked solution, on a scale from 1 to 10; a
// wish says what a set should hold; an item is a question with what is asked of
// it; versions of a set differ in their species and agree in their features.
//
// The weights of the difficulty are the project's own judgement (common practice,
// no source); how far they agree with a teacher's ranking a test measures.
//
// The same seed gives the same set on every platform. How a set looks on paper is
// left to others, and so are files.
package question
