package web

import (
	"fmt"
	"net/url"
	"slices"
	"strings"
	"testing"

	"halves/checks"
	"halves/chem"
	"halves/lesson"
	"halves/redox"
)

// worked works a question for a board.
func worked(t testing.TB, question string, m redox.Medium, c redox.Conventions) *redox.Solution {
	t.Helper()
	s, err := redox.Work(question, m, c)
	if err != nil {
		t.Fatalf("%s: %v", question, err)
	}
	return s
}

// marked writes a line in the chemist's notation: what is new between « and »,
// another number between [ and ], what the next line takes away between / and /.
func marked(l *boardLine) string {
	if l == nil {
		return ""
	}
	if l.Written != nil {
		return chem.PlainText(l.Written)
	}
	var b strings.Builder
	for _, x := range slices.Concat(l.Left, l.Right) {
		if x.Sign != "" {
			b.WriteString(" " + strings.ReplaceAll(x.Sign, "→", "->") + " ")
		}
		number, formula := x.Number, chem.PlainText(x.Formula)
		switch {
		case x.Cut == "number":
			number = "/" + number + "/"
		case x.Mark == termChanged && number != "":
			number = "[" + number + "]"
		case x.Mark == termChanged:
			formula = "[" + formula + "]"
		}
		term := strings.TrimSpace(number + " " + formula)
		if x.Cut == "term" {
			term = "/" + term + "/"
		}
		if x.Mark == termNew {
			term = "«" + term + "»"
		}
		b.WriteString(term)
	}
	return b.String()
}

