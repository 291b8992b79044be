package marking

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"halves/chem"
)

// The reader takes lines as students write them: labels in any wording, an
// electron without its sign or on the left with a minus, several statements on
// a line. What it cannot read it leaves alone.

// MaxText is how many bytes a working may have; more is unread at once.
const MaxText = 64 << 10

// maxLine is how many bytes a line may have that is read at all, maxStatements
// how many equations a working may.
const (
	maxLine       = 1500
	maxStatements = 200
)

// A term is a species with its number, on one side of a line as written.
type term struct {
	species int // index into the book of the working
	n       chem.Ratio
}

// A statement is one equation of a line, as two lists and as one vector.
type statement struct {
	line        int // from 0
	text        string
	label       label
	left, right []term       // strong electrolytes as their ions
	wrote       [2][]term    // as written, left and right
	vector      []chem.Ratio // right less left, by species; shorter than the book where the rest is zero
	plain       []chem.Ratio // the vector without what another form of a species takes; nil where there is none
	hydronium   bool         // H3O^+ was written
	dissolved   bool         // a strong electrolyte was written whole
	claim       *claim       // of oxidation states, for an equation nil
	thread      int          // index of a half, overall, or elsewhere
}

// Threads that are no half.
const (
	overall   = -1
	elsewhere = -2
	states    = -3 // a claim of oxidation states
)

// at returns the vector's number of a species.
func (s *statement) at(species int) chem.Ratio {
	if species < len(s.vector) {
		return s.vector[species]
	}
	return chem.Ratio{}
}

// has reports whether a species stands on a side.
func has(side []term, species int) bool {
	for _, t := range side {
		if t.species == species {
			return true
		}
	}
	return false
}

// on returns how much of a species stands on a side.
func on(side []term, species int) chem.Ratio {
	sum := chem.Ratio{}
	for _, t := range side {
		if t.species == species {
			sum = sum.Add(t.n)
		}
	}
	return sum
}

// A label is what words beside an equation say of it.
type label struct {
	oxidation, reduction bool
	overall              bool
	answer               bool // it is called the answer
	times                bool // it says that something was multiplied
	table                bool // it calls the line a value of a table, which is turned round where needed
	weak                 bool // it may no longer hold for the line
	comment              bool // the words of a check or a question
}

func (l label) any() bool { return l.oxidation || l.reduction || l.overall || l.answer }

// labelOf reads words. It looks for the beginnings of words that people use.
func labelOf(words string) label {
	var l label
	words = notHalves.Replace(strings.ToLower(words))
	for _, w := range strings.FieldsFunc(strings.ToLower(words), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '×' }) {
		switch {
		case strings.HasPrefix(w, "oxidant"), strings.HasPrefix(w, "oxidi") && !strings.HasSuffix(w, "ed"), strings.HasPrefix(w, "reductant"), strings.HasPrefix(w, "reducing"):
			// The oxidizing agent stands in the reduction: such words name no half.
		case strings.HasPrefix(w, "oxi"), w == "ox", strings.HasPrefix(w, "anod"):
			l.oxidation = true
		case strings.HasPrefix(w, "redu"), w == "red", strings.HasPrefix(w, "cathod"):
			l.reduction = true
		case w == "overall", w == "sum", w == "total", w == "net", strings.HasPrefix(w, "add"), strings.HasPrefix(w, "combin"), strings.HasPrefix(w, "simplif"), strings.HasPrefix(w, "cancel"), w == "whole", w == "together":
			l.overall = true
		case strings.HasPrefix(w, "final"), strings.HasPrefix(w, "answ"), w == "ans", w == "balanced", w == "result":
			l.overall, l.answer = true, true
		case strings.HasPrefix(w, "check"), strings.HasPrefix(w, "question"), w == "charge", w == "atoms", w == "name", w == "student", w == "given", w == "plan", w == "skeleton":
			l.comment = true
		case w == "table", w == "tables", strings.HasPrefix(w, "tabulat"):
			l.table = true
		case strings.HasPrefix(w, "multipl"), w == "times", len(w) > 1 && (w[0] == 'x' || strings.HasPrefix(w, "×")) && isNumber(strings.TrimLeft(w, "x×")):
			l.times = true
		}
	}
	return l
}

// notHalves takes out words that name no half.
var notHalves = strings.NewReplacer("oxidation number", "", "oxidation state", "", "oxidation-reduction", "", "reduction-oxidation", "", "redox", "")

func isNumber(s string) bool {
	if s == "" {
		return false
	}
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return false
		}
	}
	return true
}

// arrowAt returns the first arrow of a text, from and to in bytes, -1 for none:
// dashes or equals signs with a head, an arrow of its own, equals signs. Of
// "OH^-->" and "2 e-->" the first dash is a charge.
func arrowAt(s string) (from, to int) {
	from, to = firstArrow(s)
	if from < 0 {
		return from, to
	}
	if strings.HasPrefix(s[from:to], "--") && endsInCharge(s[:from]) {
		from++
	}
	return from, to
}

