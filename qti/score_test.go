package qti_test

import (
	"fmt"
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"halves/document"
	"halves/qti"
)

// A session is one attempt at an item. It runs the response processing as the
// standard describes it: a response that was not given is NULL; an expression
// with a NULL is NULL, the conjunction of NULL and false aside; a condition that
// is NULL does not hold (documentation of responseIf in the schema of 2.2.4, the
// rest from memory of 1EdTech, QTI 2.1, Assessment Test, Section and Item
// information model, section 15; mapResponse of NULL is taken in the strictest
// way). Numbers are exact, or floating where floats is true.
type session struct {
	item   *node
	values map[string]string // variables that are not NULL
	floats bool
}

// answered hands in responses and returns the session after marking.
func answered(item *node, responses map[string]string) (*session, error) {
	return mark(&session{item: item, values: map[string]string{}}, responses)
}

// mark hands in responses to a session that was not yet marked.
func mark(s *session, responses map[string]string) (_ *session, err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("%v", r)
		}
	}()
	for _, d := range s.item.all("outcomeDeclaration") {
		for _, v := range d.all("value") {
			s.values[d.attributes["identifier"]] = v.content()
		}
	}
	for id, r := range responses {
		if r != "" { // an empty string is no response
			s.values[id] = r
		}
	}
	s.run(s.item.all("responseProcessing")[0].elements())
	return s, nil
}

func (s *session) run(rules []*node) {
	for _, r := range rules {
		switch r.name {
		case "setOutcomeValue":
			id := r.attributes["identifier"]
			if v := s.value(r.elements()[0]); v != nil {
				s.values[id] = *v
			} else {
				delete(s.values, id)
			}
		case "responseCondition":
			for _, branch := range r.elements() {
				rules := branch.elements()
				if branch.name == "responseIf" {
					if v := s.value(rules[0]); v == nil || *v != "true" {
						continue
					}
					rules = rules[1:]
				} else if branch.name != "responseElse" {
					panic("rule " + branch.name)
				}
				s.run(rules)
				break
			}
		default:
			panic("rule " + r.name)
		}
	}
}

func truth(b bool) *string { s := fmt.Sprint(b); return &s }

// value evaluates an expression, nil for NULL.
func (s *session) value(e *node) *string {
	var of []*string
	for _, k := range e.elements() {
		of = append(of, s.value(k))
	}
	id := e.attributes["identifier"]
	switch e.name {
	case "baseValue":
		v := e.content()
		return &v
	case "variable":
		if v, ok := s.values[id]; ok {
			return &v
		}
		return nil
	case "correct":
		v := s.declaration(id).all("value")[0].content()
		return &v
	case "mapResponse":
		typed, ok := s.values[id]
		if !ok {
			return nil
		}
		m := s.declaration(id).all("mapping")[0]
		for _, x := range m.all("mapEntry") {
			if x.attributes["mapKey"] == typed {
				v := x.attributes["mappedValue"]
				return &v
			}
		}
		v := m.attributes["defaultValue"]
		return &v
	case "isNull":
		return truth(of[0] == nil)
	case "not":
		if of[0] == nil {
			return nil
		}
		return truth(*of[0] == "false")
	case "match":
		if of[0] == nil || of[1] == nil {
			return nil
		}
		return truth(*of[0] == *of[1])
	case "and":
		null := false
		for _, v := range of {
			if v != nil && *v == "false" {
				return truth(false)
			}
			null = null || v == nil
		}
		if null {
			return nil
		}
		return truth(true)
	case "sum":
		total, float := new(big.Rat), 0.0
		for _, v := range of {
			if v == nil {
				return nil
			}
			n, ok := new(big.Rat).SetString(*v)
			if !ok {
				panic(*v + " is no number")
			}
			total.Add(total, n)
			f, _ := n.Float64()
			float += f
		}
		if s.floats {
			total.SetFloat64(float)
		}
		v := total.RatString()
		return &v
	}
	panic("expression " + e.name)
}

func (s *session) declaration(id string) *node {
	for _, d := range s.item.all("responseDeclaration") {
		if d.attributes["identifier"] == id {
			return d
		}
	}
	panic(id + " is not declared")
}

// score returns the marks, exact; nil where SCORE is NULL.
func (s *session) score() *big.Rat {
	v, ok := s.values["SCORE"]
	if !ok {
		return nil
	}
	n, _ := new(big.Rat).SetString(v)
	return n
}

// shown returns the feedback that is shown, "" for none.
func (s *session) shown() string {
	text := ""
	for _, m := range s.item.all("modalFeedback") {
		if m.attributes["identifier"] == s.values["FEEDBACK"] {
			text += m.content()
		}
	}
	return text
}

