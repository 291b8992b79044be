package names

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"halves/chem"
)

// A Replacement is a name that stood in a text.
type Replacement struct {
	Offset, Width int           // bytes of the text as typed
	Start, End    int           // bytes of the text with formulas
	Name          string        // as typed, its number left out
	Species       *chem.Species // nil for a word of the sentence, such as "becomes"
}

// A Translation is a question with formulas in the place of names.
type Translation struct {
	Typed, Text  string
	Replacements []Replacement // in the order of Text; nil where nothing was a name

	pieces []piece // cover Text in order; nil where it is as typed
}

// A piece is a stretch of the text with formulas and what it stands for.
type piece struct {
	start, end    int // bytes of the text with formulas
	offset, width int // bytes of the text as typed
	copied        bool
}

// Translate writes a question that names species, or says in words what
// becomes what, as equations in formulas; what is a formula stays. Names stand
// in equations (permanganate ion + oxalic acid -> ...), in word equations
// (zinc and sulfuric acid form zinc sulfate and hydrogen), and in pairs
// (permanganate becomes manganese(II) while oxalic acid becomes carbon
// dioxide), which become statements parted by semicolons. A phrase that names
// the medium at the end is left alone. The error is a *chem.SyntaxError that
// points into the text as typed.
func Translate(text string) (Translation, error) {
	if !wordy(text) || len(text) > maxText || !utf8.ValidString(text) {
		return Translation{Typed: text, Text: text}, nil
	}
	t := translator{text: text}
	body := mediumAt(text)
	for i := 0; i < body; {
		end := i
		for end < body && text[end] != ';' {
			end++
		}
		if err := t.statement(i, end); err != nil {
			return Translation{Typed: text, Text: text}, err
		}
		if end < body {
			end++
			t.copy(end-1, end)
		}
		i = end
	}
	if len(t.replacements) == 0 {
		return Translation{Typed: text, Text: text}, nil
	}
	t.copy(body, len(text))
	return Translation{Typed: text, Text: t.out.String(), Replacements: t.replacements, pieces: t.pieces}, nil
}

// maxText is the longest text that may hold names; package chem refuses longer
// lines.
const maxText = 4 * chem.MaxLine

// Back returns where in the text as typed a place of the text with formulas
// stands. A place within the formula of a name gives the whole name.
func (t Translation) Back(offset, width int) (int, int) {
	if t.pieces == nil {
		return clamp(offset, width, len(t.Typed))
	}
	offset, width = clamp(offset, width, len(t.Text))
	from, to := -1, -1
	for _, p := range t.pieces {
		if p.end < offset || p.start > offset+width || width > 0 && (p.end == offset || p.start == offset+width) {
			continue
		}
		a, b := p.offset, p.offset+p.width
		if p.copied {
			a += max(0, offset-p.start)
			b = min(b, p.offset+max(0, offset+width-p.start))
		}
		if from < 0 || a < from {
			from = a
		}
		to = max(to, b)
		if width == 0 {
			break
		}
	}
	if from < 0 {
		return len(t.Typed), 0
	}
	return from, max(0, to-from)
}

func clamp(offset, width, length int) (int, int) {
	offset = min(max(offset, 0), length)
	return offset, min(max(width, 0), length-offset)
}

// wordy reports whether a text may hold a name or a word: two small letters
// side by side, but for the mark (aq), or five capitals.
func wordy(text string) bool {
	small, large := 0, 0
	for i := range len(text) {
		switch c := text[i]; {
		case c >= 'a' && c <= 'z':
			large = 0
			if small++; small == 2 && !(c == 'q' && text[i-1] == 'a' && i > 1 && text[i-2] == '(') {
				return true
			}
		case c >= 'A' && c <= 'Z':
			small = 0
			if large++; large == 5 {
				return true
			}
		default:
			small, large = 0, 0
		}
	}
	return false
}

// A translator writes the text with formulas.
type translator struct {
	text         string
	out          strings.Builder
	replacements []Replacement
	pieces       []piece
}

// copy takes over bytes i to j as they were typed.
func (t *translator) copy(i, j int) {
	if i >= j {
		return
	}
	start := t.out.Len()
	t.out.WriteString(t.text[i:j])
	t.pieces = append(t.pieces, piece{start, t.out.Len(), i, j - i, true})
}

// put writes text in the place of bytes i to j.
func (t *translator) put(i, j int, text string, s *chem.Species) {
	start := t.out.Len()
	t.out.WriteString(text)
	t.pieces = append(t.pieces, piece{start, t.out.Len(), i, j - i, false})
	t.replacements = append(t.replacements, Replacement{Offset: i, Width: j - i, Start: start, End: t.out.Len(), Name: t.text[i:j], Species: s})
}