// TestBoardFrames gives the frames of whole solutions: what is marked on each
// line follows from the line before it, by hand.
func TestBoardFrames(t *testing.T) {
	for _, test := range []struct {
		question string
		c        redox.Conventions
		want     string // place, lines that stay, line
	}{
		{"MnO4^- + H2C2O4 -> Mn^2+ + CO2, in acid", redox.Conventions{}, `
The question [] MnO4^- + H2C2O4 -> Mn^2+ + CO2
Line 1 of 12 [] H2C2O4 -> CO2
Line 2 of 12 [1] H2C2O4 -> [2] CO2
Line 3 of 12 [1 2] H2C2O4 -> 2 CO2 + «2 H^+»
Line 4 of 12 [1 2 3] H2C2O4 -> 2 CO2 + 2 H^+ + «2 e^-»
Line 5 of 12 [] MnO4^- -> Mn^2+
Line 6 of 12 [5] MnO4^- -> Mn^2+ + «4 H2O»
Line 7 of 12 [5 6] MnO4^- + «8 H^+» -> Mn^2+ + 4 H2O
Line 8 of 12 [5 6 7] MnO4^- + 8 H^+ + «5 e^-» -> Mn^2+ + 4 H2O
Line 9 of 12 [4 8] [5] H2C2O4 -> [10] CO2 + [10] H^+ + [10] e^-
Line 10 of 12 [8 9] [2] MnO4^- + [16] H^+ + [10] e^- -> [2] Mn^2+ + [8] H2O
Line 11 of 12 [9 10] 2 MnO4^- + 5 H2C2O4 + /16/ H^+ + /10 e^-/ -> 2 Mn^2+ + 10 CO2 + 8 H2O + /10 H^+/ + /10 e^-/
Line 12 of 12 [11] 2 MnO4^- + 5 H2C2O4 + [6] H^+ -> 2 Mn^2+ + 10 CO2 + 8 H2O
The answer [] 2 MnO4^- + 5 H2C2O4 + 6 H^+ -> 2 Mn^2+ + 10 CO2 + 8 H2O
`},
		{"Cu + HNO3 -> Cu(NO3)2 + NO + H2O", redox.Conventions{}, `
The question [] Cu + HNO3 -> Cu(NO3)2 + NO + H2O
Line 1 of 14 [] Cu + «NO3^-» + «H^+» -> «Cu^2+» + «/NO3^-/» + NO + H2O
Line 2 of 14 [1] Cu + NO3^- + H^+ -> Cu^2+ + NO + H2O
Line 3 of 14 [] Cu -> Cu^2+
Line 4 of 14 [3] Cu -> Cu^2+ + «2 e^-»
Line 5 of 14 [] NO3^- -> NO
Line 6 of 14 [5] NO3^- -> NO + «2 H2O»
Line 7 of 14 [5 6] NO3^- + «4 H^+» -> NO + 2 H2O
Line 8 of 14 [5 6 7] NO3^- + 4 H^+ + «3 e^-» -> NO + 2 H2O
Line 9 of 14 [4 8] [3] Cu -> [3] Cu^2+ + [6] e^-
Line 10 of 14 [8 9] [2] NO3^- + [8] H^+ + [6] e^- -> [2] NO + [4] H2O
Line 11 of 14 [9 10] 3 Cu + 2 NO3^- + 8 H^+ + /6 e^-/ -> 3 Cu^2+ + 2 NO + 4 H2O + /6 e^-/
Line 12 of 14 [11] 3 Cu + 2 NO3^- + 8 H^+ -> 3 Cu^2+ + 2 NO + 4 H2O
Line 13 of 14 [11 12] 3 Cu + [8] NO3^- + 8 H^+ -> 3 Cu^2+ + «6 NO3^-» + 2 NO + 4 H2O
Line 14 of 14 [11 12 13] 3 Cu + «8 HNO3» -> «3 Cu(NO3)2» + 2 NO + 4 H2O
The answer [] 3 Cu + 8 HNO3 -> 3 Cu(NO3)2 + 2 NO + 4 H2O
`},
		{"Cl2 -> Cl^- + ClO3^-, in base", redox.Conventions{By: redox.ByStates}, `
The question [] Cl2 -> Cl^- + ClO3^-
Line 1 of 5 [] Cl goes from 0 to +5, a loss of 5 electrons for each atom.
Line 2 of 5 [1] Cl goes from 0 to −1, a gain of 1 electron for each atom.
Line 3 of 5 [1 2] [3] Cl2 -> [5] Cl^- + ClO3^-
Line 4 of 5 [3] 3 Cl2 + «6 OH^-» -> 5 Cl^- + ClO3^-
Line 5 of 5 [3 4] 3 Cl2 + 6 OH^- -> 5 Cl^- + ClO3^- + «3 H2O»
The answer [] 3 Cl2 + 6 OH^- -> 5 Cl^- + ClO3^- + 3 H2O
`},
		{"Cl2 -> Cl^- + ClO3^-, in base", redox.Conventions{Ones: true, Equals: true}, ""},
	} {
		var got strings.Builder
		for _, f := range boardFrames(worked(t, test.question, "", test.c)) {
			line := marked(f.Line)
			if f.Text != nil {
				line = textOf(f)
			}
			fmt.Fprintf(&got, "%s %v %s\n", f.Place, f.Stands, line)
		}
		if want := strings.TrimPrefix(test.want, "\n"); want != "" && got.String() != want {
			t.Errorf("%s:\n%swant\n%s", test.question, got.String(), want)
		}
		if test.c.Ones && !strings.HasSuffix(got.String(), "The answer [] 3 Cl2 + 6 OH^- = 5 Cl^- + 1 ClO3^- + 3 H2O\n") {
			t.Errorf("%s, with ones and an equals sign:\n%s", test.question, got.String())
		}
	}
}

func textOf(f boardFrame) string {
	var b strings.Builder
	for _, s := range f.Text {
		b.WriteString(s.Prose + chem.PlainText(s.Formula))
	}
	return b.String()
}

