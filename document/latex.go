package document

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"halves/chem"
)

// LaTeXOptions are the ways of writing LaTeX.
type LaTeXOptions struct {
	// Fragment writes what stands between \begin{document} and \end{document},
	// for a document that uses amsmath and whose lines are about 6 in wide.
	Fragment bool
}

const latexHead = `\documentclass[11pt]{article}
\usepackage{amsmath}
\setlength{\textwidth}{6.2in}
\setlength{\oddsidemargin}{0.15in}
\setlength{\textheight}{8.8in}
\setlength{\topmargin}{-0.4in}
`

// LaTeX writes d for LaTeX with the package amsmath and no other, in ASCII but
// for accented letters (UTF-8). The error is that of w.
//
// Formulas are upright, a charge stands after the subscript, and the lines of a
// working are aligned at the arrow where they have room.
func LaTeX(w io.Writer, d *Document, o LaTeXOptions) error {
	l := &latexWriter{b: make([]byte, 0, 32<<10), line: latexLine}
	if !o.Fragment {
		l.tag(latexHead)
		l.pageStyle(d.Running)
		l.tag("\\begin{document}\n")
	}
	// In a group, so that what is around a fragment stays as it is.
	l.tag("\\begingroup\\raggedright\\setlength{\\parindent}{0pt}\\setlength{\\parskip}{4pt}\n")
	if slices.ContainsFunc(d.Blocks, isPaper) || d.Running != (Running{}) {
		l.tag(paperCommands)
	}
	if o.Fragment {
		l.head(d.Running)
	}
	if d.Title != nil {
		l.tag("\\section*{\\boldmath ")
		l.title(d.Title)
		l.tag("}\n")
	}
	l.document(d)
	if o.Fragment {
		l.foot(d.Running)
	}
	l.tag("\\par\\endgroup\n")
	if !o.Fragment {
		if d.Running != (Running{}) {
			l.tag("\\label{" + lastPage + "}\n")
		}
		l.tag("\\end{document}\n")
	}
	_, err := w.Write(l.b)
	return err
}

type latexWriter struct {
	b        []byte
	line     int      // how wide a line may be, in hundredths of an em
	keep     bool     // the section should not be torn
	exercise bool     // one is open
	notes    []Inline // of the slide, still to be written
}

func (l *latexWriter) document(d *Document) {
	for i := 0; i < len(d.Blocks); {
		if n := equationsAt(d.Blocks[i:]); n > 0 {
			l.equations(d.Blocks[i : i+n])
			i += n
			continue
		}
		b := d.Blocks[i]
		i++
		if closes(b) {
			l.close()
		}
		switch b := b.(type) {
		case Heading:
			l.keep = b.Keep
			if l.exercise && b.Keep {
				if _, begun := d.Blocks[i-2].(Exercise); !begun { // a question stays with what comes first
					l.filled(shortOfPage)
				}
			}
			l.block(b)
		case Exercise:
			l.asked(b, hasHeadings(d.Blocks[i:]))
		case Break:
			if i < len(d.Blocks) {
				l.block(b) // no empty page at the end
			}
		default:
			l.block(b)
		}
	}
	l.close()
}

// LaTeXLine writes a formula or an equation for mathematics in LaTeX, without
// dollar signs around it: \mathrm{MnO_{4}^{-}}. It needs no package.
func LaTeXLine(runs []chem.Run) string {
	l := &latexWriter{}
	l.math(runs)
	return strings.TrimSuffix(strings.TrimPrefix(string(l.b), "$"), "$")
}

func (l *latexWriter) tag(s string) { l.b = append(l.b, s...) }

func (l *latexWriter) command(name string, text Inline) {
	l.tag("\\" + name + "{\\boldmath ")
	l.inline(text)
	l.tag("}\n")
}

// title writes a title. An equation that is too wide for a line of large letters
// is broken before its arrow.
func (l *latexWriter) title(text Inline) {
	const large = 2400 // hundredths of an em of the usual size
	for _, s := range text {
		left, right := SidesOf(s.Formula)
		if right == nil || inlineWidth(text) <= large {
			l.inline(Inline{s})
			continue
		}
		l.tag("$")
		l.math(left)
		l.tag("$\\newline\\hspace*{1em}${}")
		l.math(right)
		l.tag("$")
	}
}

