package question

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"halves/chem"
	"halves/redox"
	"halves/reference"
)

// Bounds of a wish.
const (
	MostQuestions = 200
	MostVersions  = 8 // A to H
	MostChoices   = 6
	MostSeats     = 40 // rows, and columns
)

// Where questions come from.
const (
	FromCouples = "couples"
	FromLibrary = "library"
	FromBoth    = "both"
)

// The orders of a set.
const (
	Rising   = "rising"   // the easiest first
	Stepwise = "stepwise" // each adds one feature that was not there before
	Mixed    = "mixed"
)

// Which species a set may hold.
const (
	Taught = "taught" // what a first course meets
	Any    = "any"
)

// A Wish says what a set should hold. NewWish returns the usual one.
type Wish struct {
	Title, Course, Section string

	Questions int
	Versions  int
	From      string
	Ask       []Ask
	Choices   int // answers to choose from; 0 for none
	Worth     int // marks of a question; 0 for the usual scheme of its ask
	Media     []redox.Medium
	Want      Features // each at least once
	Avoid     Features
	Least     Tenths
	Most      Tenths
	Order     string
	Shuffle   bool // each version after A in an order of its own
	Species   string
	Only      []*chem.Species // nil for no limit; water and its ions are always let in
	Couples   []*chem.Species // at least one of them in each question; nil for no wish
	Margin    int             // by which the potentials must differ, in millivolts
	Slow      bool            // let in what goes on paper and is slow
	Rows      int             // of seats; 0 for no plan
	Columns   int
	Seed      uint64

	ranged bool // a range of difficulty was asked for: the set is spread over it
}

// NewWish returns what is made where nothing is wished: ten questions in acid
// and in base, the easiest first.
func NewWish() Wish {
	return Wish{
		Title: "Redox equations", Questions: 10, Versions: 1, From: FromBoth, Ask: []Ask{Balance},
		Media: []redox.Medium{redox.Acidic, redox.Basic}, Least: Easiest, Most: Hardest, Order: Rising, Shuffle: true,
		Species: Taught, Margin: 200, Seed: 1,
	}
}

// A Key is one line of a wish: in a file and as a flag.
type Key struct {
	Name, Help string
	List       bool // several values, parted by commas in a flag
	set        func(w *Wish, values []string) error
	get        func(w *Wish) []string
}

// Set gives a line its values. The errors are *ValueError and *WordError.
func (k Key) Set(w *Wish, values []string) error {
	if !k.List && len(values) != 1 {
		return &ValueError{k.Name, strings.Join(values, ", "), "it has one value"}
	}
	return k.set(w, values)
}

// Get returns the values of a line, as Set takes them.
func (k Key) Get(w *Wish) []string { return k.get(w) }

// A ValueError is a value that a line of a wish cannot have.
type ValueError struct{ Key, Value, Msg string }

func (e *ValueError) Error() string { return fmt.Sprintf("%s cannot be %q", e.Key, e.Value) }

// Hint says what it can be.
func (e *ValueError) Hint() string { return e.Msg }

// Keys lists the lines of a wish in the order in which they are shown.
func Keys() []Key { return keys }

