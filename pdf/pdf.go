package pdf

import (
	"errors"
	"io"
	"iter"
	"slices"

	"halves/document"
)

// Options are the ways of writing PDF.
type Options struct {
	Paper Paper // of pages that are not slides
	// Title is the name of the file's content; "" is the name of the first
	// document.
	Title string
	// BothSides begins each document on the front of a sheet, so that a stack
	// printed on both sides comes apart: an empty page follows one that ends on a
	// front.
	BothSides bool
}

// ErrNone is the error where there is no document to write.
var ErrNone = errors.New("there is no document to write")

// Write writes documents one after the other as one file; see WriteAll.
func Write(w io.Writer, o Options, docs ...*document.Document) error {
	return WriteAll(w, o, slices.Values(docs))
}

// WriteAll writes documents as one file. Each begins on a new page and has its
// own head, foot and page numbers ("2 of 5"). A document is forgotten once it is
// laid out, so that many can be made one at a time. The file depends on o and
// the documents alone.
//
// The error is that of w, or ErrNone.
func WriteAll(w io.Writer, o Options, docs iter.Seq[*document.Document]) error {
	f := newWriter(o)
	for d := range docs {
		if d != nil {
			f.document(d)
		}
	}
	if f.tags.pages == nil {
		return ErrNone
	}
	return f.finish(w)
}