func (l *latexWriter) block(b Block) {
	switch b := b.(type) {
	case Heading:
		if b.Level <= 1 {
			l.command("subsection*", b.Text)
		} else {
			l.command("subsubsection*", b.Text)
		}
	case Paragraph:
		l.inline(b.Text)
		l.tag("\\par\n")
	case Note:
		l.inline(b.Text)
		l.tag("\\par\n")
	case List:
		l.tag("\\begin{itemize}\\setlength{\\itemsep}{0pt}\\setlength{\\parsep}{0pt}\n")
		for _, item := range b.Items {
			l.tag("\\item[$\\bullet$] ") // the usual bullet is of another font
			l.inline(item)
			l.tag("\n")
		}
		l.tag("\\end{itemize}\n")
	case Figure:
		for _, x := range b.blocks() {
			l.block(x)
		}
	case Table:
		l.table(b)
	case Choices:
		l.choices(b)
	case Space:
		l.space(b)
	case Fields:
		l.fields(b)
	case Break:
		l.tag("\\clearpage\n")
	case Slide:
		l.filled(halfOfPage)
		l.command("subsection*", b.Title)
		l.notes = b.Notes
	case Equation:
		l.tag("\\[\\boxed{")
		if rows := l.broken(b.Line); len(rows) == 1 {
			l.rowOf(rows[0])
		} else {
			l.tag("\\begin{aligned}\n")
			for i, row := range rows {
				if i > 0 {
					l.tag(" \\\\\n")
				}
				l.tag("&" + strings.Repeat("\\quad", row.hang))
				l.rowOf(row)
			}
			l.tag("\n\\end{aligned}")
		}
		l.tag("}\\]\n")
	}
}

// latexLine is how wide an equation may be, in hundredths of an em.
const latexLine = 3700

// A latexRow is a piece of an equation that stands on one line.
type latexRow struct {
	terms [][]chem.Run
	hang  int // how far in, in em
}

// broken cuts a line that is too long before the arrow, and before plus signs
// where a side is too long by itself.
func (l *latexWriter) broken(runs []chem.Run) []latexRow {
	const arrow, further = 2, 4
	if latexWidth(runs) <= l.line {
		return []latexRow{{terms: termsOf(runs)}}
	}
	var out []latexRow
	left, right := SidesOf(runs)
	add := func(side []chem.Run, hang int) {
		for i, terms := range rowsOf(termsOf(side), l.line-100*hang, 100*(further-hang), latexWidth) {
			if i > 0 {
				hang = further
			}
			out = append(out, latexRow{terms, hang})
		}
	}
	add(left, 0)
	if right != nil {
		add(right, arrow)
	}
	return out
}

func (l *latexWriter) rowOf(row latexRow) {
	if row.hang > 0 {
		l.tag("{}") // a sign that begins it stands between two things
	}
	for _, t := range row.terms {
		l.math(t)
	}
}

