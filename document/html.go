package document

import (
	_ "embed"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"halves/chem"
)

// HTMLOptions are the ways of writing HTML.
type HTMLOptions struct {
	// Fragment writes one article element, without a page around it. A page
	// that holds fragments has HTMLStyle in a style element, once.
	Fragment bool
	Level    int // of the heading that is the title, 1 to 6; 0 is 1
	// BareFigures leaves the style sheet of pictures to the page (drawing.Style).
	BareFigures bool
}

// InlineHTML writes a line of prose and formulas as HTML, without an element
// around it. The error is that of w.
func InlineHTML(w io.Writer, text Inline) error {
	h := &htmlWriter{}
	h.inline(text)
	_, err := w.Write(h.b)
	return err
}

// HTMLStyle is the style sheet that a page carries (CSS). All its rules begin
// with the class halves.
//
//go:embed html.css
var HTMLStyle string

// pageStyle is what a page has besides: what is around the document.
const pageStyle = "body{margin:0;background:#fdfcf9}@media (prefers-color-scheme:dark){body{background:#15171a}}@media print{body{background:#fff}}@page{margin:18mm}"

// HTML writes d as a page in the HTML Living Standard, complete in itself: it
// loads nothing and runs no script. The error is that of w.
//
// What is written in signs is said in words: the signs are hidden from screen
// readers, and beside them stand words that are clipped from view and cannot be
// selected, so that a copy has the signs alone. A name by aria-label would need
// a role on each formula, and the roles that allow one (img, math) are
// announced each time or passed over.
func HTML(w io.Writer, d *Document, o HTMLOptions) error {
	h := &htmlWriter{b: make([]byte, 0, 64<<10), base: min(max(o.Level, 1), 6), bare: o.BareFigures}
	language := d.Language
	if language == "" {
		language = "en"
	}
	end := "</article>\n"
	if o.Fragment {
		h.tag(`<article class="halves" lang="`)
		h.text(language)
		h.tag("\">\n")
	} else {
		h.tag("<!DOCTYPE html>\n<html lang=\"")
		h.text(language)
		h.tag("\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<meta name=\"color-scheme\" content=\"light dark\">\n<title>")
		h.text(d.name())
		h.tag("</title>\n<style>\n")
		h.tag(HTMLStyle)
		h.tag(pageStyle)
		if d.IsDeck() {
			h.tag(deckStyle)
		}
		h.margins(d.Running)
		h.tag("\n</style>\n</head>\n<body>\n<main class=\"halves\">\n")
		end = "</main>\n</body>\n</html>\n"
	}
	h.document(d)
	h.tag(end)
	_, err := w.Write(h.b)
	return err
}

// name is what a window or a tab is called that shows the document.
func (d *Document) name() string {
	if s := d.PlainTitle(); strings.TrimSpace(s) != "" {
		return s
	}
	for _, b := range d.Blocks {
		var text Inline
		switch b := b.(type) {
		case Heading:
			text = b.Text
		case Slide:
			text = b.Title
		}
		if s := (&Document{Title: text}).PlainTitle(); strings.TrimSpace(s) != "" {
			return s
		}
	}
	return "Working"
}

type htmlWriter struct {
	bare bool // figures have no style sheet
	b    []byte
	base int // the level of the title's heading

	figures  int            // so far
	regions  map[string]int // tables that scroll so far, by their captions
	sections []string       // what closes those that are open, the outer first
	exercise bool           // whether an exercise is among them
}

// tag writes markup.
func (h *htmlWriter) tag(s string) { h.b = append(h.b, s...) }

// text writes characters, which may stand in an attribute too.
func (h *htmlWriter) text(s string) {
	from := 0
	for i := 0; i < len(s); {
		c := s[i]
		if c >= ' ' && c < utf8.RuneSelf && c != '&' && c != '<' && c != '>' && c != '"' && c != 0x7f {
			i++
			continue
		}
		r, n := utf8.DecodeRuneInString(s[i:])
		sign := ""
		switch {
		case r == '&':
			sign = "&amp;"
		case r == '<':
			sign = "&lt;"
		case r == '>':
			sign = "&gt;"
		case r == '"':
			sign = "&quot;"
		case r == '\n' || r == '\t':
			sign = s[i : i+1]
		case r == '\r':
			sign = "\n"
		case r == utf8.RuneError && n == 1 || isControl(r):
			sign = "\uFFFD" // no character of a page
		default:
			i += n
			continue
		}
		h.b = append(h.b, s[from:i]...)
		h.b = append(h.b, sign...)
		i += n
		from = i
	}
	h.b = append(h.b, s[from:]...)
}

