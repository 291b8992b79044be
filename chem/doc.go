// Package chem reads and prints elements, formulas, species and equations.
//
// A formula is the text of one kind of particle without its charge (Fe(CN)6);
// a species is a formula with its charge and, where it was given, its phase
// (Fe(CN)6^3-(aq)); a term is a species with its coefficient; an equation has
// terms on two sides. The electron is a species without atoms.
//
// What people type is read leniently and never silently: where the characters
// allow several readings (SO42-), all of them are returned, the likeliest
// first. What is printed by String is canonical and is read back as the same
// thing.
//
// The package knows no redox, no table of species and no balance: a reader
// that wants to prefer known species passes a Lexicon.
package chem