// equations writes the lines of a working. Those with room stand in one flalign,
// with the text between them; pages end between two steps.
func (l *latexWriter) equations(all []Block) {
	arrows := aligned(all, l.line, latexWidth)
	first, last := -1, -1
	for i, a := range arrows {
		if a {
			if first < 0 {
				first = i
			}
			last = i
		}
	}
	within := false // the flalign
	text := func(write func(), end string) {
		if within {
			l.tag("\\intertext{\\raggedright ")
			write()
			l.tag("}\n")
		} else {
			write()
			l.tag(end)
		}
	}
	for i, b := range all {
		e := b.(Equation)
		if i > 0 {
			penalty := 0
			if l.keep {
				penalty = 500
			}
			if within {
				l.tag(fmt.Sprintf("\\noalign{\\penalty%d\\vskip 4pt}\n", penalty))
			} else {
				l.tag(fmt.Sprintf("\\penalty%d\\vskip 6pt\n", penalty))
			}
		}
		if len(e.Label)+len(e.Reason) > 0 {
			end := "\\par\n"
			if i == first {
				end = "\n" // the display ends the paragraph
			}
			text(func() {
				if e.Label != nil {
					l.tag("\\textbf{\\boldmath ")
					l.inline(e.Label)
					switch {
					case len(e.Reason) == 0:
						l.tag("}")
					case 6*inlineWidth(e.Label)/5+inlineWidth(e.Reason) > l.line:
						l.tag("}\\\\*{}\n") // both have no room on one line
					default:
						l.tag("}\\quad ")
					}
				}
				l.inline(e.Reason)
			}, end)
		}
		switch {
		case e.Line == nil:
		case arrows[i]:
			if !within {
				within = true
				if len(e.Label)+len(e.Reason) == 0 {
					l.tag("\\vskip-.7\\baselineskip") // for the empty line that a display has above it
				}
				l.tag("\\nopagebreak\\begingroup\\abovedisplayskip 3pt\\belowdisplayskip 3pt\\abovedisplayshortskip 3pt\\belowdisplayshortskip 3pt\\postdisplaypenalty 10000\\jot 0pt\n\\begin{flalign*}\n")
			}
			left, right := SidesOf(e.Line)
			l.tag("\\quad ")
			l.fresh(e.Fresh, func() { l.math(left) })
			l.tag(" &")
			l.fresh(e.Fresh, func() { l.math(right) })
			l.tag(" &&") // all at the left
			if i != last {
				l.tag(" \\\\")
			}
			l.tag("\n")
		default:
			text(func() {
				for k, row := range l.broken(e.Line) {
					if k > 0 {
						l.tag("\\\\*\n")
					}
					l.tag(fmt.Sprintf("\\hspace*{%dem}$", 1+row.hang))
					l.fresh(e.Fresh, func() { l.rowOf(row) })
					l.tag("$")
				}
			}, "\\par\n")
		}
		if i == last {
			within = false
			l.tag("\\end{flalign*}\n\\endgroup")
			if e.Ledger != nil {
				l.tag("\\nopagebreak") // by itself it would make an empty line
			}
			l.tag("\n")
		}
		if e.Ledger != nil {
			text(func() {
				l.tag("{\\small\\hspace*{1em}")
				for k, x := range e.Ledger {
					if k > 0 {
						l.tag("\\quad ")
					}
					left, right := sides(x)
					sign := " = "
					if !x.Closed() {
						sign = " ≠ "
					}
					l.tag("\\mbox{")
					l.text(x.Law.String() + " ")
					l.text(left + sign + right)
					l.tag("}")
				}
				l.tag("\\endgraf}")
			}, "\\par\n")
		}
	}
}

// table writes a tabular, or, where it is too wide, a paragraph for each row.
func (l *latexWriter) table(t Table) {
	room := func(t Table) bool {
		total := 0
		for k, h := range t.Head {
			widest := inlineWidth(h)
			for _, r := range t.Rows {
				widest = max(widest, inlineWidth(r[k]))
			}
			total += widest + 120
		}
		return total <= l.line
	}
	if t.Spare > 0 && !room(t) {
		t = t.without(t.Spare)
	}
	shares := map[int]float64{}
	if !room(t) {
		shares = wrapping(t, l.line)
	}
	if shares == nil {
		for _, r := range t.Rows {
			l.inline(record(t, r))
			l.tag("\\par\n")
		}
		return
	}
	l.tag("\\begin{tabular}{@{}")
	for k, right := range t.Right {
		switch share, wraps := shares[k]; {
		case wraps:
			l.tag(fmt.Sprintf("p{%.3f\\linewidth}", share))
		case right:
			l.tag("r")
		default:
			l.tag("l")
		}
	}
	l.tag("@{}}\n")
	end := " \\\\\n"
	if len(shares) > 0 {
		end = " \\tabularnewline\n" // ragged cells take the other for themselves
	}
	line := func(cells []Inline) {
		for k, c := range cells {
			if k > 0 {
				l.tag(" & ")
			}
			if _, wraps := shares[k]; wraps {
				l.tag("\\raggedright ")
			}
			l.inline(c)
		}
	}
	if t.headed() {
		line(t.Head)
		l.tag(end + "\\hline\\noalign{\\vskip 3pt}\n")
	}
	for i, r := range t.Rows {
		if i > 0 {
			l.tag(end)
		}
		l.tag("{}") // a bracket that begins a row would be an option
		line(r)
	}
	l.tag("\n\\end{tabular}\\par\n")
}

