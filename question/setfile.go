package question

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"halves/chem"
	"halves/marking"
	"halves/redox"
	"halves/reference"

	_ "embed"
)

// Schema is the JSON Schema (2020-12) of the file of a set.
//
//go:embed set.schema.json
var Schema []byte

// formatName marks a file of a set.
const formatName = "halves-set"

// MaxSet is how many bytes a file of a set may have.
const MaxSet = 16 << 20

type setJSON struct {
	Format   string         `json:"format"` // "halves-set"
	Edition  int            `json:"edition"`
	Code     string         `json:"code"`
	Wish     map[string]any `json:"wish"`
	Notes    []string       `json:"notes,omitempty"`
	Versions []versionJSON  `json:"versions"`
}

type versionJSON struct {
	Letter string     `json:"letter"`
	Code   string     `json:"code"`
	Items  []itemJSON `json:"items"`
}

type itemJSON struct {
	Number     int          `json:"number"`
	Slot       int          `json:"slot"`
	ID         string       `json:"id"`
	Question   string       `json:"question"` // the skeleton
	Medium     redox.Medium `json:"medium"`
	Ask        Ask          `json:"ask"`
	Worth      int          `json:"worth"`
	Difficulty json.Number  `json:"difficulty"` // 1.0 to 10.0
	Features   []string     `json:"features"`
	Answer     string       `json:"answer"`
	Electrons  int64        `json:"electrons,omitempty"`
	Couples    []string     `json:"couples,omitempty"`
	Source     string       `json:"source,omitempty"`
	Note       string       `json:"note,omitempty"`
	Options    []optionJSON `json:"options,omitempty"`
	Working    *workingJSON `json:"working,omitempty"`
	Reversed   bool         `json:"reversed,omitempty"`
}

type optionJSON struct {
	Text  string       `json:"text"`
	Right bool         `json:"right,omitempty"`
	Kind  marking.Kind `json:"kind,omitempty"`
	Shows string       `json:"shows,omitempty"`
}

type workingJSON struct {
	Kind  marking.Kind `json:"kind"`
	Line  int          `json:"line"`
	Lines []string     `json:"lines"`
}

// MarshalJSON writes the set as a file.
func (s *Set) MarshalJSON() ([]byte, error) {
	j := setJSON{Format: formatName, Edition: 1, Code: s.Code, Wish: s.Wish.lines(), Notes: s.Notes}
	for _, v := range s.Versions {
		w := versionJSON{Letter: v.Letter, Code: v.Code}
		for _, x := range v.Items {
			q := x.Question
			i := itemJSON{Number: x.Number, Slot: x.Slot, ID: q.ID, Question: q.Text, Medium: q.Medium, Ask: x.Ask, Worth: x.Worth,
				Difficulty: json.Number(q.Difficulty.String()), Features: q.Features.Names(), Answer: q.answer.String(), Electrons: q.Electrons,
				Couples: q.Couples, Source: q.Source, Note: q.Note, Reversed: x.Reversed}
			for _, o := range x.Options {
				i.Options = append(i.Options, optionJSON{o.Text, o.Right, o.Kind, o.Shows})
			}
			if x.Working != nil {
				i.Working = &workingJSON{x.Working.Kind, x.Working.Line, x.Working.Lines}
			}
			w.Items = append(w.Items, i)
		}
		j.Versions = append(j.Versions, w)
	}
	return json.Marshal(j)
}

// lines are the wishes that differ from the usual ones, by their names.
func (w *Wish) lines() map[string]any {
	usual := NewWish()
	out := map[string]any{}
	for _, k := range keys {
		v := k.Get(w)
		switch {
		case slices.Equal(v, k.Get(&usual)):
		case k.List:
			out[k.Name] = v
		default:
			out[k.Name] = v[0]
		}
	}
	return out
}