var keys = []Key{
	words("title", "the title on paper", func(w *Wish) *string { return &w.Title }),
	words("course", "the course, for the head of each page", func(w *Wish) *string { return &w.Course }),
	words("section", "the section, beside the course", func(w *Wish) *string { return &w.Section }),
	number("questions", "how many questions", 1, MostQuestions, func(w *Wish) *int { return &w.Questions }),
	number("versions", "how many versions of equal difficulty", 1, MostVersions, func(w *Wish) *int { return &w.Versions }),
	choice("from", "where the questions come from: pairs of couples, the curated library, or both", []string{FromBoth, FromCouples, FromLibrary}, func(w *Wish) *string { return &w.From }),
	{Name: "ask", Help: "what is asked: " + strings.Join(askNames(), ", "), List: true,
		set: func(w *Wish, values []string) error {
			all, err := each("ask", values, ParseAsk)
			w.Ask = all
			return err
		},
		get: func(w *Wish) []string { return texts(w.Ask) }},
	number("choices", "answers to choose from, 3 to 6, for multiple choice; 0 for none", 0, MostChoices, func(w *Wish) *int { return &w.Choices }),
	number("worth", "marks of each question; 0 for the usual ones", 0, 100, func(w *Wish) *int { return &w.Worth }),
	{Name: "media", Help: "acidic, basic, neutral, none", List: true,
		set: func(w *Wish, values []string) error {
			all, err := each("media", values, func(s string) (redox.Medium, error) {
				m, err := redox.ParseMedium(s)
				if err != nil || m == redox.Unstated {
					return m, unknownWord("medium", s, texts(redox.Media))
				}
				return m, nil
			})
			w.Media = all
			return err
		},
		get: func(w *Wish) []string { return texts(w.Media) }},
	features("want", "features that the set has at least once", func(w *Wish) *Features { return &w.Want }),
	features("avoid", "features that no question has", func(w *Wish) *Features { return &w.Avoid }),
	{Name: "difficulty", Help: "a range from 1 to 10: 2-6, or 3.5-5",
		set: func(w *Wish, values []string) error {
			least, most, found := strings.Cut(values[0], "-")
			if !found {
				most = least
			}
			a, ok := ParseTenths(least)
			b, ok2 := ParseTenths(most)
			if !ok || !ok2 || a > b {
				return &ValueError{"difficulty", values[0], "give a range from 1 to 10, the easier end first: 2-6"}
			}
			w.Least, w.Most, w.ranged = a, b, true
			return nil
		},
		get: func(w *Wish) []string { return []string{w.Least.String() + "-" + w.Most.String()} }},
	choice("order", "rising; stepwise, each question adding one feature; or mixed", []string{Rising, Stepwise, Mixed}, func(w *Wish) *string { return &w.Order }),
	onOff("shuffle", "each version after A in an order of its own", func(w *Wish) *bool { return &w.Shuffle }),
	choice("species", "taught (what a first course meets) or any", []string{Taught, Any}, func(w *Wish) *string { return &w.Species }),
	species("only", "the species that the class knows, water and its ions aside", func(w *Wish) *[]*chem.Species { return &w.Only }),
	species("couples", "species of which each question holds at least one: MnO4^-, Cr2O7^2-", func(w *Wish) *[]*chem.Species { return &w.Couples }),
	number("margin", "by how many millivolts the potentials must differ", 50, 3000, func(w *Wish) *int { return &w.Margin }),
	onOff("slow", "let in what goes on paper and is slow in practice", func(w *Wish) *bool { return &w.Slow }),
	number("rows", "rows of seats, for a plan of the versions; 0 for none", 0, MostSeats, func(w *Wish) *int { return &w.Rows }),
	number("columns", "columns of seats", 0, MostSeats, func(w *Wish) *int { return &w.Columns }),
	{Name: "seed", Help: "a whole number; the same gives the same set",
		set: func(w *Wish, values []string) error {
			n, err := strconv.ParseUint(values[0], 10, 64)
			if err != nil {
				return &ValueError{"seed", values[0], "give a whole number, 0 or more"}
			}
			w.Seed = n
			return nil
		},
		get: func(w *Wish) []string { return []string{strconv.FormatUint(w.Seed, 10)} }},
}

// mostWords bounds a title.
const mostWords = 200

func words(name, help string, at func(*Wish) *string) Key {
	return Key{Name: name, Help: help,
		set: func(w *Wish, v []string) error {
			if strings.ContainsFunc(v[0], unicode.IsControl) {
				return &ValueError{name, strings.Map(func(r rune) rune {
					if unicode.IsControl(r) {
						return '?'
					}
					return r
				}, v[0]), "write one line of text without control characters"}
			}
			if len(v[0]) > mostWords {
				return &ValueError{name, v[0][:20] + "...", fmt.Sprintf("at most %d characters", mostWords)}
			}
			*at(w) = v[0]
			return nil
		},
		get: func(w *Wish) []string { return []string{*at(w)} }}
}

func number(name, help string, least, most int, at func(*Wish) *int) Key {
	return Key{Name: name, Help: help,
		set: func(w *Wish, v []string) error {
			n, err := strconv.Atoi(v[0])
			if err != nil || n < least || n > most {
				return &ValueError{name, v[0], fmt.Sprintf("give a whole number from %d to %d", least, most)}
			}
			*at(w) = n
			return nil
		},
		get: func(w *Wish) []string { return []string{strconv.Itoa(*at(w))} }}
}

func choice(name, help string, known []string, at func(*Wish) *string) Key {
	return Key{Name: name, Help: help,
		set: func(w *Wish, v []string) error {
			if !slices.Contains(known, v[0]) {
				return unknownWord("value of "+name, v[0], known)
			}
			*at(w) = v[0]
			return nil
		},
		get: func(w *Wish) []string { return []string{*at(w)} }}
}