// isControl reports characters that no format may hold: controls, the signs
// that turn the direction of writing, and what is no character.
func isControl(r rune) bool {
	switch {
	case r < ' ' || r >= 0x7f && r < 0xa0:
		return true
	case r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069:
		return true
	case r >= 0xfdd0 && r <= 0xfdef || r&0xfffe == 0xfffe:
		return true
	}
	return false
}

func (h *htmlWriter) document(d *Document) {
	h.head(d.Running)
	if d.Title != nil {
		h.heading(h.base, d.Title)
	} else {
		h.base-- // the first headings take its place
	}
	for i := 0; i < len(d.Blocks); {
		if n := equationsAt(d.Blocks[i:]); n > 0 {
			h.equations(d.Blocks[i : i+n])
			i += n
			continue
		}
		b := d.Blocks[i]
		i++
		if closes(b) {
			h.close(0)
		}
		switch b := b.(type) {
		case Heading:
			switch {
			case b.Level <= 1:
				h.section("", b.Keep)
			case h.exercise:
				h.close(1)
				h.section("", b.Keep)
			}
			h.block(b)
		case Exercise:
			h.section("exercise", !hasHeadings(d.Blocks[i:]))
			h.exercise = true
			h.asked(b)
		case Slide:
			h.slide(b)
		default:
			h.block(b)
		}
	}
	h.close(0)
	h.foot(d.Running)
}

// section opens a section, which may be kept on one page.
func (h *htmlWriter) section(class string, keep bool) {
	if keep {
		class = strings.TrimLeft(class+" keep", " ")
	}
	if class == "" {
		h.tag("<section>\n")
	} else {
		h.tag("<section class=\"" + class + "\">\n")
	}
	h.sections = append(h.sections, "</section>\n")
}

// close closes all sections but the outer n.
func (h *htmlWriter) close(n int) {
	for len(h.sections) > n {
		last := len(h.sections) - 1
		h.tag(h.sections[last])
		h.sections = h.sections[:last]
	}
	h.exercise = h.exercise && n > 0
}

func (h *htmlWriter) heading(level int, text Inline) {
	digit := strconv.Itoa(min(max(level, 1), 6))
	h.tag("<h" + digit + ">")
	h.inline(text)
	h.tag("</h" + digit + ">\n")
}

func (h *htmlWriter) block(b Block) {
	switch b := b.(type) {
	case Heading:
		h.heading(h.base+max(b.Level, 1), b.Text)
	case Paragraph:
		h.element("p", "", b.Text)
	case Note:
		h.element("p", "note", b.Text)
	case List:
		h.tag("<ul>\n")
		for _, item := range b.Items {
			h.element("li", "", item)
		}
		h.tag("</ul>\n")
	case Table:
		h.table(b)
	case Figure:
		h.figure(b)
	case Choices:
		h.choices(b)
	case Space:
		h.space(b)
	case Fields:
		h.fields(b)
	case Break:
		h.tag("<hr class=\"break\">\n")
	case Equation:
		if b.Fresh {
			h.tag("<p class=\"answer fresh\">")
		} else {
			h.tag("<p class=\"answer\">")
		}
		h.spoken(b.spokenLine(), func() { h.line(b.Line, "") })
		h.tag("</p>\n")
	}
}

func (h *htmlWriter) element(name, class string, text Inline) {
	h.tag("<" + name)
	if class != "" {
		h.tag(" class=\"" + class + "\"")
	}
	h.tag(">")
	h.inline(text)
	h.tag("</" + name + ">\n")
}

// inline writes a line. Where a part of it is said in other words all of it is,
// so that a screen reader reads it as one piece.
func (h *htmlWriter) inline(text Inline) {
	spoken, _ := text.Spoken()
	h.spoken(spoken, func() {
		for _, s := range text {
			h.text(s.Prose)
			_, right := SidesOf(s.Formula)
			switch {
			case IsAlgebra(s.Formula) && columns(s.Formula) <= longTerm:
				h.term(s.Formula) // short enough to stay in one piece
			case len(right) > 1:
				h.line(s.Formula, "")
			default:
				h.formula(s.Formula)
			}
		}
	})
}