// ReadSet reads a file of a set. Each question is worked again, each option
// proved again, and the codes are counted again: what was changed by hand is
// told in the notes. couples may be nil for the program's own. The error is a
// *FileError.
func ReadSet(text []byte, couples *reference.CoupleTable) (*Set, error) {
	if len(text) > MaxSet {
		return nil, &FileError{Msg: fmt.Sprintf("a set may have %d bytes, and this file has %d", MaxSet, len(text))}
	}
	var j setJSON
	d := json.NewDecoder(bytes.NewReader(text))
	if err := d.Decode(&j); err != nil {
		e := &FileError{Msg: "this is no set: " + jsonFault(err), Tip: "halves set new -o FILE.json makes one", Err: err}
		var syntax *json.SyntaxError
		if errors.As(err, &syntax) {
			e.Line, e.Column = placeOf(text, int(syntax.Offset))
		}
		return nil, e
	}
	if _, err := d.Token(); err != io.EOF {
		return nil, &FileError{Msg: "more stands in this file than one set", Tip: "keep one set in one file"}
	}
	if j.Format != formatName || j.Edition != 1 {
		return nil, &FileError{Msg: fmt.Sprintf("this is no set of this program: its format is %q, edition %d", j.Format, j.Edition), Tip: "halves set new -o FILE.json makes one"}
	}
	if couples == nil {
		couples = reference.Couples()
	}
	s := &Set{Wish: NewWish(), Notes: j.Notes}
	if err := s.Wish.take(j.Wish); err != nil {
		return nil, err
	}
	if len(j.Versions) == 0 || len(j.Versions) > MostVersions {
		return nil, &FileError{Msg: fmt.Sprintf("a set has 1 to %d versions, and this file has %d", MostVersions, len(j.Versions))}
	}
	known := map[string]*reference.Couple{}
	for _, c := range couples.All() {
		known[c.ID] = c
	}
	for i, v := range j.Versions {
		w := Version{Letter: string(rune('A' + i))}
		if len(v.Items) > MostQuestions {
			return nil, &FileError{Msg: fmt.Sprintf("version %s has %d questions; a set has at most %d", w.Letter, len(v.Items), MostQuestions)}
		}
		for k, x := range v.Items {
			item, err := x.item(known)
			if err != nil {
				return nil, &FileError{Msg: fmt.Sprintf("version %s, question %d: %v", w.Letter, k+1, err), Tip: "make the set again, or mend the line by hand", Err: err}
			}
			item.Number = k + 1
			w.Items = append(w.Items, item)
		}
		w.Code = code(w.text()) + "-" + w.Letter
		if v.Code != w.Code {
			s.Notes = appendOnce(s.Notes, fmt.Sprintf("Version %s was changed after it was made: its check code was %s and is %s now.", w.Letter, v.Code, w.Code))
		}
		s.Versions = append(s.Versions, w)
	}
	var all strings.Builder
	for _, v := range s.Versions {
		all.WriteString(v.text())
	}
	s.Code = code(all.String())
	s.Wish.Versions = len(s.Versions)
	s.Wish.Questions = len(s.Versions[0].Items)
	return s, nil
}

func appendOnce(all []string, s string) []string {
	if slices.Contains(all, s) {
		return all
	}
	return append(all, s)
}

// jsonFault says what is wrong with a text that is no JSON, or other JSON than a
// set.
func jsonFault(err error) string {
	var kind *json.UnmarshalTypeError
	switch {
	case errors.As(err, &kind):
		return fmt.Sprintf("%s has a value of the wrong kind (%s)", kind.Field, kind.Value)
	case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF):
		return "the file ends too early"
	}
	return "it is not JSON"
}

// placeOf returns line and column, from 1, of a byte.
func placeOf(text []byte, offset int) (line, column int) {
	before := text[:min(max(offset-1, 0), len(text))]
	return bytes.Count(before, []byte("\n")) + 1, len(before) - bytes.LastIndexByte(before, '\n')
}

// take reads the wish of a file.
func (w *Wish) take(lines map[string]any) error {
	for _, k := range keys {
		v, ok := lines[k.Name]
		if !ok {
			continue
		}
		var values []string
		switch v := v.(type) {
		case string:
			values = []string{v}
		case []any:
			for _, x := range v {
				values = append(values, fmt.Sprint(x))
			}
		default:
			values = []string{fmt.Sprint(v)}
		}
		if err := k.Set(w, values); err != nil {
			return &FileError{Msg: "the wish in this set: " + err.Error(), Tip: k.Name + ": " + k.Help, Err: err}
		}
	}
	return nil
}