func onOff(name, help string, at func(*Wish) *bool) Key {
	return Key{Name: name, Help: help,
		set: func(w *Wish, v []string) error {
			if v[0] != "true" && v[0] != "false" {
				return &ValueError{name, v[0], "it is true or false"}
			}
			*at(w) = v[0] == "true"
			return nil
		},
		get: func(w *Wish) []string { return []string{strconv.FormatBool(*at(w))} }}
}

func features(name, help string, at func(*Wish) *Features) Key {
	return Key{Name: name, Help: help, List: true,
		set: func(w *Wish, v []string) error {
			all, err := each(name, v, ParseFeature)
			*at(w) = 0
			for _, f := range all {
				*at(w) |= f
			}
			return err
		},
		get: func(w *Wish) []string { return at(w).Names() }}
}

func species(name, help string, at func(*Wish) *[]*chem.Species) Key {
	return Key{Name: name, Help: help, List: true,
		set: func(w *Wish, v []string) error {
			all, err := each(name, v, func(s string) (*chem.Species, error) {
				r, err := chem.ReadSpecies(s, reference.Species())
				if err != nil {
					return nil, &ValueError{name, s, "write formulas: MnO4^-, Fe^2+"}
				}
				return r[0].Species, nil
			})
			*at(w) = all
			return err
		},
		get: func(w *Wish) []string { return texts(*at(w)) }}
}

// each reads the values of a list; an error knows which.
func each[T any](key string, values []string, read func(string) (T, error)) ([]T, error) {
	var out []T
	for i, v := range values {
		x, err := read(strings.TrimSpace(v))
		if err != nil {
			return nil, &itemError{i, err}
		}
		out = append(out, x)
	}
	if len(out) == 0 && key != "want" && key != "avoid" && key != "only" && key != "couples" {
		return nil, &ValueError{key, "", "name at least one"}
	}
	return out, nil
}

// An itemError is an error about one value of a list, from 0.
type itemError struct {
	i   int
	err error
}

func (e *itemError) Error() string { return e.err.Error() }
func (e *itemError) Unwrap() error { return e.err }

func texts[T any](all []T) []string {
	out := make([]string, len(all))
	for i, x := range all {
		out[i] = fmt.Sprint(x)
	}
	return out
}

// ParseTenths reads a difficulty with at most one decimal: "3", "3.5".
func ParseTenths(s string) (Tenths, bool) {
	whole, tenth, _ := strings.Cut(strings.TrimSpace(s), ".")
	if tenth == "" {
		tenth = "0"
	}
	n, err := strconv.Atoi(whole)
	m, err2 := strconv.Atoi(tenth)
	if err != nil || err2 != nil || len(tenth) != 1 || n < 0 || m < 0 {
		return 0, false
	}
	t := Tenths(10*n + m)
	return t, t >= Easiest && t <= Hardest
}

// check finds wishes that contradict each other whatever the questions are. The
// error is a *ConflictError.
func (w *Wish) check() error {
	if both := w.Want & w.Avoid; both != 0 {
		name := both.Names()[0]
		return &ConflictError{"want: " + name, "avoid: " + name, "one feature is both wished for and avoided"}
	}
	media := "media: " + strings.Join(texts(w.Media), ", ")
	for f, m := range map[Features]redox.Medium{InBase: redox.Basic, NothingAdded: redox.None} {
		if w.Want.Has(f) && !slices.Contains(w.Media, m) && !(f == InBase && slices.Contains(w.Media, redox.None)) {
			return &ConflictError{"want: " + f.String(), media, fmt.Sprintf("the feature belongs to questions in the medium %s alone", m)}
		}
	}
	if w.Avoid.Has(InBase) && len(w.Media) == 1 && w.Media[0] == redox.Basic {
		return &ConflictError{"avoid: base", media, "each question in base has it"}
	}
	if w.Want.Has(Unfamiliar) && w.Species == Taught {
		return &ConflictError{"want: unfamiliar", "species: taught", "what is taught is familiar"}
	}
	if w.Choices > 0 && w.Choices < 3 {
		return &ConflictError{fmt.Sprintf("choices: %d", w.Choices), "multiple choice", "it has 3 answers or more"}
	}
	if w.Rows > 0 != (w.Columns > 0) {
		return &ConflictError{fmt.Sprintf("rows: %d", w.Rows), fmt.Sprintf("columns: %d", w.Columns), "a plan of seats needs both"}
	}
	return nil
}

// A ConflictError is two wishes that cannot both be met.
type ConflictError struct{ A, B, Why string }

func (e *ConflictError) Error() string {
	return fmt.Sprintf("%q and %q cannot both be met: %s", e.A, e.B, e.Why)
}

// Hint says what to do.
func (e *ConflictError) Hint() string { return "change one of the two" }
