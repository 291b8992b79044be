package document

import (
	"bufio"
	"io"
	"slices"
	"strings"

	"halves/balance"
	"halves/chem"
)

// TextOptions are the ways of writing for a terminal.
type TextOptions struct {
	Width int  // columns that a line may take; 0 is 80, and less than 20 is 20
	ASCII bool // plain ASCII: Cr2O7^2-, ->, a hyphen for the minus sign
	Color bool // bold and faint letters by ANSI sequences (ECMA-48, SGR 1, 2 and 22); no hues
}

// The least and the usual width in columns.
const (
	minWidth     = 20
	defaultWidth = 80
)

// From these widths on, labels stand at the left of the lines, first folded
// and then in full.
const (
	widthFolded = 76
	widthFull   = 120
	labelFolded = 20
)

// Text writes d as lines of text. The error is that of w.
func Text(w io.Writer, d *Document, o TextOptions) error {
	if o.Width == 0 {
		o.Width = defaultWidth
	}
	o.Width = max(o.Width, minWidth)
	t := &textWriter{TextOptions: o, out: bufio.NewWriter(w), indent: usualIndent}
	t.document(d)
	return t.out.Flush()
}

type textWriter struct {
	TextOptions
	out        *bufio.Writer
	labelWidth int
	indent     int      // of all but headings
	notes      []Inline // of the slide, still to be written
}

// usualIndent is how far in a document stands under its headings, in columns.
const usualIndent = 2

// A weight is how strongly letters are set.
type weight uint8

const (
	regular weight = iota
	bold
	faint
)

// A piece is some text on a line in one weight.
type piece struct {
	text   string
	weight weight
}

// A row is what stands on one line.
type row []piece

func (r row) width() int {
	n := 0
	for _, p := range r {
		n += width(p.text)
	}
	return n
}

// width counts columns: the characters that the writer uses take one each.
func width(s string) int {
	n := 0
	for range s {
		n++
	}
	return n
}

func spaces(n int) piece { return piece{text: strings.Repeat(" ", max(n, 0))} }

// put writes a line.
func (t *textWriter) put(indent int, r row) {
	last := len(r)
	for last > 0 && strings.TrimRight(r[last-1].text, " ") == "" {
		last--
	}
	if last == 0 {
		t.out.WriteByte('\n')
		return
	}
	t.out.WriteString(strings.Repeat(" ", indent))
	now := regular
	for i, p := range r[:last] {
		text := strings.ReplaceAll(p.text, noBreak, " ")
		if i == last-1 {
			text = strings.TrimRight(text, " ")
		}
		// Spaces take the weight before them, so that it is not set for each word.
		if next := p.weight; t.Color && next != now && (strings.Trim(text, " ") != "" || next == regular && i > 0 && r[i+1].weight != now) {
			t.setWeight(now, next)
			now = next
		}
		t.out.WriteString(text)
	}
	t.setWeight(now, regular)
	t.out.WriteByte('\n')
}

// setWeight writes the sequence that changes from one weight to another.
func (t *textWriter) setWeight(from, to weight) {
	if from != regular && to != from {
		t.out.WriteString("\x1b[22m")
	}
	if to != from {
		t.out.WriteString([...]string{regular: "", bold: "\x1b[1m", faint: "\x1b[2m"}[to])
	}
}

func (t *textWriter) blank() { t.out.WriteByte('\n') }

func (t *textWriter) document(d *Document) {
	for _, b := range d.Blocks {
		if e, ok := b.(Equation); ok {
			t.labelWidth = max(t.labelWidth, width(t.render(e.Label)))
		}
	}
	switch {
	case t.labelWidth <= t.Width/6:
	case t.Width >= widthFull:
		t.labelWidth = min(t.labelWidth, t.Width/3)
	case t.Width >= widthFolded:
		t.labelWidth = min(t.labelWidth, labelFolded)
	default:
		t.labelWidth = 0
	}
	above := t.head(d.Running)
	if d.Title != nil {
		if above {
			t.blank()
		}
		above = true
		t.title(d.Title)
	}
	for i := 0; i < len(d.Blocks); {
		b := d.Blocks[i]
		if closes(b) {
			t.said()
			t.indent = usualIndent
		}
		if i > 0 || above {
			t.blank()
		}
		if n := equationsAt(d.Blocks[i:]); n > 0 {
			t.equations(d.Blocks[i : i+n])
			i += n
			continue
		}
		t.block(b)
		i++
	}
	t.said()
	t.foot(d.Running, above || len(d.Blocks) > 0)
}

// title writes a title with a rule under it.
func (t *textWriter) title(text Inline) {
	longest := 0
	for _, r := range wrapTitle(t.words(text, bold), t.Width) {
		t.put(0, r)
		longest = max(longest, r.width())
	}
	t.put(0, row{{t.rule(longest), faint}})
}