// TestMarks holds terms of one side against those of the line before.
func TestMarks(t *testing.T) {
	for _, test := range []struct{ was, is, want string }{
		{"H^+ + H2O", "H^+ + H2O", "kept kept"},
		{"H^+ + H2O", "2 H^+ + H2O", "changed kept"},
		{"H^+", "H2O + H^+", "new kept"},
		{"2 H^+ + H2O", "H^+", "changed"},
		{"H2O + 2 H2O", "2 H2O + H2O", "kept kept"}, // twice on a side
		{"H2O", "H2O + 2 H2O", "kept new"},
		{"H2O", "2 H2O + H2O", "new kept"},
		{"2 H2O", "H2O + H2O", "changed new"},
		{"H2O(l)", "H2O(g)", "new"}, // another state is another term
		{"e^-", "6 e^-", "changed"},
	} {
		side := func(text string) []chem.Term {
			r, err := chem.ReadEquation(text+" -> He", nil)
			if err != nil {
				t.Fatal(err)
			}
			return r.All[0].Equation.Left
		}
		var got []string
		for _, m := range marksOf(side(test.was), side(test.is)) {
			if m == termKept {
				m = "kept"
			}
			got = append(got, string(m))
		}
		if s := strings.Join(got, " "); s != test.want {
			t.Errorf("marksOf(%s, %s) = %s, want %s", test.was, test.is, s, test.want)
		}
	}
}

// boardConventions are the ways of writing under which every check is laid out.
var boardConventions = []redox.Conventions{
	{}, {By: redox.ByStates}, {By: redox.ByEquations}, {Hydronium: true, Ones: true}, {BaseInHalves: true, Equals: true, Phases: true},
}

// TestBoardOfAll lays out every row of the checks: each line stands once and as
// it is written, every sentence is said once, and what disagrees is marked as a
// count of the atoms says.
func TestBoardOfAll(t *testing.T) {
	lines := 0
	for _, row := range checks.Equations() {
		for _, c := range boardConventions {
			s, err := redox.Work(row.Skeleton, redox.Medium(row.Medium), c)
			if err != nil {
				continue // the states are open
			}
			frames := boardFrames(s)
			var want, got []string
			for _, st := range s.Steps {
				if l := lesson.Line(st, c); l != nil {
					want = append(want, chem.PlainText(l))
				}
			}
			var said []string
			for i, f := range frames {
				said = append(said, f.Talk...)
				if f.N != i || f.Say == "" || f.Place == "" || f.Heading == "" || f.Pace == "" || (f.Line == nil) == (f.Text == nil) {
					t.Errorf("%s: frame %d is not whole: %+v", row.ID, i, f)
				}
				for _, n := range f.Stands {
					if n <= 0 || n >= i || frames[n].Kind != "line" {
						t.Errorf("%s: above line %d stands line %d", row.ID, i, n)
					}
				}
				if f.Kind == "line" && f.Line != nil {
					got = append(got, bare(f.Line))
					lines++
				}
				wantLedger(t, row.ID, f)
			}
			if !slices.Equal(got, want) {
				t.Errorf("%s, by %v: the lines are\n%s\nwant\n%s", row.ID, c.By, strings.Join(got, "\n"), strings.Join(want, "\n"))
			}
			var all []string
			for _, cue := range lesson.NewTrack(s, lesson.Full).Cues {
				all = append(all, cue.Say...)
			}
			if !slices.Equal(said, all) {
				t.Errorf("%s, by %v: what is said is not the talk track", row.ID, c.By)
			}
			if n := len(frames); frames[0].Kind != "question" || frames[n-1].Kind != "answer" {
				t.Errorf("%s: the frames do not begin with the question and end with the answer", row.ID)
			}
		}
	}
	if lines < 1000 {
		t.Errorf("only %d lines were seen", lines)
	}
}

// bare is a line without marks.
func bare(l *boardLine) string {
	if l.Written != nil {
		return chem.PlainText(l.Written)
	}
	plain := boardLine{}
	for i, side := range [][]boardTerm{l.Left, l.Right} {
		for _, x := range side {
			x.Mark, x.Cut = "", ""
			if i == 0 {
				plain.Left = append(plain.Left, x)
			} else {
				plain.Right = append(plain.Right, x)
			}
		}
	}
	return marked(&plain)
}