// wrapping returns, of a table that is wider than the line, the columns of prose
// whose lines may wrap, with their shares of the line; nil where the other columns
// leave them no room.
func wrapping(t Table, line int) map[int]float64 {
	const gap = 120
	narrow := line / 5
	left, prose := line, 0
	widths := map[int]int{}
	for k, h := range t.Head {
		widest := inlineWidth(h)
		for _, r := range t.Rows {
			widest = max(widest, inlineWidth(r[k]))
		}
		left -= gap
		if t.Right[k] || widest <= narrow {
			left -= widest
			continue
		}
		widths[k] = widest
		prose += widest
	}
	if len(widths) == 0 || left < len(widths)*narrow {
		return nil
	}
	out := map[int]float64{}
	for k, w := range widths {
		out[k] = float64(w) / float64(prose) * float64(left) / float64(line)
	}
	return out
}

func (l *latexWriter) inline(text Inline) {
	for _, s := range text {
		l.text(s.Prose)
		if s.Formula != nil {
			l.tag("$")
			l.math(s.Formula)
			l.tag("$")
		}
	}
}

// math writes runs in math mode. What belongs to one formula is upright.
func (l *latexWriter) math(runs []chem.Run) {
	upright := false
	set := func(want bool) {
		if want != upright {
			upright = want
			if want {
				l.tag("\\mathrm{")
			} else {
				l.tag("}")
			}
		}
	}
	for _, r := range runs {
		switch {
		case r == Blank:
			set(false)
			l.tag("\\underline{\\hspace{2em}}\\,")
		case isSign(r):
			set(false)
			switch strings.TrimSpace(r.Text) {
			case "->":
				l.tag("\\longrightarrow ")
			case "+":
				l.tag("+")
			case "-":
				l.tag("-")
			default:
				l.tag("=")
			}
		case r.Level == chem.Variable:
			set(false)
			l.mathText(r.Text)
		case r.Level == chem.Subscript:
			set(true)
			l.tag("_{")
			l.mathText(r.Text)
			l.tag("}")
		case r.Level == chem.Superscript:
			set(true)
			l.tag("{}^{") // after the subscript, not above it
			l.mathText(r.Text)
			l.tag("}")
		default:
			set(true)
			l.mathText(r.Text)
		}
	}
	set(false)
}

// mathText writes characters in math mode.
func (l *latexWriter) mathText(s string) {
	for _, r := range s {
		switch {
		case r >= '0' && r <= '9', r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', strings.ContainsRune("()[]/,;:|=+*!?'", r):
			l.tag(string(r))
		case r == ' ' || r == '\u00a0':
			l.tag("\\,")
		case r == '.':
			l.tag("{\\cdot}")
		case r == '-' || r == '−':
			l.tag("-")
		case r == '{' || r == '}':
			l.tag("\\" + string(r))
		default:
			l.tag("\\text{")
			l.text(string(r))
			l.tag("}")
		}
	}
}

// text writes characters in text mode.
func (l *latexWriter) text(s string) {
	before := ' '
	for i, r := range s {
		switch {
		case r == '"':
			// The straight mark has no place in the usual fonts.
			if before == ' ' || before == '(' || before == '[' {
				l.tag("``")
			} else {
				l.tag("''")
			}
		case r < utf8.RuneSelf && latexASCII[r] != "":
			l.tag(latexASCII[r])
		case r == '-' && i > 0 && before == '-', strings.ContainsRune("'`,<>!?", r) && r == before:
			l.tag("{}" + string(r)) // no ligature
		case r >= ' ' && r < 0x7f:
			l.b = append(l.b, byte(r))
		case r == '\n' || r == '\t' || r == '\r':
			l.tag(" ")
		default:
			l.tag(latexSign(r))
		}
		before = r
	}
}