// item works a question of a file again.
func (x itemJSON) item(known map[string]*reference.Couple) (Item, error) {
	q, err := New(x.ID, x.Question, x.Medium)
	if err != nil {
		return Item{}, err
	}
	q.Source, q.Note = x.Source, x.Note
	if len(x.Couples) == 2 && known[x.Couples[0]] != nil && known[x.Couples[1]] != nil {
		if !ofPair(q, known[x.Couples[0]], known[x.Couples[1]]) {
			return Item{}, errors.New("its couples are not those of the question")
		}
		q.Couples = x.Couples
		q.pair = [2]*reference.Couple{known[x.Couples[0]], known[x.Couples[1]]}
		q.volts = q.pair[0].Volts - q.pair[1].Volts
	}
	a, err := ParseAsk(string(x.Ask))
	if err != nil {
		return Item{}, err
	}
	if !q.can(a) {
		return Item{}, fmt.Errorf("%q cannot be asked of it", a)
	}
	if x.Worth < 0 || x.Worth > 100 {
		return Item{}, fmt.Errorf("it cannot be worth %d marks", x.Worth)
	}
	out := Item{Slot: x.Slot, Question: q, Ask: a, Worth: x.Worth, Reversed: x.Reversed}
	right := 0
	for _, o := range x.Options {
		option, err := o.option(q, a)
		if err != nil {
			return out, err
		}
		if option.Right {
			right++
		}
		out.Options = append(out.Options, option)
	}
	if err := checkOptions(out.Options, right); err != nil {
		return out, err
	}
	if a == FindError && x.Working == nil {
		return out, errors.New("it has no working with a slip")
	}
	if x.Working != nil {
		s, err := q.Work(redox.Conventions{})
		if err != nil {
			return out, err
		}
		m, err := marking.NewQuestion(s)
		if err != nil {
			return out, err
		}
		r := m.Judge(strings.Join(x.Working.Lines, "\n"))
		if r.FirstSlip == 0 {
			return out, errors.New("its working with a slip has none")
		}
		out.Working = &marking.Route{Kind: r.Kind, Line: r.FirstSlip, Lines: x.Working.Lines, Answer: x.Working.Lines[len(x.Working.Lines)-1]}
	}
	return out, nil
}

// checkOptions refuses options that are too few or not told apart.
func checkOptions(all []Option, right int) error {
	if len(all) == 0 {
		return nil
	}
	if right != 1 {
		return fmt.Errorf("%d of its options are right; there must be one", right)
	}
	if len(all) < 3 || len(all) > MostChoices {
		return fmt.Errorf("it has %d options; there must be 3 to %d", len(all), MostChoices)
	}
	for i, o := range all {
		if slices.ContainsFunc(all[:i], func(p Option) bool { return p.Text == o.Text }) {
			return fmt.Errorf("the option %q stands twice", o.Text)
		}
	}
	return nil
}

// ofPair reports whether a question is made of two couples.
func ofPair(q *Question, red, ox *reference.Couple) bool {
	var all []string
	for _, terms := range [][]chem.Term{red.Half.Left, red.Half.Right, ox.Half.Left, ox.Half.Right} {
		for _, s := range mains(terms) {
			if !isWater(s) {
				all = append(all, s.Key())
			}
		}
	}
	return !slices.ContainsFunc(all, func(k string) bool { return !slices.Contains(q.species, k) }) &&
		!slices.ContainsFunc(q.species, func(k string) bool { return !slices.Contains(all, k) })
}

// option proves an option again: the right one is the answer, the others are not.
func (o optionJSON) option(q *Question, a Ask) (Option, error) {
	out := Option{Text: o.Text, Right: o.Right, Kind: o.Kind, Shows: o.Shows}
	switch a {
	case Balance:
		r, err := chem.ReadEquation(o.Text, reference.Species())
		if err != nil {
			return out, err
		}
		out.Runs = r.All[0].Equation.Runs(chem.Style{})
		_, wrong := wrongEquation(o.Text, q)
		if o.Right != alike(r.All[0].Equation, q.answer) || o.Right == wrong {
			return out, fmt.Errorf("the option %q is not what it is said to be", o.Text)
		}
	case Electrons:
		out.Runs = []chem.Run{{Text: o.Text}}
		if o.Right != (o.Text == fmt.Sprint(q.Electrons)) {
			return out, fmt.Errorf("the option %q is not what it is said to be", o.Text)
		}
	default:
		r, err := chem.ReadSpecies(o.Text, reference.Species())
		if err != nil {
			return out, err
		}
		out.Runs = r[0].Species.Runs()
		s, err := q.Work(redox.Conventions{})
		if err != nil {
			return out, err
		}
		if o.Right != slices.ContainsFunc(s.Reduced, r[0].Species.Same) {
			return out, fmt.Errorf("the option %q is not what it is said to be", o.Text)
		}
	}
	return out, nil
}
