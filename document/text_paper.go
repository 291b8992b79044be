package document

import (
	"strconv"
	"strings"
)

// head writes what stands at the head of the pages, once, and reports whether
// there is any.
func (t *textWriter) head(r Running) bool {
	left, right := t.words(Plain(r.Left), regular), t.words(Plain(r.Right), regular)
	if len(left)+len(right) == 0 {
		return false
	}
	t.atRight(0, wrap(left, t.Width, 0), right)
	return true
}

// foot writes what stands at the foot of the pages, once, with a gap to what is
// above it.
func (t *textWriter) foot(r Running, above bool) {
	if words := t.words(Plain(r.Foot), regular); len(words) > 0 {
		if above {
			t.blank()
		}
		for _, r := range wrap(words, t.Width, 0) {
			t.put(0, r)
		}
	}
}

// atRight writes rows, and behind the last of them what stands at the right of
// the page: on lines of its own where it has no room there.
func (t *textWriter) atRight(indent int, rows []row, right []word) {
	const gap = 2
	ends := wrap(right, t.Width-indent, 0)
	if len(rows) > 0 && len(ends) == 1 {
		last := rows[len(rows)-1]
		if free := t.Width - indent - last.width() - ends[0].width(); free >= gap {
			rows[len(rows)-1] = append(append(last, spaces(free)), ends[0]...)
			ends = nil
		}
	}
	for _, r := range rows {
		t.put(indent, r)
	}
	for _, r := range ends {
		t.put(indent, append(row{spaces(t.Width - indent - r.width())}, r...))
	}
}

// exercise writes its number hanging, the question, and the marks at the right.
func (t *textWriter) exercise(e Exercise) {
	number := strconv.Itoa(e.Number) + "."
	t.indent = max(4, width(number)+1)
	rows := wrap(t.words(e.Text, regular), t.Width-t.indent, 0)
	if len(rows) == 0 {
		rows = []row{{}}
	}
	for i, r := range rows {
		first := spaces(t.indent)
		if i == 0 {
			first = piece{number + strings.Repeat(" ", t.indent-width(number)), bold}
		}
		rows[i] = append(row{first}, r...)
	}
	t.atRight(0, rows, t.words(Plain(e.Marks), regular))
}

// choices writes a list with letters.
func (t *textWriter) choices(c Choices) {
	for i, x := range c.Items {
		letter := Letter(i) + ". "
		hang := width(letter)
		text, w := x.Text, regular
		if x.Right {
			text, w = Join(text, Plain(" ("+rightSaid+")")), bold
		}
		rows := wrap(t.words(text, w), t.Width-t.indent-hang, 0)
		if len(rows) == 0 {
			rows = []row{{}}
		}
		for k, r := range rows {
			first := spaces(hang)
			if k == 0 {
				first = piece{letter, w}
			}
			t.put(t.indent, append(row{first}, r...))
		}
		for _, r := range fill(t.words(x.Note, faint), t.Width-t.indent-hang) {
			t.put(t.indent+hang, r)
		}
	}
}

// space writes lines of underscores, with room to write above each.
func (t *textWriter) space(s Space) {
	rows := wrap(t.words(s.Label, regular), t.Width-t.indent, 0)
	lines := max(s.Lines, 1)
	full := t.Width - t.indent
	if n := len(rows); n > 0 {
		if free := full - rows[n-1].width() - 1; free >= full/3 {
			rows[n-1] = append(rows[n-1], spaces(1), piece{strings.Repeat("_", free), faint})
			lines--
		}
	}
	for _, r := range rows {
		t.put(t.indent, r)
	}
	for i := range lines {
		if i > 0 || len(rows) > 0 {
			t.blank()
		}
		t.put(t.indent, row{{strings.Repeat("_", full), faint}})
	}
}

// fields writes labels with lines of underscores behind them, on as few lines as
// have room.
func (t *textWriter) fields(f Fields) {
	const (
		least = 8 // underscores
		gap   = 2
	)
	room := t.Width - t.indent
	var line []string
	used := 0
	put := func() {
		free := room - used
		var r row
		for i, label := range line {
			if i > 0 {
				r = append(r, spaces(gap))
			}
			n := free / (len(line) - i)
			free -= n
			r = append(r, piece{label + " ", regular}, piece{strings.Repeat("_", least+n), faint})
		}
		t.put(t.indent, r)
		line, used = nil, 0
	}
	for _, label := range f.Labels {
		label, _ = split(t.render(Plain(label)), max(room-least-1, 1))
		w := width(label) + 1 + least
		if len(line) > 0 && used+gap+w > room {
			put()
			t.blank()
		}
		if len(line) > 0 {
			used += gap
		}
		line, used = append(line, label), used+w
	}
	if len(line) > 0 {
		put()
	}
}

// said writes what is said on a slide, behind what is seen.
func (t *textWriter) said() {
	if len(t.notes) == 0 {
		return
	}
	t.blank()
	t.put(t.indent, row{{notesSaid + ":", bold}})
	for i, note := range t.notes {
		if i > 0 {
			t.blank()
		}
		for _, r := range fill(t.words(note, regular), t.Width-t.indent-usualIndent) {
			t.put(t.indent+usualIndent, r)
		}
	}
	t.notes = nil
}