// wantLedger counts the atoms and the charge of a frame by the compositions of its
// species, which the ledger of package balance does not use.
func wantLedger(t *testing.T, id string, f boardFrame) {
	t.Helper()
	if f.Kind != "line" || f.Ledger == nil {
		return
	}
	sum := map[string]chem.Ratio{}
	for side, x := range f.step.After.Terms {
		add := func(law string, n int64) {
			sum[law] = sum[law].Add(x.Coefficient.Mul(chem.Whole(side * n)))
		}
		for _, a := range x.Species.Composition() {
			add(a.Element.Symbol(), a.Atoms)
		}
		add("charge", x.Species.Charge())
	}
	if len(f.Ledger) != len(sum) {
		t.Errorf("%s: %s: the ledger has %d laws, want %d", id, f.Place, len(f.Ledger), len(sum))
	}
	for _, r := range f.Ledger {
		if law := r.Law[0].Prose; r.Open != (sum[law].Sign() != 0) {
			t.Errorf("%s: %s: %s open: %v, but the sides differ by %v", id, f.Place, law, r.Open, sum[law])
		}
	}
}

// TestBoardSays tells what comes up in words.
func TestBoardSays(t *testing.T) {
	frames := boardFrames(worked(t, "MnO4^- + H2C2O4 -> Mn^2+ + CO2, in acid", "", redox.Conventions{}))
	for i, want := range map[int]string{
		0:  "The question. Permanganate ion plus oxalic acid give manganese two ion plus carbon dioxide.",
		7:  "Line 7 of 12. Reduction: balance hydrogen with hydrogen ions. One permanganate ion plus eight hydrogen ions give one manganese two ion plus four water. New: eight hydrogen ions. Not equal yet: charge.",
		13: "The answer. Two permanganate ions plus five oxalic acid plus six hydrogen ions give two manganese two ions plus ten carbon dioxide plus eight water. Both sides agree.",
	} {
		if got := frames[i].Say; got != want {
			t.Errorf("frame %d says\n%s\nwant\n%s", i, got, want)
		}
	}
	if got := frames[3].Passed; len(got) != 1 || !strings.HasPrefix(boardWords(got[0]), "Balance oxygen with water, nothing to do, oxygen four on each side") {
		t.Errorf("before line 3 it is remarked: %v", got)
	}
	if talk := strings.Join(frames[3].Talk, " "); !strings.HasPrefix(talk, "Nothing to do for oxygen") || !strings.Contains(talk, "Look at the hydrogen") {
		t.Errorf("at line 3 is said: %s", talk)
	}
}

