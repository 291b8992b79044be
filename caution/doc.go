// Package caution says what to beware of beside an equation that someone may
// try: the hazards of its substances, mixtures that must never be made, and
// toxic gases.
//
// A mixture is a row of the table of incompatible chemicals; a class is a set
// of species that such a row names in words (a chlorate, an acid, a metal
// powder), defined in classes.tsv. An equation with a mixture that explodes,
// burns, erupts or kills is for paper only: its advice then holds no word that
// helps to do it.
//
// All rows are from memory of classifications and of laboratory safety
// handbooks. Nothing found never means safe, and is never said so; local
// rules, the supplier's safety data sheet and a qualified person decide.
//
// The package looks at formulas, phases and what stands on one side. It knows
// no amounts and no temperatures; whether a reaction goes is decided
// elsewhere, and how the advice is set on a page is left to the caller:
// sentences are plain text with formulas as chem prints them.
package caution
