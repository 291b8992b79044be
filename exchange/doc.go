// Package exchange hands a set of questions on by open standards: as the items of a
// package of 1EdTech QTI, and as a table of one question a row, in CSV or in a
// workbook.
//
// How QTI is written package qti decides; where the files go is left to the commands
// and pages.
package exchange