// TestBoardPages asks for the pages, with what can go wrong.
func TestBoardPages(t *testing.T) {
	s, m := desk(t)
	const acid = "MnO4^- + H2C2O4 -> Mn^2+ + CO2, in acid"
	for _, test := range []struct {
		query  url.Values
		status int
		holds  []string
	}{
		{nil, 200, []string{"Show it", "line by line"}},
		{url.Values{"q": {"  "}}, 200, []string{"Show it"}},
		{url.Values{"q": {acid}}, 200, []string{`data-say="Line 7 of 12.`, `data-above="5 6"`, `id="line=0"`, `<span class="term new">`, `class="open"`, "is not equal to", "/board/presenter?q=", "/work?q="}},
		{url.Values{"q": {"MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+"}, "medium": {"acidic"}, "hydronium": {"true"}}, 200, []string{"hydronium=true", "medium=acidic"}},
		{url.Values{"q": {"SO42- + I- -> SO2 + I2, in acid"}}, 200, []string{"Read "}}, // how it was read is told
		{url.Values{"q": {"MnO4^- + H2C2O4 -> Mn^2+ + co2, in acid"}, "hydronium": {"true"}}, 422, []string{"<mark>co2</mark>", "MnO4^- &#43; H2C2O4 -&gt; Mn^2&#43; &#43; co2, in acid</textarea>", `name="hydronium" value="true"`}},
		{url.Values{"q": {"Mn^2+ -> MnO4^-, in acid"}, "medium": {"basic"}}, 422, []string{"The oxidation half", `value="basic" selected`}},
		{url.Values{"q": {acid}, "medium": {"purple"}}, 400, []string{"o medium is called"}},
		{url.Values{"q": {acid}, "by": {"magic"}}, 400, []string{"magic"}},
		{url.Values{"q": {"<script>alert(1)</script>"}}, 422, []string{"&lt;script&gt;"}},
		{url.Values{"q": {"\"'><img src=x onerror=alert(1)>\x00"}}, 422, nil},
		{url.Values{"q": {strings.Repeat("H2O + ", 200_000)}}, 422, []string{"4096 characters"}},
	} {
		for _, path := range []string{"/board", "/board/presenter"} {
			status, body := get(t, s, path+"?"+test.query.Encode())
			if status != test.status {
				t.Errorf("%s, %.60v: status %d, want %d", path, test.query, status, test.status)
			}
			for _, want := range test.holds {
				if path == "/board" && !strings.Contains(body, want) {
					t.Errorf("%s, %.60v: the page lacks %q", path, test.query, want)
				}
			}
			for _, never := range []string{"<script>alert", "<img", "ZgotmplZ", " style=", "onclick="} {
				if strings.Contains(body, never) {
					t.Errorf("%s, %.60v: the page holds %q", path, test.query, never)
				}
			}
			if len(body) > 150_000 && test.status == 200 {
				t.Errorf("%s, %.60v: the page has %d bytes", path, test.query, len(body))
			}
		}
	}
	_, body := get(t, s, "/board/presenter?"+url.Values{"q": {acid}}.Encode())
	for _, want := range []string{"Then we count the hydrogen", "Line 7 of 12. This takes about 40 seconds. The rest takes about", `href="/board?q=`, "Start the clock"} {
		if !strings.Contains(body, want) {
			t.Errorf("the presenter's window lacks %q", want)
		}
	}
	if len(m.history) != 0 {
		t.Error("showing is remembered as working")
	}
}

// TestBoardChannel: both windows of one working know each other, those of another
// do not.
func TestBoardChannel(t *testing.T) {
	channel := func(q string, c redox.Conventions) string {
		return newBoard(worked(t, q, "", c), boardPlaces{}).Channel
	}
	a := channel("Cl2 -> Cl^- + ClO3^-, in base", redox.Conventions{})
	if b := channel("Cl2 -> Cl- + ClO3-, in base", redox.Conventions{}); a != b {
		t.Errorf("one question in two spellings: %s and %s", a, b)
	}
	if b := channel("Cl2 -> Cl^- + ClO3^-, in base", redox.Conventions{By: redox.ByStates}); a == b {
		t.Errorf("two workings, one channel: %s", a)
	}
}

// TestBoardWeight: the heaviest boards of the checks stay below 150 kB.
func TestBoardWeight(t *testing.T) {
	s, _ := desk(t)
	for _, row := range checks.Equations() {
		q := url.Values{"q": {row.Skeleton}, "medium": {row.Medium}}
		for _, path := range []string{"/board", "/board/presenter"} {
			if status, body := get(t, s, path+"?"+q.Encode()); status == 200 && len(body) > 150_000 {
				t.Errorf("%s%s: %d bytes", path, row.ID, len(body))
			}
		}
	}
}

func BenchmarkBoard(b *testing.B) {
	s := worked(b, "As2S3 + NO3^- -> H3AsO4 + SO4^2- + NO, in acid", "", redox.Conventions{})
	b.ReportAllocs()
	for b.Loop() {
		newBoard(s, boardPlaces{})
	}
}
