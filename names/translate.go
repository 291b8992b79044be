package names

import (
	"strings"
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
// dioxide), which become statements parted by semicolons. A lead-in ("Balance
// the equation:") is left out. A phrase that names the medium at the end is left
// alone. The error is a *chem.SyntaxError that
// points into the text as typed.
func Translate(text string) (Translation, error) {
	if !wordy(text) || len(text) > maxText || !utf8.ValidString(text) {
		return Translation{Typed: text, Text: text}, nil
	}
	body := mediumAt(text)
	t := translator{text: text, body: body}
	lead := leadWidth(text[:body])
	t.drop(0, lead)
	for i := lead; i < body; {
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

// maxText is the longest text that may hold names, in bytes; package chem
// refuses longer lines of letters.
const maxText = chem.MaxLine

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
	body         int // the end of the statements, where the medium begins
	out          strings.Builder
	replacements []Replacement
	pieces       []piece

	subjects     []subject // of all statements, where they were read
	subjectsRead bool
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

// make writes text that follows from the token k.
func (t *translator) make(k token, text string) {
	start := t.out.Len()
	t.out.WriteString(text)
	t.pieces = append(t.pieces, piece{start, t.out.Len(), k.start, k.end - k.start, false})
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
	if lastArrow(t.text[i:j]) < 0 {
		if done, err := t.sentence(i, j); done || err != nil {
			return err
		}
	}
	return t.equation(i, j)
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