// TestScores: the right answer earns all marks; a wrong choice none; each wrong
// or empty gap loses its share, a whole number of hundredths that is less than
// one hundredth from its equal part.
func TestScores(t *testing.T) {
	for _, v := range versions {
		t.Run(v.name, rapid.MakeCheck(func(t *rapid.T) {
			s := anySet.Draw(t, "set")
			items, err := itemsOf(v.write, s)
			if err != nil {
				t.Fatal(err)
			}
			for i, it := range s.Items {
				worth := big.NewRat(int64(it.Worth), 1)
				take := func(responses map[string]string, want *big.Rat) {
					t.Helper()
					a, err := answered(items[i], responses)
					if err != nil {
						t.Fatal(err)
					}
					if got := a.score(); got == nil || got.Cmp(want) != 0 {
						t.Fatalf("item %d, %v: score %v, want %v", i+1, responses, got, want)
					}
				}
				if len(it.Choices) > 0 {
					take(nil, new(big.Rat))
					for k, c := range it.Choices {
						want := new(big.Rat)
						if c.Right {
							want = worth
						}
						take(map[string]string{"RESPONSE": fmt.Sprint("C", k+1)}, want)
					}
					continue
				}
				// Shares, from the marks for one right gap and no other.
				responses, n := map[string]string{}, 0
				right := map[string]string{}
				for _, p := range it.Line {
					if p.Gap != nil {
						n++
						right[fmt.Sprint("GAP", n)] = p.Gap.Answer
					}
				}
				take(right, worth)
				want := new(big.Rat)
				equal := new(big.Rat).Quo(worth, big.NewRat(int64(n), 1))
				hundredth := big.NewRat(1, 100)
				all := new(big.Rat)
				for k := range n {
					id := fmt.Sprint("GAP", k+1)
					a, err := answered(items[i], map[string]string{id: right[id]})
					if err != nil {
						t.Fatal(err)
					}
					share := a.score()
					if d := new(big.Rat).Sub(share, equal); d.Abs(d).Cmp(hundredth) >= 0 || share.Sign() <= 0 {
						t.Fatalf("item %d: gap %d of %d earns %v of %v", i+1, k+1, n, share, worth)
					}
					if h := new(big.Rat).Quo(share, hundredth); !h.IsInt() {
						t.Fatalf("item %d: gap %d earns %v", i+1, k+1, share)
					}
					all.Add(all, share)
					switch rapid.IntRange(0, 2).Draw(t, "answer") {
					case 0:
						responses[id] = right[id]
						want.Add(want, share)
					case 1:
						responses[id] = rapid.SampledFrom([]string{right[id] + "0", right[id] + " ", "0" + right[id], "x", "-" + right[id], "0"}).Draw(t, "wrong")
					}
				}
				if all.Cmp(worth) != 0 {
					t.Fatalf("item %d: the shares sum to %v of %v", i+1, all, worth)
				}
				take(responses, want)
			}
		}))
	}
}

// TestShares: what a gap earns, in hundredths; by division.
func TestShares(t *testing.T) {
	tests := []struct {
		worth, gaps int
		want        string
	}{
		{1, 1, "[1]"},
		{2, 4, "[0.5 0.5 0.5 0.5]"},
		{6, 6, "[1 1 1 1 1 1]"},
		{1, 3, "[0.34 0.33 0.33]"},
		{2, 3, "[0.67 0.67 0.66]"},
		{10, 4, "[2.5 2.5 2.5 2.5]"},
		{30, 3, "[10 10 10]"},
		{1, 6, "[0.17 0.17 0.17 0.17 0.16 0.16]"},
	}
	for _, tt := range tests {
		it := qti.Item{ID: "q", Stem: []document.Inline{prose("?")}, Worth: tt.worth}
		for range tt.gaps {
			it.Line = append(it.Line, qti.Piece{Gap: &qti.Gap{Answer: "1"}})
		}
		items, err := itemsOf(qti.Write22, qti.Set{ID: "s", Items: []qti.Item{it}})
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, e := range items[0].all("mapEntry") {
			got = append(got, e.attributes["mappedValue"])
		}
		if fmt.Sprint(got) != tt.want {
			t.Errorf("%d marks for %d gaps: %v, want %s", tt.worth, tt.gaps, got, tt.want)
		}
	}
}

// TestFloats: on a platform that adds doubles too the right answer earns all
// marks, to the last digit. Ten tenths added one by one are less than 1.
func TestFloats(t *testing.T) {
	for worth := 1; worth <= 3; worth++ {
		for n := 1; n <= 12; n++ {
			it := qti.Item{ID: "q", Stem: []document.Inline{prose("?")}, Worth: worth}
			right := map[string]string{}
			for i := range n {
				it.Line = append(it.Line, qti.Piece{Gap: &qti.Gap{Answer: "1"}})
				right[fmt.Sprint("GAP", i+1)] = "1"
			}
			items, err := itemsOf(qti.Write22, qti.Set{ID: "s", Items: []qti.Item{it}})
			if err != nil {
				t.Fatal(err)
			}
			s, err := mark(&session{item: items[0], values: map[string]string{}, floats: true}, right)
			if err != nil {
				t.Fatal(err)
			}
			if got := s.score(); got == nil || got.Cmp(big.NewRat(int64(worth), 1)) != 0 {
				t.Errorf("%d gaps, all right: score %v, want %d", n, got, worth)
			}
		}
	}
}

// TestFeedback: what is shown after each answer.
func TestFeedback(t *testing.T) {
	all := map[string]string{"GAP1": "1", "GAP2": "8", "GAP3": "5", "GAP4": "1", "GAP5": "4", "GAP6": "5"}
	tests := []struct {
		item      int
		responses map[string]string
		want      string
	}{
		{0, map[string]string{"RESPONSE": "C1"}, "\n7 + 4 × (−2) = −1, as it must."},
		{0, map[string]string{"RESPONSE": "C2"}, "\nThe charge of the ion was left out."},
		{0, map[string]string{"RESPONSE": "C3"}, "\nThat is the charge of the ion."},
		{0, nil, ""},
		{1, all, "\nFive electrons: MnO4− + 8 H+ + 5 e− ⟶ Mn2+ + 4 H2O"},
		{1, map[string]string{"GAP1": "1"}, ""},
		{1, nil, ""},
		{2, map[string]string{"RESPONSE": "C1"}, ""},
	}
	items, err := itemsOf(qti.Write22, week())
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range tests {
		s, err := answered(items[tt.item], tt.responses)
		if err != nil {
			t.Fatal(err)
		}
		if got := s.shown(); got != tt.want {
			t.Errorf("item %d, %v: %q is shown, want %q", tt.item+1, tt.responses, got, tt.want)
		}
	}
}