// insert writes text that was not typed, at byte i.
func (t *translator) insert(i int, text string) {
	start := t.out.Len()
	t.out.WriteString(text)
	t.pieces = append(t.pieces, piece{start, t.out.Len(), i, 0, false})
}

// join writes a sign in the place of the words from byte i to j, which may be
// none.
func (t *translator) join(i, j int, sign string) {
	for i < j && t.text[i] == ' ' {
		i++
	}
	for j > i && t.text[j-1] == ' ' {
		j--
	}
	t.insert(i, " ")
	if i < j {
		t.put(i, j, sign, nil)
	} else {
		t.insert(i, sign)
	}
	t.insert(max(i, j), " ")
}

func (t *translator) fail(i, j int, msg, hint string) error {
	return &chem.SyntaxError{Text: t.text, Offset: i, Width: j - i, Msg: msg, Hint: hint}
}

// statement translates bytes i to j.
func (t *translator) statement(i, j int) error {
	if !wordy(t.text[i:j]) {
		t.copy(i, j)
		return nil
	}
	if !hasArrow(t.text[i:j]) {
		if done, err := t.sentence(i, j); done || err != nil {
			return err
		}
	}
	return t.equation(i, j)
}

// equation translates the names between plus signs and arrows and copies the
// rest. Where a name stands, "and" and a comma part terms too.
func (t *translator) equation(i, j int) error {
	start, before := i, len(t.replacements)
	for _, d := range t.delimiters(i, j) {
		if err := t.term(start, d.start); err != nil {
			return err
		}
		switch {
		case d.text == "":
			// A name gives way to a formula that may end in a sign: MnO4^-->.
			last := len(t.pieces) - 1
			apart := last >= 0 && !t.pieces[last].copied && t.pieces[last].width > 0
			if apart {
				t.insert(d.start, " ")
			}
			t.copy(d.start, d.end)
			if apart && d.end < j && t.text[d.end] != ' ' {
				t.insert(d.end, " ")
			}
		case len(t.replacements) == before && !t.named(d.end, j):
			t.copy(d.start, d.end)
		default:
			t.put(d.start, d.end, d.text, nil)
		}
		start = d.end
	}
	return t.term(start, j)
}

// named reports whether bytes i to j hold something like a name.
func (t *translator) named(i, j int) bool {
	for _, word := range strings.FieldsFunc(t.text[i:j], func(r rune) bool { return !unicode.IsLetter(r) }) {
		if nameLike(word) && !strings.EqualFold(word, "and") {
			return true
		}
	}
	return false
}

// A delimiter parts terms.
type delimiter struct {
	start, end int
	text       string // what it becomes, "" if it stays
}

// delimiters finds what parts the terms of an equation.
func (t *translator) delimiters(i, j int) []delimiter {
	var all []delimiter
	depth, last := 0, i
	add := func(from, to int, text string) {
		all = append(all, delimiter{from, to, text})
		last = to
	}
	for k := i; k < j; {
		r, w := utf8.DecodeRuneInString(t.text[k:])
		next := k + w
		switch {
		case r == '(' || r == '[' || r == '{':
			depth++
		case r == ')' || r == ']' || r == '}':
			depth = max(0, depth-1)
		case depth > 0:
		case isPlus(r):
			if k > i && t.text[k-1] == ' ' || nameLike(t.text[last:k]) || nameFollows(t.text[next:j]) {
				add(k, next, "")
			}
		case arrowWidth(t.text[k:j]) > 0:
			next = k + arrowWidth(t.text[k:j])
			add(k, next, "")
		case r == ',' && next < j && t.text[next] == ' ':
			if rest := strings.TrimLeft(t.text[next:j], " "); hasWord(rest, "and") {
				next = j - len(rest) + len("and")
			}
			add(k, next, " +")
		case k > i && t.text[k-1] == ' ' && hasWord(t.text[k:j], "and"):
			next = k + len("and")
			if !hasArrow(t.text[next:j]) { // else a second statement begins here
				add(k, next, "+")
			} else {
				add(k, next, "")
			}
		case k > i && t.text[k-1] == ' ' && isSmall(t.text[k]):
			for _, w := range [...]string{"while", "whereas", "whilst"} {
				if hasWord(t.text[k:j], w) && hasArrow(t.text[k:j]) {
					next = k + len(w)
					add(k, next, ";")
				}
			}
		}
		k = next
	}
	return all
}

func isPlus(r rune) bool { return r == '+' || r == '＋' || r == '﹢' || r == '➕' }

