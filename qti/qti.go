// Package qti writes a set of questions as a package that a course platform
// imports, by the open standards 1EdTech QTI 2.2 and QTI 3.0.
//
// A package is a ZIP file: the manifest (IMS Content Packaging 1.1.4), one file
// for each item, one for the test that lists them. An item is a question of one
// of two kinds. In a multiple-choice question each distractor may say what
// choosing it reveals. In a line with gaps each gap takes one coefficient, a
// whole number, and earns its share of the marks: platforms compare what is
// typed character by character, so an equation is never typed.
//
// A gap is declared as a string, not as an integer. Every platform compares
// strings alike, and the standard does not say what becomes of a response that
// is no integer ("5 mol"); as a string it is a wrong answer like any other.
// "05" and "5.0" are wrong too, which the question says beforehand: it asks for
// a whole number. An empty gap is no response and earns nothing.
//
// A formula is text with sub and sup elements, a true minus sign and a long
// arrow. Where it is said in other words it is a span of role img with an
// aria-label: QTI 2.2 has no aria-hidden for its own elements, and a label needs
// a role. A platform that drops both still shows the formula.
//
// The files of QTI 2.2 are checked against its schema (2.2.4), the manifest
// against that of IMS CP 1.1.4. QTI 3.0 has the same content in its own
// namespace and names; it is checked by structure; its schema was not at hand,
// and its names are from memory. So are the types that a manifest gives to its
// resources.
//
// Which questions are asked, and what their answers are, is settled elsewhere:
// what is right here is what the caller says is right.
package qti

import (
	"io"

	"halves/document"
)

// A Set is a test: questions in the order in which they are asked.
type Set struct {
	ID       string // any text; see Item
	Title    string // "" is the ID
	Language string // a tag of BCP 47; "" is "en"
	Items    []Item
}

// An Item is one question: it has Choices or a Line.
type Item struct {
	// ID is any text that no other item has, nor the set. Letters and digits of
	// ASCII, hyphens and underscores stand in the files as they are; of the rest
	// each byte is written as a full stop and two hexadecimal digits.
	ID    string
	Title string            // "" is the ID; platforms may show it, so it gives nothing away
	Stem  []document.Inline // what is asked, paragraph by paragraph

	// Choices are those of a multiple-choice question. The package asks for them
	// to be shuffled, but not every platform does: the right one should not always
	// come first.
	Choices []Choice
	Line    []Piece // of a question with gaps

	Worth    int             // marks, 1 to MaxWorth
	Feedback document.Inline // on the right answer, all of it; nil for none
}

// A Choice is an answer to choose. One of them is Right.
type Choice struct {
	Text     document.Inline
	Right    bool
	Feedback document.Inline // what choosing it shows; nil for none
}

// A Piece is a part of a line: text, then a gap.
type Piece struct {
	Text document.Inline // nil for none
	Gap  *Gap            // nil for none
}

// A Gap is a box for one coefficient.
type Gap struct {
	Answer string // a whole number, at least 1, in digits: "5"
	Label  string // what goes in, in words: "coefficient of iron(II) ion"; "" is "gap 2 of 4"
}

// Limits of an item. With them the share of a gap is at least a hundredth.
const (
	MaxWorth = 1000 // marks
	MaxGaps  = 100
)

// Write22 writes s as a content package of QTI 2.2. The same set gives the same
// bytes. The error joins a *SetError for each fault of s, and then nothing is
// written; or it is that of w.
func Write22(w io.Writer, s Set) error { return write(w, s, version22) }

// Write30 writes s as a content package of QTI 3.0; otherwise it is as Write22.
func Write30(w io.Writer, s Set) error { return write(w, s, version30) }

// A version is what differs between the editions of the standard.
type version struct {
	namespace string // of items and the test
	manifest  string // namespace of the manifest
	schema    string // what the manifest says it follows
	edition   string
	item      string // types of the resources
	test      string
	kebab     bool // names are qti-response-if, show-hide, not responseIf, showHide
}

var version22 = version{
	namespace: "http://www.imsglobal.org/xsd/imsqti_v2p2",
	manifest:  "http://www.imsglobal.org/xsd/imscp_v1p1",
	schema:    "QTIv2.2 Package",
	edition:   "1.0.0",
	item:      "imsqti_item_xmlv2p2",
	test:      "imsqti_test_xmlv2p2",
}

var version30 = version{
	namespace: "http://www.imsglobal.org/xsd/imsqtiasi_v3p0",
	manifest:  "http://www.imsglobal.org/xsd/qti/qtiv3p0/imscp_v1p1",
	schema:    "QTI Package",
	edition:   "3.0.0",
	item:      "imsqti_item_xmlv3p0",
	test:      "imsqti_test_xmlv3p0",
	kebab:     true,
}