// spoken writes what is seen, and, where it is not "", what is said instead.
func (h *htmlWriter) spoken(said string, visible func()) {
	if said == "" {
		visible()
		return
	}
	h.tag(`<span aria-hidden="true">`)
	visible()
	h.tag(`</span><span class="said">`)
	h.text(said)
	h.tag(`</span>`)
}

// formula writes a formula or an equation, which may be broken before its signs.
func (h *htmlWriter) formula(runs []chem.Run) {
	for i, term := range termsOf(runs) {
		if i > 0 {
			h.tag(" ")
		}
		h.term(term)
	}
}

func (h *htmlWriter) term(runs []chem.Run) {
	if columns(runs) > longTerm {
		h.tag(`<span class="f long">`)
	} else {
		h.tag(`<span class="f">`)
	}
	for k, r := range runs {
		h.run(r, k == 0)
	}
	h.tag("</span>")
}

func (h *htmlWriter) run(r chem.Run, first bool) {
	switch r.Level {
	case chem.Subscript:
		h.tag("<sub>")
		h.text(minus(r.Text))
		h.tag("</sub>")
	case chem.Superscript:
		h.tag("<sup>")
		h.text(minus(r.Text))
		h.tag("</sup>")
	case chem.Variable:
		h.tag("<var>")
		h.text(r.Text)
		h.tag("</var>")
	default:
		s := r.Text
		if isSign(r) && first {
			s = strings.TrimLeft(s, " ") // the space before it is where a line may end
		} else if isComma(r) {
			s = "," // and so is the one after it
		}
		h.text(htmlSigns.Replace(s))
	}
}

// The short arrow is in every face; the long one is not.
var htmlSigns = strings.NewReplacer("->", "→", ".", "·", "-", "−")

// longTerm is how many columns a term has that may be broken anywhere, since it
// does not fit on a telephone.
const longTerm = 20

// Lines of a working stand with their arrows one under the other where the
// page is wide enough for the group, in one of three widths.
var lineRooms = [...]struct {
	columns int
	class   string
}{{34, "fit-34"}, {46, "fit-46"}, {58, "fit-58"}}

// columns measures runs in characters of normal height.
func columns(runs []chem.Run) int {
	n := 0
	for _, r := range runs {
		if r.Level == chem.Subscript || r.Level == chem.Superscript {
			n += 7 * len(r.Text)
		} else {
			n += 10 * len(r.Text)
		}
	}
	return (n + 9) / 10
}

// measure writes a side in plain characters of one height that take as much room
// as it does, or a little more: of those that stand higher or lower, which are
// smaller, some are left out.
func measure(side []chem.Run) string {
	small := 0
	for _, r := range side {
		if r.Level == chem.Subscript || r.Level == chem.Superscript {
			small += len(r.Text)
		}
	}
	var b strings.Builder
	drop := small / 4 // they are set at 0.72 of the size
	for _, r := range side {
		text := r.Text
		if n := len(text); drop > 0 && r.Level == chem.Subscript {
			k := min(n, drop)
			text, drop = text[k:], drop-k
		}
		b.WriteString(minus(text))
	}
	return b.String()
}

// line writes an equation, which may be broken before its arrow. Its left side is
// made as wide as the text widest is, which is not seen; "" is as it comes.
func (h *htmlWriter) line(runs []chem.Run, widest string) {
	left, right := SidesOf(runs)
	if widest == "" {
		h.tag("<span>")
	} else {
		h.tag(`<span class="left" data-widest="`)
		h.text(widest)
		h.tag(`">`)
	}
	h.formula(left)
	if right != nil {
		h.tag(`</span> <span class="right">`)
		h.formula(right)
	}
	h.tag("</span>")
}