// arrows are the characters that package chem reads as an arrow.
const arrows = "→⟶⇌⇄⇆⇋⇒⟹⇔⟷↔⟺⭢➔➙➛➜➝➞➟➡⇨⇾↦⟼⥂⮕🡒⇀⇁￫🠖＝←⟵⇐⇦"

// arrowWidth returns the bytes of the arrow that begins s, 0 for none.
func arrowWidth(s string) int {
	switch c := s[0]; {
	case c == '-' || c == '=' || c == '<':
		n := 1
		for n < len(s) && (s[n] == '-' || s[n] == '=') {
			n++
		}
		switch {
		case n < len(s) && s[n] == '>':
			return n + 1
		case strings.Contains(s[:n], "=") && c != '<':
			return n
		}
	case c >= utf8.RuneSelf:
		if r, w := utf8.DecodeRuneInString(s); strings.ContainsRune(arrows, r) {
			return w
		}
	}
	return 0
}

func hasArrow(s string) bool {
	for i := range s {
		if arrowWidth(s[i:]) > 0 {
			return true
		}
	}
	return false
}

// hasWord reports whether s begins with a word, in any letters.
func hasWord(s, word string) bool {
	return len(s) >= len(word) && strings.EqualFold(s[:len(word)], word) && (len(s) == len(word) || !isLetter(s[len(word)]))
}

func isLetter(c byte) bool { return isSmall(c) || c >= 'A' && c <= 'Z' }
func isSmall(c byte) bool  { return c >= 'a' && c <= 'z' }
func isDigit(c byte) bool  { return c >= '0' && c <= '9' }

// nameLike reports whether a term looks like a name: it holds three small
// letters side by side, or a capital and two small ones, or only capitals,
// five and more, that are no formula.
func nameLike(s string) bool {
	small, capitals := 0, 0
	for i := range len(s) {
		switch c := s[i]; {
		case isSmall(c):
			if small++; small == 3 || small == 2 && i > 1 && s[i-2] >= 'A' && s[i-2] <= 'Z' {
				return true
			}
			continue
		case c >= 'A' && c <= 'Z':
			capitals++
		}
		small = 0
	}
	if capitals >= 5 && !strings.ContainsFunc(s, func(r rune) bool { return r >= '0' && r <= '9' || r == '^' || r >= 'a' && r <= 'z' }) {
		_, err := chem.ReadSpecies(s, nil)
		return err != nil
	}
	return false
}

// nameFollows reports whether s begins with a small letter of a name.
func nameFollows(s string) bool {
	n := 0
	for n < len(s) && isSmall(s[n]) {
		n++
	}
	return n >= 3
}

// term translates one term, bytes i to j with the spaces around it.
func (t *translator) term(i, j int) error {
	from, to := i, j
	for from < to && t.text[from] == ' ' {
		from++
	}
	for to > from && t.text[to-1] == ' ' {
		to--
	}
	if !nameLike(t.text[from:to]) {
		t.copy(i, j)
		return nil
	}
	from += coefficientWidth(t.text[from:to])
	phase := to
	for _, p := range [...]string{"(s)", "(l)", "(g)", "(aq)"} {
		if strings.HasSuffix(t.text[from:to], p) {
			phase = to - len(p)
		}
	}
	bare := phase // the end of the name
	for bare > from && t.text[bare-1] == ' ' {
		bare--
	}
	name := t.text[from:bare]
	if strings.HasSuffix(name, ".") {
		name, bare = name[:len(name)-1], bare-1
	}
	if !nameLike(name) || strings.ContainsFunc(name, foreign) {
		t.copy(i, j)
		return nil
	}
	s, err := Find(name)
	if err != nil {
		if a, b, ok := formulaWithin(name); ok { // Fe^3+ ions, solid I2
			t.copy(i, from)
			t.drop(from, from+a)
			t.copy(from+a, from+b)
			t.drop(from+b, bare)
			t.copy(bare, j)
			return nil
		}
		if wrongCase(name) {
			t.copy(i, j)
			return nil
		}
		return t.noName(from, bare, err)
	}
	t.copy(i, from)
	t.put(from, bare, s.String(), s)
	t.copy(bare, j)
	return nil
}

// drop leaves out bytes i to j, the word "ions" after a formula.
func (t *translator) drop(i, j int) {
	if i < j {
		t.put(i, j, "", nil)
	}
}

// foreign reports whether a character stands in no name: package chem then
// says what is wrong with it.
func foreign(r rune) bool {
	return !(r < utf8.RuneSelf && (isLetter(byte(r)) || isDigit(byte(r))) || strings.ContainsRune(" ()[],'.+-^–−‐‑’ \u00a0", r))
}