func (t *textWriter) rule(n int) string {
	if t.ASCII {
		return strings.Repeat("-", n)
	}
	return strings.Repeat("─", n)
}

func (t *textWriter) block(b Block) {
	indent := t.indent
	switch b := b.(type) {
	case Heading:
		for _, r := range wrap(t.words(b.Text, bold), t.Width-indent+usualIndent, 0) {
			t.put(indent-usualIndent, r)
		}
	case Paragraph:
		t.text(indent, b.Text, regular)
	case Note:
		t.text(indent, b.Text, regular)
	case List:
		bullet := "• "
		if t.ASCII {
			bullet = "- "
		}
		for _, item := range b.Items {
			for i, r := range fill(t.words(item, regular), t.Width-indent-2) {
				first := spaces(2)
				if i == 0 {
					first.text = bullet
				}
				t.put(indent, append(row{first}, r...))
			}
		}
	case Figure:
		for i, x := range b.blocks() {
			if i > 0 {
				t.blank()
			}
			t.block(x)
		}
	case Table:
		t.table(b)
	case Equation:
		rows := wrapEquation(t.terms(b.Line), bold, t.Width-indent)
		longest := 0
		for _, r := range rows {
			longest = max(longest, r.width())
		}
		t.put(indent, row{{t.rule(longest), faint}})
		for _, r := range rows {
			t.put(indent, r)
		}
		t.put(indent, row{{t.rule(longest), faint}})
	case Exercise:
		t.exercise(b)
	case Choices:
		t.choices(b)
	case Space:
		t.space(b)
	case Fields:
		t.fields(b)
	case Break:
		t.put(0, row{{t.rule(t.Width), faint}})
	case Slide:
		t.title(b.Title)
		t.notes = b.Notes
	}
}

func (t *textWriter) text(indent int, text Inline, w weight) {
	for _, r := range fill(t.words(text, w), t.Width-indent) {
		t.put(indent, r)
	}
}

// equations writes the lines of a working.
func (t *textWriter) equations(all []Block) {
	const gap = 2
	indent := t.indent
	further := indent + 2*usualIndent // where the labels stand above the lines
	column := t.labelWidth
	labelled := slices.ContainsFunc(all, func(b Block) bool { return len(b.(Equation).Label) > 0 })
	if !labelled {
		column = 0
	}
	body := t.Width - indent - column - gap
	if column == 0 {
		body = t.Width - further
	}
	align := newAlignment(all)
	short := true // the last equation took one line
	for i, b := range all {
		e := b.(Equation)
		var rows []row
		if e.Line != nil {
			w := regular
			if e.Fresh {
				w = bold
			}
			rows = append(rows, wrapEquation(t.terms(e.Line), w, body)...)
		}
		rows = append(rows, even(t.words(e.Reason, regular), body)...)
		if e.Ledger != nil {
			rows = append(rows, t.ledger(e.Ledger, align, body)...)
		}
		var labels []row
		if column == 0 {
			labels = wrap(t.words(e.Label, bold), t.Width-indent, 0)
		} else {
			labels = even(t.words(e.Label, bold), column)
		}
		before := short
		short = (column > 0 || !labelled) && max(len(labels), len(rows)) == 1
		if i > 0 && !(before && short) {
			t.blank()
		}
		if column == 0 {
			for _, r := range labels {
				t.put(indent, r)
			}
			for _, r := range rows {
				t.put(further, r)
			}
			continue
		}
		for k := range max(len(labels), len(rows)) {
			var r row
			if k < len(labels) {
				r = labels[k]
			}
			r = append(r, spaces(column+gap-r.width()))
			if k < len(rows) {
				r = append(r, rows[k]...)
			}
			t.put(indent, r)
		}
	}
}

// An alignment is the order and the widths of the laws of several ledgers.
type alignment []struct {
	law         balance.Law
	left, right int // columns
}

// newAlignment takes the order from the last ledger, which has all laws of its
// half.
func newAlignment(all []Block) alignment {
	var a alignment
	for i := len(all) - 1; i >= 0; i-- {
		for _, e := range all[i].(Equation).Ledger {
			k := a.index(e.Law)
			if k < 0 {
				k = len(a)
				a = append(a, struct {
					law         balance.Law
					left, right int
				}{law: e.Law})
			}
			left, right := sides(e)
			a[k].left, a[k].right = max(a[k].left, width(left)), max(a[k].right, width(right))
		}
	}
	return a
}

func (a alignment) index(l balance.Law) int {
	for i, x := range a {
		if x.law == l {
			return i
		}
	}
	return -1
}