// equations writes the lines of a working. Where their arrows are aligned each
// left side knows the widest one of the group in plain characters: the style
// sheet makes it as wide as these are, unseen.
func (h *htmlWriter) equations(all []Block) {
	arrows := aligned(all, lineRooms[len(lineRooms)-1].columns, columns)
	widest, alike := "", true // the left sides
	l, r := 0, 0
	for i, b := range all {
		if arrows[i] {
			left, right := SidesOf(b.(Equation).Line)
			text := measure(left)
			alike = alike && (l == 0 || text == widest)
			if n := columns(left); n > l {
				l, widest = n, text
			}
			r = max(r, columns(right))
		}
	}
	if alike {
		widest = "" // they are as wide as each other by themselves
	}
	class := "work"
	if slices.ContainsFunc(all, func(b Block) bool { return b.(Equation).Label != nil }) {
		class = "work labelled" // the labels have a column of their own
	}
	if slices.ContainsFunc(all, func(b Block) bool { return b.(Equation).Fresh }) {
		class += " with-fresh" // bold letters are wider
	}
	for _, room := range lineRooms {
		if l+r <= room.columns {
			class += " " + room.class
			break
		}
	}
	h.tag("<ol class=\"" + class + "\" role=\"list\">\n")
	for i, b := range all {
		e := b.(Equation)
		h.tag("<li>")
		if e.Label != nil {
			h.element("p", "rule", e.Label)
		}
		if e.Line != nil {
			if e.Fresh {
				h.tag(`<p class="line fresh">`)
			} else {
				h.tag(`<p class="line">`)
			}
			h.spoken(e.spokenLine(), func() {
				if arrows[i] {
					h.line(e.Line, widest)
				} else {
					h.line(e.Line, "")
				}
			})
			h.tag("</p>\n")
		}
		if e.Reason != nil {
			h.element("p", "why", e.Reason)
		}
		if e.Ledger != nil {
			h.tag(`<p class="ledger">`)
			h.spoken(e.SpokenLedger, func() {
				for _, x := range e.Ledger {
					left, right := sides(x)
					sign := " = "
					if x.Closed() {
						h.tag(`<span class="law">`)
					} else {
						h.tag(`<span class="law open">`)
						sign = " ≠ "
					}
					h.text(x.Law.String())
					h.tag(" ")
					h.text(left)
					h.tag(sign)
					h.text(right)
					h.tag("</span> ")
				}
			})
			h.tag("</p>\n")
		}
		h.tag("</li>\n")
	}
	h.tag("</ol>\n")
}

// wideTable is from how many columns on a table may be wider than a telephone.
const wideTable = 5

// wide reports whether a table may be wider than a telephone: by its columns, or
// by an equation in a cell, which does not break.
func (t Table) wide() bool {
	if len(t.Head) >= wideTable {
		return true
	}
	return slices.ContainsFunc(t.Rows, func(row []Inline) bool {
		return slices.ContainsFunc(row, func(cell Inline) bool {
			return slices.ContainsFunc(cell, func(s Span) bool { _, right := SidesOf(s.Formula); return right != nil })
		})
	})
}

func (h *htmlWriter) table(t Table) {
	if t.wide() {
		// What scrolls must be reached by the keyboard and have a name.
		h.tag(`<div class="wide" role="region" tabindex="0" aria-label="Table: `)
		h.text(t.Caption)
		if h.regions == nil {
			h.regions = map[string]int{}
		}
		// No two regions of a page have one name.
		if h.regions[t.Caption]++; h.regions[t.Caption] > 1 {
			h.tag(" (" + strconv.Itoa(h.regions[t.Caption]) + ")")
		}
		h.tag("\">\n")
		defer h.tag("</div>\n")
	}
	h.tag("<table>\n")
	if t.Caption != "" {
		h.tag(`<caption><span class="said">`)
		h.text(t.Caption)
		h.tag("</span></caption>\n")
	}
	cell := func(name, scope string, k int, text Inline) {
		h.tag("<" + name)
		if scope != "" {
			h.tag(` scope="` + scope + `"`)
		}
		switch {
		case t.Right[k]:
			h.tag(` class="number"`)
		case k > 0 && k == t.Spare:
			h.tag(` class="spare"`)
		}
		h.tag(">")
		h.inline(text)
		h.tag("</" + name + ">")
	}
	if t.headed() {
		h.tag("<thead><tr>")
		for k, head := range t.Head {
			if len(head) == 0 {
				cell("td", "", k, nil)
			} else {
				cell("th", "col", k, head)
			}
		}
		h.tag("</tr></thead>\n")
	}
	h.tag("<tbody>\n")
	for _, r := range t.Rows {
		h.tag("<tr>")
		for k, c := range r {
			if k == 0 {
				cell("th", "row", k, c)
			} else {
				cell("td", "", k, c)
			}
		}
		h.tag("</tr>\n")
	}
	h.tag("</tbody>\n</table>\n")
}
