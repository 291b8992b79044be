package lesson

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"halves/balance"
	"halves/chem"
	"halves/redox"
	"halves/speech"
)

// TestNumbers: every number that is said has its twin in the step: its
// coefficients, atoms, charges, states, electrons and multipliers.
func TestNumbers(t *testing.T) {
	eachTrack(t, func(t *testing.T, name string, s *redox.Solution, track Track) {
		said := spokenNames(s)
		all := numbers{}
		for _, st := range s.Steps {
			all.addStep(s, st)
		}
		all.addWhole(s)
		for _, c := range track.Cues {
			known := all
			if c.Step >= 0 {
				known = numbers{}
				known.addStep(s, s.Steps[c.Step])
				for _, i := range c.With {
					known.addStep(s, s.Steps[i])
				}
			}
			for _, x := range c.Say {
				for _, n := range numbersIn(said.Replace(strings.TrimSuffix(x, "not zero, but equal."))) {
					if !known[n] {
						t.Errorf("%s: %s: %s is no number of this step: %q", name, c.Heading, n, x)
					}
				}
			}
		}
	})
}

// numbers are those of a step, as "7", "-2", "5/2".
type numbers map[string]bool

func (n numbers) add(r chem.Ratio) {
	n[r.String()] = true
	if r.Sign() < 0 {
		n[r.Neg().String()] = true
	}
}

func (n numbers) addEquation(e chem.Equation) {
	for _, x := range e.Terms {
		n.add(x.Coefficient)
	}
	l, err := balance.NewLedger(e)
	if err != nil {
		return
	}
	for _, x := range l {
		n.add(x.Left)
		n.add(x.Right)
	}
}

var digits = regexp.MustCompile(`[0-9]+(/[0-9]+)?`)

func (n numbers) addText(s string) {
	for _, d := range digits.FindAllString(s, -1) {
		n[d], n["-"+d] = true, true
	}
}

func (n numbers) addStep(s *redox.Solution, st redox.Step) {
	n.addEquation(st.Before)
	n.addEquation(st.After)
	for _, m := range moves(st.Before, st.After) {
		n.add(m.difference)
	}
	if st.Written != nil {
		n.addText(chem.PlainText(st.Written))
	}
	switch st.Rule {
	case redox.SolveFor, redox.ClearUnits, redox.EqualChanges, redox.AskHalves:
		n.addText(st.Reason) // it is said
	case redox.ChooseOne, redox.LowestNumbers:
		n.addText(st.Reason)
	case redox.MultiplyNet: // "taken twice" has no digit to read
		n.addText(st.Reason)
		n.add(st.After.Left[0].Coefficient.Quo(st.Before.Left[0].Coefficient))
	case redox.Equalize:
		lost := int64(0)
		for _, h := range s.Halves {
			n.add(chem.Whole(h.Electrons))
			if h.Role == redox.Oxidation {
				lost += h.Electrons * h.Multiplier
			}
		}
		n.add(chem.Whole(lost))
		n.add(chem.Whole(s.Halves[st.Half].Multiplier))
		n.add(chem.Whole(s.Halves[st.Half].Multiplier * s.Halves[st.Half].Electrons))
	}
	if st.Rule == redox.Add {
		for _, x := range s.Steps {
			if x.Rule == redox.Equalize {
				n.addEquation(x.After)
			}
		}
	}
	if st.Half >= 0 {
		for _, c := range s.Halves[st.Half].Changes {
			n.addChange(c)
		}
	}
}

func (n numbers) addChange(c redox.Change) {
	n.add(c.From)
	n.add(c.To)
	n.add(c.Electrons())
}

func (n numbers) addWhole(s *redox.Solution) {
	n.addEquation(s.Equation)
	n.add(chem.Whole(int64(len(s.Halves))))
	for _, c := range s.Changes {
		n.addChange(c)
	}
	if s.Electrons != nil {
		n.add(chem.Whole(*s.Electrons))
	}
	for _, x := range s.Notes {
		if x.Kind == redox.NoteSpectators {
			n.addText(x.Text)
		}
	}
}