// noName makes the error for a name that was not found.
func (t *translator) noName(i, j int, err error) error {
	var open *NumberError
	var unknown *UnknownError
	switch {
	case errors.As(err, &open):
		return t.fail(i, j, fmt.Sprintf("%q does not say which ion of the metal is meant", open.Name), "give the number: "+either(open.Choices))
	case errors.As(err, &unknown) && len(unknown.Near) > 0:
		return t.fail(i, j, fmt.Sprintf("no species is called %q", unknown.Name), "did you mean "+either(unknown.Near)+"?")
	}
	return t.fail(i, j, fmt.Sprintf("no species is called %q", t.text[i:j]), "write its formula, or another name")
}

// coefficientWidth returns the bytes of a number before a name, with the
// spaces after it: "2 ", "1/2 ", "5". The number in 2-hydroxypropanoic acid is
// part of the name.
func coefficientWidth(s string) int {
	i := 0
	for i < len(s) {
		r, w := utf8.DecodeRuneInString(s[i:])
		if !(r >= '0' && r <= '9' || i > 0 && (r == '/' || r == '.' || r == ',' || r == '⁄') && i+w < len(s) && isDigit(s[i+w]) || unicode.Is(unicode.No, r)) {
			break
		}
		i += w
	}
	if i == 0 {
		return 0
	}
	k := i
	for k < len(s) && (s[k] == ' ' || s[k] == '*') {
		k++
	}
	if k < len(s) && isLetter(s[k]) && s[k] != 'x' {
		return k
	}
	return 0
}

// formulaWithin finds the formula among words such as "ions" or "solid".
func formulaWithin(name string) (from, to int, ok bool) {
	to = len(name)
	isWord := func(w string) bool {
		w = strings.ToLower(w)
		return w != "" && strings.Contains(descriptions+"ion ions anion anions cation cations atom atoms ", " "+w+" ")
	}
	for {
		rest := name[from:to]
		first, _, found := strings.Cut(rest, " ")
		if found && isWord(first) {
			from += len(first) + 1
			continue
		}
		if i := strings.LastIndexByte(rest, ' '); i >= 0 && isWord(rest[i+1:]) {
			to = from + i
			continue
		}
		break
	}
	return from, to, to > from && to-from < len(name) && !nameLike(name[from:to])
}

// wrongCase reports whether a term is a formula of the table in the wrong
// capitals: naoh. Package chem has an error for that.
func wrongCase(term string) bool {
	if len(term) > 16 || strings.Contains(term, " ") {
		return false
	}
	return recased(strings.ToLower(term), 0, make([]byte, 0, len(term)))
}

func recased(s string, i int, made []byte) bool {
	if i == len(s) {
		r, err := chem.ReadSpecies(string(made), nil)
		return err == nil && slices.ContainsFunc(r, func(r chem.SpeciesReading) bool { return known(r.Species) != nil })
	}
	if !isSmall(s[i]) {
		return recased(s, i+1, append(made, s[i]))
	}
	upper := s[i] - ('a' - 'A')
	if _, ok := chem.ElementBySymbol(string(rune(upper))); ok && recased(s, i+1, append(made, upper)) {
		return true
	}
	if i+1 < len(s) && isSmall(s[i+1]) {
		if _, ok := chem.ElementBySymbol(string([]byte{upper, s[i+1]})); ok {
			return recased(s, i+2, append(made, upper, s[i+1]))
		}
	}
	return false
}

// mediumWords are the words of a phrase that names the medium; those before
// the bar name one.
const mediumWords = " acid acidic acidified base basic alkaline alkali neutral none nothing dry | in under an a the solution medium conditions aqueous hot cold dilute concentrated strongly weakly water added "

// mediumAt returns where a phrase such as ", in acidic solution" begins at the
// end of a text, or its length.
func mediumAt(text string) int {
	end, named := len(text), false
	for {
		i := end
		for i > 0 && strings.IndexByte(" \t\r\n.()", text[i-1]) >= 0 {
			i--
		}
		j := i
		for j > 0 && isLetter(text[j-1]) {
			j--
		}
		if j == i || j > 0 && strings.IndexByte(" \t\r\n,;(", text[j-1]) < 0 {
			break
		}
		at := strings.Index(mediumWords, " "+strings.ToLower(text[j:i])+" ")
		if at < 0 {
			break
		}
		named = named || at < strings.IndexByte(mediumWords, '|')
		end = j
	}
	if !named || end == len(text) {
		return len(text)
	}
	before := strings.TrimRight(text[:end], " \t\r\n")
	parted := before != "" && strings.IndexByte(",;(", before[len(before)-1]) >= 0
	if parted {
		return len(before) - 1
	}
	if hasWord(text[end:], "in") || hasWord(text[end:], "under") {
		return len(before)
	}
	return len(text)
}