// firstArrow returns the first arrow by its signs alone.
func firstArrow(s string) (from, to int) {
	for i, r := range s {
		j := i
		switch r {
		case '-', '=':
			for j < len(s) && s[j] == byte(r) {
				j++
			}
			if head := j < len(s) && s[j] == '>'; head {
				j++
			} else if r == '-' {
				continue
			}
		case '—', '–', '−':
			if j += utf8.RuneLen(r); j >= len(s) || s[j] != '>' {
				continue
			}
			j++
		case '→', '⟶', '⇒', '⟹', '➔', '➝', '➞', '⇌', '⇋', '↔', '⟷', '⇔', '⟺':
			j += utf8.RuneLen(r)
		default:
			continue
		}
		if i > 0 && s[i-1] == '<' {
			i--
		}
		return i, j
	}
	return -1, 0
}

// endsInCharge reports whether a text ends so that a dash after it is the sign of
// a charge: in a caret, with a number or without, or in an electron.
func endsInCharge(s string) bool {
	t := strings.TrimRight(s, "0123456789")
	if strings.HasSuffix(t, "^") {
		return true
	}
	before, isElectron := strings.CutSuffix(s, "e")
	last, _ := utf8.DecodeLastRuneInString(before)
	return isElectron && !unicode.IsLetter(last)
}

// A piece is a statement's text with the words beside it.
type piece struct {
	equation string
	label    label
}

// pieces parts a line into statements. words is what stands beside them.
func pieces(line string) (out []piece, words string) {
	for _, part := range strings.Split(joiningWords.Replace(line), ";") {
		if from, _ := arrowAt(part); from < 0 {
			words += " " + part
			continue
		}
		label, equation := cutLabel(part)
		out = append(out, piece{equation, labelOf(label)})
	}
	return out, words
}

// joiningWords parts statements, and writes the words for an arrow as one.
var joiningWords = strings.NewReplacer(" and ", ";", " gives ", " -> ", " yields ", " -> ", " forms ", " -> ")

// cutLabel takes the words before and after an equation from it.
func cutLabel(s string) (words, equation string) {
	s = strings.TrimSpace(s)
	// "Final answer = 2 Fe^3+ + ...": that sign parts no sides.
	if from, to := arrowAt(s); from > 0 && isLabel(s[:from]) {
		if next, _ := arrowAt(s[to:]); next >= 0 {
			words, s = s[:from], strings.TrimSpace(s[to:])
		}
	}
	s = strings.TrimLeft(s, "∴⇒→➔• ")
	from, _ := arrowAt(s)
	if from < 0 {
		return words, s
	}
	if i := strings.LastIndexByte(s[:from], ':'); i >= 0 {
		words, s = words+" "+s[:i], strings.TrimSpace(s[i+1:])
	}
	// Words before a dash: "3. Oxidation x 6 - 6 Fe^2+ ...".
	for _, dash := range []string{" - ", " – ", " — ", " − "} {
		if before, after, found := strings.Cut(s, dash); found && isLabel(before) {
			words, s = words+" "+before, strings.TrimSpace(after)
			break
		}
	}
	// Words without a colon: "final answer 20 Cl^- ...", "(x5) 5 NO3^-".
	for {
		w, rest, found := strings.Cut(strings.TrimLeft(s, " \t"), " ")
		dash := words != "" && strings.Trim(w, "-–—−") == "" // "Overall - 6 Fe3O4"
		if !found || !dash && !isWord(w) {
			break
		}
		words, s = words+" "+w, strings.TrimSpace(rest)
	}
	// And after it: "... (answer)", "...   reduction".
	for {
		i := strings.LastIndexAny(s, " \t")
		if i < 0 || !isWord(s[i+1:]) {
			break
		}
		if from, to := arrowAt(s); to > i || from > i {
			break
		}
		words, s = words+" "+s[i+1:], strings.TrimRight(s[:i], " \t")
	}
	return words, s
}

// remarks are what stands behind an equation: a comment behind a sign, words or a
// number in brackets, a multiplier, a mark.
var remarks = regexp.MustCompile(`\s*(?:(?:<-|<=|\||//|#|←).*|\s[EΔ][^\s=]*\s*=.*|[\[(][^\[\]()]*[\])]|(?:\s|\*|×)\s*(?:[x×*]\s*)?\d+|[✓✔√:;)(!?]+|,?\s[A-Za-z]?[a-z]{2,}(?:\s+[A-Za-z0-9+\-]+)*|[.,])\s*$`)

// withoutRemark cuts the last remark off a text that is no equation as it stands.
func withoutRemark(s string) string {
	at := remarks.FindStringIndex(s)
	if _, to := arrowAt(s); at == nil || at[0] <= to {
		return s
	}
	return s[:at[0]]
}

// isLabel reports whether a text is all words and numbers of a label.
func isLabel(s string) bool {
	named := false
	for _, w := range strings.Fields(s) {
		bare := strings.Trim(w, "()[].,:!*#×x")
		switch {
		case isWord(w):
			named = true
		case bare != "" && !isNumber(bare):
			return false
		}
	}
	return named
}