// ledger writes a word for each law: "O 4 = 4", "charge −1 ≠ +2". They stand
// under those of the other lines, unless the first or several would be missing;
// where they are too wide they move together.
func (t *textWriter) ledger(l balance.Ledger, a alignment, max int) []row {
	entries := make(map[balance.Law]balance.Entry, len(l))
	laws := make([]balance.Law, len(l))
	for i, e := range l {
		entries[e.Law], laws[i] = e, e.Law
	}
	if _, ok := entries[a[0].law]; ok && len(a)-len(laws) <= 1 {
		words, total := t.entries(entries, a, 3)
		if total <= max {
			return wrap(words, max, 0)
		}
	}
	own := make(alignment, len(laws))
	for i, law := range laws {
		own[i].law = law
	}
	words, total := t.entries(entries, own, 3)
	if total > max {
		words, _ = t.entries(entries, own, 2)
	}
	return wrap(words, max, 0)
}

// entries writes the entries in the order of a, and the columns they take in
// all. Where one of a is missing its place stays empty.
func (t *textWriter) entries(all map[balance.Law]balance.Entry, a alignment, gap int) (words []word, total int) {
	space := 0
	for _, x := range a {
		e, ok := all[x.law]
		e.Law = x.law
		left, right := sides(e)
		sign, w := "=", faint
		if !e.Closed() {
			sign, w = "≠", regular
		}
		pad := func(text string, to int) string { return strings.Repeat(noBreak, max(0, to-width(text))) }
		text := e.Law.String() + noBreak + pad(left, x.left) + left + noBreak + sign + noBreak + right + pad(right, x.right)
		p := piece{t.prose(text), w}
		if ok {
			words = append(words, word{row{p}, space})
			space = 0
		} else {
			space += width(p.text)
		}
		space += gap
		total += width(p.text) + gap
	}
	return words, total - gap
}

// table writes a table, or, where it is too wide, a line for each row.
func (t *textWriter) table(b Table) {
	indent := t.indent
	widths, gap := t.columns(b, indent)
	if gap == 0 && b.Spare > 0 {
		b = b.without(b.Spare)
		widths, gap = t.columns(b, indent)
	}
	if gap == 0 {
		for _, r := range b.Rows {
			for _, line := range wrap(t.words(record(b, r), regular), t.Width-indent, 4) {
				t.put(indent, line)
			}
		}
		return
	}
	line := func(cells []Inline, w weight) {
		var r row
		for i, c := range cells {
			text := t.render(c)
			pad := spaces(widths[i] - width(text))
			if i > 0 {
				r = append(r, spaces(gap))
			}
			if b.Right[i] {
				r = append(r, pad, piece{text, w})
			} else {
				r = append(r, piece{text, w}, pad)
			}
		}
		t.put(indent, r)
	}
	if b.headed() {
		line(b.Head, faint)
	}
	for _, r := range b.Rows {
		line(r, regular)
	}
}

// columns measures the columns of a table, and says how far apart they can
// stand: 0 where they have no room.
func (t *textWriter) columns(b Table, indent int) (widths []int, gap int) {
	widths = make([]int, len(b.Head))
	total := indent
	for i, h := range b.Head {
		widths[i] = width(t.render(h))
		for _, r := range b.Rows {
			widths[i] = max(widths[i], width(t.render(r[i])))
		}
		total += widths[i]
	}
	for gap = 3; gap > 1; gap-- {
		if total+gap*(len(widths)-1) <= t.Width {
			return widths, gap
		}
	}
	return nil, 0
}

// render writes a text that is not broken.
func (t *textWriter) render(text Inline) string {
	var b strings.Builder
	for _, s := range text {
		b.WriteString(t.prose(s.Prose))
		b.WriteString(t.formula(s.Formula))
	}
	return b.String()
}

func (t *textWriter) formula(runs []chem.Run) string {
	if t.ASCII {
		return chem.PlainText(runs)
	}
	return signsOf(runs)
}

var plainSigns = strings.NewReplacer("−", "-", "×", "x", "⟶", "->", "→", "->", "≠", "=/=", "·", ".", "–", "-", "—", "-", "’", "'", "“", `"`, "”", `"`,
	"₀", "0", "₁", "1", "₂", "2", "₃", "3", "₄", "4", "₅", "5", "₆", "6", "₇", "7", "₈", "8", "₉", "9",
	"⁰", "0", "¹", "1", "²", "2", "³", "3", "⁴", "4", "⁵", "5", "⁶", "6", "⁷", "7", "⁸", "8", "⁹", "9", "⁺", "+", "⁻", "-",
	"α", "alpha", "β", "beta", "γ", "gamma", "η", "eta", "μ", "mu", "E°", "E0", "ΔG°", "dG0", "ΔG", "dG", "°", " degrees ")

func (t *textWriter) prose(s string) string {
	if !t.ASCII || isASCII(s) {
		return s
	}
	return strings.Map(func(r rune) rune {
		if r > '~' && r != '\u00a0' {
			return '?'
		}
		return r
	}, plainSigns.Replace(s))
}

func isASCII(s string) bool {
	for i := range len(s) {
		if s[i] > '~' {
			return false
		}
	}
	return true
}