var latexASCII = [utf8.RuneSelf]string{
	'\\': `\textbackslash{}`, '{': `\{`, '}': `\}`, '$': `{\char36}`, '%': `\%`, '#': `\#`, '_': `\_`, '&': `\&`,
	'~': `\textasciitilde{}`, '^': `\textasciicircum{}`, '<': `\textless{}`, '>': `\textgreater{}`, '|': `\textbar{}`,
	'`': "\\`{}",
}

// latexSign writes a character that is not ASCII. One that the usual fonts do
// not have is given by its number, so that it is not lost in silence.
func latexSign(r rune) string {
	switch r {
	case '\u00a0':
		return "~"
	case '−':
		return "$-$"
	case '×':
		return `$\times$`
	case '→', '⟶':
		return `$\longrightarrow$`
	case '⇌':
		return `$\rightleftharpoons$`
	case '≠':
		return `$\neq$`
	case '≈':
		return `$\approx$`
	case '·', '•':
		return `$\cdot$`
	case '°':
		return `$^{\circ}$`
	case '…':
		return `\ldots{}`
	case '–':
		return "--"
	case '—':
		return "---"
	case '‘':
		return "`"
	case '’':
		return "'"
	case '“':
		return "``"
	case '”':
		return "''"
	case '≤':
		return `$\leq$`
	case '≥':
		return `$\geq$`
	case '±':
		return `$\pm$`
	case 'Δ':
		return `$\Delta$`
	case 'δ':
		return `$\delta$`
	case 'λ':
		return `$\lambda$`
	case 'α':
		return `$\alpha$`
	case 'β':
		return `$\beta$`
	case 'γ':
		return `$\gamma$`
	case 'η':
		return `$\eta$`
	case 'κ':
		return `$\kappa$`
	case 'μ', 'µ':
		return `$\mu$`
	}
	if i := strings.IndexRune(raised, r); i >= 0 {
		return fmt.Sprintf("$^{%c}$", "0123456789+-"[utf8.RuneCountInString(raised[:i])])
	}
	if i := strings.IndexRune(lowered, r); i >= 0 {
		return fmt.Sprintf("$_{%c}$", "0123456789+-"[utf8.RuneCountInString(lowered[:i])])
	}
	if strings.ContainsRune(accented, r) {
		return string(r)
	}
	return fmt.Sprintf("[U+%04X]", r)
}

const (
	raised  = "⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻"
	lowered = "₀₁₂₃₄₅₆₇₈₉₊₋"
	// The letters that LaTeX makes of UTF-8 in its first font encoding.
	accented = "ÀÁÂÃÄÅÆÇÈÉÊËÌÍÎÏÑÒÓÔÕÖØÙÚÛÜÝßàáâãäåæçèéêëìíîïñòóôõöøùúûüýÿŁłŒœŠšŽžČčŘř"
)

// latexWidth estimates the width of runs in hundredths of an em, on the safe
// side (from the widths of Computer Modern: capitals 0.65 to 0.92, small
// letters up to 0.56 but for m, digits 0.5).
func latexWidth(runs []chem.Run) int {
	n := 0
	for _, r := range runs {
		switch {
		case isSign(r) && strings.TrimSpace(r.Text) == "->":
			n += 220
		case isSign(r):
			n += 135
		case r.Level == chem.Subscript || r.Level == chem.Superscript:
			n += 3*textWidth(r.Text)/4 + 5
		default:
			n += textWidth(r.Text)
		}
	}
	return n
}

func textWidth(s string) int {
	n := 0
	for _, r := range s {
		switch {
		case r == 'M' || r == 'm' || r == 'W':
			n += 95
		case r >= 'A' && r <= 'Z', r == '+', r == '-', r == '−', r == '≠', r == '=', r == '×':
			n += 78
		case r < utf8.RuneSelf:
			n += 53
		default:
			n += 60
		}
	}
	return n
}

func inlineWidth(text Inline) int {
	n := 0
	for _, s := range text {
		n += textWidth(s.Prose) + latexWidth(s.Formula)
	}
	return n
}
