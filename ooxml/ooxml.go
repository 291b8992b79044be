// Package ooxml writes a document as a file for a word processor (DOCX) and as
// slides (PPTX), so that an instructor can edit and restyle it.
//
// Both formats are those of ISO/IEC 29500, transitional: a ZIP archive (a
// package) of parts in XML that refer to each other by relationships. A DOCX has
// a style for everything that looks alike (Question, Equation, Ledger, Answer
// Line); a PPTX, which knows no styles, has an outline level for it: 1 prose,
// 2 an equation, 3 what is said about it, 4 a ledger, 5 a list. To change a
// style, or a level on the master, is to change all that it stands for.
//
// Formulas are runs of text with true sub- and superscripts, not pictures and
// not objects of an equation editor, so that they can be searched, copied and
// marked. The output depends on the document and the options alone: the same
// bytes at every run, without a date.
//
// What stands in a document, and in which words, is left to package document;
// a page that nobody will edit, to package pdf.
package ooxml

import (
	"errors"
	"fmt"
	"strings"

	"halves/document"
)

// A Paper is the size of a page.
type Paper uint8

// The sizes. A4 is that of ISO 216; Letter is 8.5 by 11 inches (ANSI/ASME Y14.1,
// size A).
const (
	A4 Paper = iota
	Letter
)

// Options are the ways of writing.
type Options struct {
	Paper Paper // of the pages, or of the printed notes of slides
}

// twips are the width and the height of a page in twentieths of a point.
func (p Paper) twips() (w, h int) {
	if p == Letter {
		return 12240, 15840
	}
	return 11906, 16838
}

const margin = 1134 // twips: 20 mm on each side

// textWidth is what a line of a page has, in twips.
func (p Paper) textWidth() int {
	w, _ := p.twips()
	return w - 2*margin
}

// Lengths: a twip is 635 EMU, a point 20 twips, a pixel of CSS 9525 EMU.
const (
	emuPerTwip  = 635
	emuPerPoint = 20 * emuPerTwip
	emuPerPixel = 9525
)

// mostLines is how many lines a space to write in may have: some twenty pages.
const mostLines = 500

// ErrNoDocument is returned where there is no document to write.
var ErrNoDocument = errors.New("there is no document to write")

// A SpaceError reports a space to write in that is larger than a file can hold
// with sense.
type SpaceError struct {
	Block int // its place among the blocks of the document, from 0
	Lines int
}

func (e *SpaceError) Error() string {
	return fmt.Sprintf("block %d: a space to write in has %d lines; at most %d can be ruled", e.Block+1, e.Lines, mostLines)
}

// check finds what cannot be written before anything is.
func check(d *document.Document) error {
	if d == nil {
		return ErrNoDocument
	}
	for i, b := range d.Blocks {
		if s, ok := b.(document.Space); ok && s.Lines > mostLines {
			return &SpaceError{i, s.Lines}
		}
	}
	return nil
}

// tag returns the language of d as a tag of BCP 47.
func tag(d *document.Document) string {
	var m markup
	m.text(d.Language)
	if s := strings.TrimSpace(string(m)); s != "" {
		return s
	}
	return "en"
}

// proofing returns the language that spelling is checked in. English needs a
// country there, and the size of the paper is the only thing that tells one.
func proofing(d *document.Document, p Paper) string {
	switch t := tag(d); {
	case t != "en":
		return t
	case p == Letter:
		return "en-US"
	}
	return "en-GB"
}

// nameOf is what a window or a list of files calls the document: its title, or
// the first heading.
func nameOf(d *document.Document) string {
	texts := []document.Inline{d.Title}
	for _, b := range d.Blocks {
		switch b := b.(type) {
		case document.Heading:
			texts = append(texts, b.Text)
		case document.Slide:
			texts = append(texts, b.Title)
		}
	}
	for _, t := range texts {
		if s := plain(t); s != "" {
			return s
		}
	}
	return "Working"
}

// plain writes a text in plain characters, "" where there is nothing to see.
func plain(t document.Inline) string {
	return strings.TrimSpace((&document.Document{Title: t}).PlainTitle())
}
