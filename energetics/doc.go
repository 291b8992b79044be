// Package energetics says whether a reaction goes, and how strongly: potentials
// of half-reactions, the cell, free energies, equilibrium constants, and what
// happens at given concentrations and pH.
//
// Its words: a potential is that of a reduction against the standard hydrogen
// electrode at 25 °C, in volts; a way is how it was found (looked up, computed
// from free energies of formation, or combined from known couples by adding
// free energies, never volts); a verdict is what the sign and size of a cell's
// potential allow to be said. A potential is never invented: where a figure is
// missing the error names it.
//
// The relations are those of every textbook (OpenStax, Chemistry 2e, sections
// 17.3 and 17.4): dG = -n F E, log K = n F E / (R T ln 10), and the Nernst
// equation, with activities taken as concentrations in mol/L and pressures in bar.
//
// The figures are those of package reference, each with its source. How results
// look is left to packages document and diagram.
package energetics