// spokenNames takes the names of the species out of a sentence, longest first,
// since some hold numbers.
func spokenNames(s *redox.Solution) *strings.Replacer {
	var all []string
	add := func(species []*chem.Species) {
		for _, x := range species {
			for _, n := range []string{speech.Substance(x, s.Conventions.Names), speech.Species(x, s.Conventions.Names)} {
				all = append(all, n, sentenceCase(n))
			}
		}
	}
	add(s.Skeleton.Species())
	add(s.Equation.Species())
	for _, st := range s.Steps {
		add(st.After.Species())
	}
	slices.SortFunc(all, func(a, b string) int { return len(b) - len(a) })
	var pairs []string
	for _, n := range slices.Compact(all) {
		pairs = append(pairs, n, "thing")
	}
	return strings.NewReplacer(pairs...)
}

// numbersIn reads the numbers of a sentence, by other code than package speech.
func numbersIn(sentence string) []string {
	small := map[string]int64{"none": 0, "once": 1, "twice": 2}
	for i, w := range strings.Fields("zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen") {
		small[w] = int64(i)
	}
	for i, w := range strings.Fields("twenty thirty forty fifty sixty seventy eighty ninety") {
		ten := int64(i+2) * 10
		small[w] = ten
		for k, u := range strings.Fields("one two three four five six seven eight nine") {
			small[w+"-"+u] = ten + int64(k) + 1
		}
	}
	parts := map[string]int64{"half": 2, "halves": 2, "third": 3, "thirds": 3, "quarter": 4, "quarters": 4, "fifth": 5, "fifths": 5, "sixth": 6, "sixths": 6, "seventh": 7, "sevenths": 7, "eighth": 8, "eighths": 8, "ninth": 9, "ninths": 9, "tenth": 10, "tenths": 10}
	words := strings.Fields(strings.ToLower(sentence))
	var out []string
	for i := 0; i < len(words); {
		bare := func(k int) string { return strings.Trim(words[k], ",.:") }
		sign := ""
		if i > 0 && words[i-1] == "minus" && !(i > 1 && len(bare(i-2)) == 1) {
			sign = "-" // and not "c minus one", which takes away
		}
		n, at, found := int64(0), int64(0), false
		for i < len(words) {
			w := bare(i)
			if v, ok := small[w]; ok {
				at += v
			} else if w == "hundred" && found {
				at *= 100
			} else if w == "thousand" && found {
				n, at = n+at*1000, 0
			} else {
				break
			}
			found = true
			i++
			if strings.ContainsAny(words[i-1], ",.:") {
				break
			}
		}
		if !found {
			i++
			continue
		}
		n += at
		text := strconv.FormatInt(n, 10)
		if i < len(words) {
			if d, ok := parts[bare(i)]; ok {
				text += "/" + strconv.FormatInt(d, 10)
				i++
			} else if words[i] == "over" {
				if d := numbersIn(strings.Join(words[i+1:], " ")); d != nil {
					text += "/" + d[0]
				}
				for i++; i < len(words) && (small[bare(i)] > 0 || bare(i) == "hundred"); i++ {
				}
			}
		}
		if text == "0" {
			sign = ""
		}
		out = append(out, sign+text)
	}
	return out
}

// TestNumbersIn shows that the reader of the tests reads.
func TestNumbersIn(t *testing.T) {
	const s = "From plus seven to minus two: twenty-eight on each side, five halves, one hundred two, minus one half, none and four plus seven over twelve, taken twice."
	want := "7 -2 28 5/2 102 -1/2 0 4 7/12 2"
	if got := strings.Join(numbersIn(s), " "); got != want {
		t.Errorf("numbersIn = %s, want %s", got, want)
	}
}