// isWord reports whether a word is one of a label and no formula: it names a
// half or the answer, counts a step, or has three small letters in a row.
func isWord(w string) bool {
	bare := strings.Trim(w, "()[].,:!*#-–—\"'")
	if bare == "" {
		return w != "" && strings.Trim(w, "-–—.") == "" && len(w) > 0 && !strings.ContainsAny(w, "+=>") && w != "-" && w != "–" && w != "—"
	}
	lower := strings.ToLower(bare)
	if strings.HasPrefix(lower, "electron") {
		return false
	}
	l := labelOf(bare)
	switch {
	case l.any() || l.times:
		return true
	case isNumber(bare) && strings.ContainsAny(w, ".)") && w != bare: // "1." or "a)"
		return true
	case len(lower) == 1 && strings.HasSuffix(w, ")"):
		return true
	}
	small := 0
	for i := range len(bare) {
		if c := bare[i]; c >= 'a' && c <= 'z' {
			if small++; small == 3 {
				return true
			}
		} else {
			small = 0
		}
	}
	switch lower {
	case "so":
		return true
	case "is", "it", "by", "to", "of", "in", "we", "eq", "my":
		return bare == lower // Co and In are symbols
	}
	return false
}

// electronSides writes each electron of an equation as e^- and takes those with a
// minus before them out; taken is what they come to, by side, as text terms.
func electronSides(equation string, from, to int) (left, right string) {
	a, movedRight := electronsOf(equation[:from])
	b, movedLeft := electronsOf(equation[to:])
	return joined(a, movedLeft), joined(b, movedRight)
}

func joined(side string, moved []string) string {
	side = strings.TrimSpace(side)
	for _, m := range moved {
		if side != "" {
			side += " + "
		}
		side += m
	}
	return side
}

// electronsOf rewrites one side.
func electronsOf(side string) (out string, moved []string) {
	var b strings.Builder
	r := []rune(side)
	for i := 0; i < len(r); {
		n, digits, next := electronAt(r, i)
		if next < 0 {
			b.WriteRune(r[i])
			i++
			continue
		}
		// What was written of the number is taken back.
		text := b.String()
		text = text[:len(text)-digits]
		trimmed := strings.TrimRight(text, " \t\u00a0")
		if m := minusBefore(trimmed); m >= 0 && (m == 0 || len(trimmed[m:]) > 0 && len(trimmed) > m && (trimmed[m-1] == ' ' || trimmed[m-1] == '\t' || trimmed[m-1] == ')')) {
			moved = append(moved, n+" e^-")
			b.Reset()
			b.WriteString(strings.TrimRight(trimmed[:m], " \t"))
		} else {
			b.Reset()
			b.WriteString(text)
			b.WriteString(n + " e^-")
		}
		i = next
	}
	return b.String(), moved
}

// minusBefore returns where a minus sign ends the text, -1 if none does.
func minusBefore(s string) int {
	for _, m := range []string{"-", "−", "–"} {
		if strings.HasSuffix(s, m) {
			return len(s) - len(m)
		}
	}
	return -1
}

// electronAt reports whether an electron begins at i: "e", "e-", "e^-",
// "electrons". n is its number, digits the bytes that this number already took
// before i, next the place after it, -1 where there is none.
func electronAt(r []rune, i int) (n string, digits, next int) {
	if r[i] != 'e' || i > 0 && (unicode.IsLetter(r[i-1]) || r[i-1] == '^') {
		return "", 0, -1
	}
	j := i + 1
	if word := string(r[i:min(len(r), i+9)]); strings.HasPrefix(word, "electron") {
		j = i + 8
		if j < len(r) && r[j] == 's' {
			j++
		}
	} else {
		for j < len(r) && strings.ContainsRune("^({", r[j]) {
			j++
		}
		signed := j
		for j < len(r) && strings.ContainsRune("-−–⁻‑", r[j]) {
			j++
			break
		}
		if j == signed { // a bare e: what follows the e is not part of it
			j = i + 1
		}
		for j > i+1 && j < len(r) && strings.ContainsRune(")}", r[j]) {
			j++
		}
	}
	if j < len(r) && (unicode.IsLetter(r[j]) || unicode.IsDigit(r[j])) {
		return "", 0, -1
	}
	k := i
	for k > 0 && r[k-1] == ' ' {
		k--
	}
	end := k
	for k > 0 && (unicode.IsDigit(r[k-1]) || r[k-1] == '/' || r[k-1] == '.') {
		k--
	}
	if k > 0 && k < end && (unicode.IsLetter(r[k-1]) || r[k-1] == '^' || r[k-1] == ')') {
		k, end = i, i // the digits are a subscript
	}
	n = string(r[k:end])
	if n == "" {
		return "1", 0, j
	}
	return n, len(string(r[k:i])), j
}

// printable reports whether a text can be a working at all.
func printable(s string) bool {
	return utf8.ValidString(s) && !strings.ContainsRune(s, 0)
}
