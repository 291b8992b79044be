package paper_test

import (
	"bytes"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"halves/caution"
	"halves/chem"
	"halves/document"
	"halves/energetics"
	"halves/paper"
	"halves/question"
	"halves/redox"
)

var pool = question.NewPool(energetics.Shipped())

// sets are some of each kind: every ask, multiple choice, versions, all media.
func sets(t *testing.T) []*question.Set {
	t.Helper()
	var out []*question.Set
	for seed := range uint64(6) {
		w := question.NewWish()
		w.Seed, w.Questions = seed+1, 8
		w.Course, w.Section, w.Title = "General Chemistry II", "B", "Week 7"
		switch seed % 3 {
		case 0:
			w.Ask = question.Asks
		case 1:
			w.Ask, w.Choices = []question.Ask{question.Balance, question.Agents, question.Electrons}, 4
		case 2:
			w.Versions, w.Rows, w.Columns, w.Media = 2, 4, 5, redox.Media
		}
		s, err := question.Make(w, pool, nil)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, s)
	}
	return out
}

// text writes a document as plain text in one line.
func text(t *testing.T, d *document.Document) string {
	t.Helper()
	var b bytes.Buffer
	if err := document.Text(&b, d, document.TextOptions{Width: 1000}); err != nil {
		t.Fatal(err)
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

// printed is an equation as the text has it.
func printed(e chem.Equation) string {
	return strings.ReplaceAll(chem.UnicodeText(e.Runs(chem.Style{})), "-", "−")
}

// TestKeyHasAnswers: a key holds the answer of each question, its marks and its
// code; a worksheet holds the question, its marks, the caution, and no answer.
func TestKeyHasAnswers(t *testing.T) {
	for _, s := range sets(t) {
		for i := range s.Versions {
			v := &s.Versions[i]
			key, err := paper.Key(s, v, paper.Options{})
			if err != nil {
				t.Fatal(err)
			}
			sheet, err := paper.Worksheet(s, v, paper.Options{})
			if err != nil {
				t.Fatal(err)
			}
			exam, err := paper.Exam(s, v, paper.Options{})
			if err != nil {
				t.Fatal(err)
			}
			k, w, e := text(t, key), text(t, sheet), text(t, exam)
			for what, got := range map[string]string{"key": k, "worksheet": w, "exam": e} {
				for _, want := range []string{v.Code, caution.PaperLine, "General Chemistry II, section B"} {
					if !strings.Contains(got, want) {
						t.Errorf("the %s of version %s lacks %q", what, v.Letter, want)
					}
				}
			}
			for _, x := range v.Items {
				answer := printed(x.Question.Answer())
				asks := x.Ask == question.Balance || x.Ask == question.Complete
				if asks && !strings.Contains(k, answer) {
					t.Errorf("the key lacks %q", answer)
				}
				if asks && x.Options == nil && answer != printed(x.Question.Skeleton()) && strings.Contains(w, answer) {
					t.Errorf("the worksheet gives %q away", answer)
				}
				if x.Options != nil && !strings.Contains(k, "(right answer)") {
					t.Errorf("the key of %s tells no right option", x.Question.Text)
				}
			}
		}
	}
}

// TestMarksOfLines: where a key gives a mark to lines, the marks of a question add
// up to what it is worth.
func TestMarksOfLines(t *testing.T) {
	n := 0
	for _, s := range sets(t) {
		v := &s.Versions[0]
		key, err := paper.Key(s, v, paper.Options{})
		if err != nil {
			t.Fatal(err)
		}
		sum, at := 0, -1
		check := func() {
			if at < 0 || sum == 0 {
				return
			}
			n++
			if x := v.Items[at]; sum != x.Worth {
				t.Errorf("%s: the lines have %d marks, the question %d", x.Question.Text, sum, x.Worth)
			}
		}
		for _, b := range key.Blocks {
			switch b := b.(type) {
			case document.Exercise:
				check()
				sum, at = 0, at+1
			case document.Equation:
				sum += marksIn(b.Label)
			case document.Heading:
				sum += marksIn(b.Text)
			}
		}
		check()
	}
	if n < 8 {
		t.Errorf("%d questions have marks for their lines", n)
	}
}

var inBrackets = regexp.MustCompile(`\(([0-9]+)\x{a0}marks?\)$`)

// marksIn reads the marks at the end of a label or a heading, 0 for none.
func marksIn(text document.Inline) (sum int) {
	for _, span := range text {
		if m := inBrackets.FindStringSubmatch(span.Prose); m != nil {
			n, _ := strconv.Atoi(m[1])
			sum += n
		}
	}
	return sum
}

// TestFade: the first question of a set that fades is worked, the last has room
// alone, and each has fewer lines given than the one before, in proportion.
func TestFade(t *testing.T) {
	w := question.NewWish()
	w.Questions, w.Seed = 6, 3
	s, err := question.Make(w, pool, nil)
	if err != nil {
		t.Fatal(err)
	}
	d, err := paper.Worksheet(s, &s.Versions[0], paper.Options{Scaffold: paper.Fade})
	if err != nil {
		t.Fatal(err)
	}
	var given, open []int
	for _, b := range d.Blocks {
		switch b := b.(type) {
		case document.Exercise:
			given, open = append(given, 0), append(open, 0)
		case document.Equation:
			if b.Label != nil {
				given[len(given)-1]++
			}
		case document.Space:
			open[len(open)-1] += b.Lines
		}
	}
	if open[0] != 0 || given[0] == 0 || given[5] != 0 || open[5] == 0 {
		t.Errorf("lines given %v, open %v", given, open)
	}
	for i := 1; i < len(given); i++ {
		a, b := given[i-1]*(given[i]+open[i]), given[i]*(given[i-1]+open[i-1])
		if i < 5 && b > a {
			t.Errorf("question %d has %d of %d lines given, the one before %d of %d", i+1, given[i], given[i]+open[i], given[i-1], given[i-1]+open[i-1])
		}
	}
}

// TestSlides: each line of a working comes fresh on one slide, in order, with
// something to say; the last has the answer.
func TestSlides(t *testing.T) {
	for _, q := range []string{
		"MnO4^- + H2C2O4 -> Mn^2+ + CO2, in acid", "H2O2 + Cr(OH)4^- -> CrO4^2-, in base",
		"Cl2 -> Cl^- + ClO3^-, in base", "Cu + HNO3 -> Cu(NO3)2 + NO + H2O", "As2S3 + NO3^- -> H3AsO4 + SO4^2- + NO, in acid",
	} {
		s, err := redox.Work(q, redox.Unstated, redox.Conventions{})
		if err != nil {
			t.Fatal(err)
		}
		d := paper.Slides(s)
		if !d.IsDeck() {
			t.Fatalf("%s: no deck", q)
		}
		fresh, slides := 0, 0
		var final string
		for i, b := range d.Blocks {
			switch b := b.(type) {
			case document.Slide:
				slides++
				if len(b.Notes) == 0 || len(b.Title) == 0 {
					t.Errorf("%s: slide %d has no title or nothing to say", q, slides)
				}
				fresh = 0
			case document.Equation:
				if b.Fresh {
					fresh++
				}
				if fresh > 1 {
					t.Errorf("%s: slide %d reveals more than one line", q, slides)
				}
				if b.Final {
					final = chem.UnicodeText(b.Line)
				}
				if b.Spoken == "" {
					t.Errorf("%s: block %d is not said", q, i)
				}
			}
		}
		if final != chem.UnicodeText(s.Equation.Runs(chem.Style{})) || slides < 6 {
			t.Errorf("%s: %d slides end with %q", q, slides, final)
		}
	}
}

// TestReference: the couples of the page are those of the set, the highest first.
func TestReference(t *testing.T) {
	for _, s := range sets(t) {
		d, err := paper.Reference(s, energetics.Shipped(), paper.Options{})
		if err != nil {
			t.Fatal(err)
		}
		var last float64 = 10
		rows := 0
		for _, b := range d.Blocks {
			tab, ok := b.(document.Table)
			if !ok {
				continue
			}
			for _, r := range tab.Rows {
				rows++
				figure := strings.ReplaceAll((&document.Document{Title: r[1]}).PlainTitle(), "−", "-")
				volts, err := strconv.ParseFloat(figure, 64)
				if err != nil || volts > last+1e-9 {
					t.Errorf("%q after %v", figure, last)
				}
				last = volts
			}
		}
		if rows == 0 || rows > 14 {
			t.Errorf("%d couples", rows)
		}
	}
}

// TestConcordance: each version stands in its column with its numbers, and seats
// are planned where they were wished for.
func TestConcordance(t *testing.T) {
	for _, s := range sets(t) {
		got := text(t, paper.Concordance(s, paper.Options{}))
		for _, v := range s.Versions {
			if !strings.Contains(got, v.Code) {
				t.Errorf("no code of version %s", v.Letter)
			}
			for _, x := range v.Items {
				if !strings.Contains(got, printed(x.Question.Skeleton())) {
					t.Errorf("no %s in %s", x.Question.Text, got)
				}
			}
		}
		if strings.Contains(got, "Seats") != (s.Wish.Rows > 0) {
			t.Errorf("seats: %v, rows wished for: %d", strings.Contains(got, "Seats"), s.Wish.Rows)
		}
	}
}

// TestGaps: the text between the gaps and what goes in them are the answer.
func TestGaps(t *testing.T) {
	for _, s := range sets(t) {
		for _, x := range s.Versions[0].Items {
			var b strings.Builder
			n := 0
			for _, p := range paper.Gaps(&x, redox.Conventions{}) {
				for _, span := range p.Text {
					b.WriteString(span.Prose)
					b.WriteString(chem.PlainText(span.Formula))
				}
				if p.Answer != "" {
					n++
					b.WriteString(p.Answer)
				}
			}
			e, err := chem.ReadEquation(b.String(), nil)
			want := x.Question.Answer()
			if err != nil || n != len(want.Left)+len(want.Right) || e.All[0].Equation.String() != want.String() {
				t.Errorf("%q, %v, want %s", b.String(), err, want)
			}
			if stem := paper.Stem(&x, redox.Conventions{}); len(stem) == 0 || slices.ContainsFunc(stem, func(i document.Inline) bool { return len(i) == 0 }) {
				t.Errorf("%s: stem %v", x.Question.Text, stem)
			}
		}
	}
}
