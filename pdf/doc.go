// Package pdf writes documents (package document) as PDF: working sheets, keys,
// solutions and reports on pages of A4 or US Letter, and decks of slides.
//
// A leaf is what is never torn: a line of text, a step of a working, a row of a
// table. Leaves and groups of them (a question with what belongs to it, a
// section) are put on pages; what belongs together stays on one page where it
// fits. A mark is what a leaf draws in one place. A formula is set of runs
// (package chem): sub- and superscripts at 70 per cent, a charge behind its
// subscript, true minus signs; it is broken before its signs alone, and set
// smaller where it is wider than the page.
//
// A file is tagged (ISO 32000-1, 14.7 and 14.8): headings, lists, tables,
// formulas and figures are known as such, and a formula is read aloud in the
// words that the document has for it. Heads, feet and rules are decoration. The
// faces are STIX Two (folder fonts), embedded with the letters that are used.
//
// It leaves to others what the documents say (package document) and how the
// bytes of pages and fonts are written (codeberg.org/go-pdf/fpdf).
package pdf
