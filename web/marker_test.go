package web

import (
	"fmt"
	"html"
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"halves/course"
	"halves/marking"
	"halves/redox"
)

const (
	markerQuestion = "MnO4^- + H2C2O4 -> Mn^2+ + CO2, in acid"
	// Sound: balanced by hand, OpenStax, Chemistry 2e, section 17.1 has the method.
	soundWorking = "H2C2O4 -> 2 CO2 + 2 H^+ + 2 e^-\nMnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O\n5 H2C2O4 -> 10 CO2 + 10 H^+ + 10 e^-\n2 MnO4^- + 16 H^+ + 10 e^- -> 2 Mn^2+ + 8 H2O\n5 H2C2O4 + 2 MnO4^- + 6 H^+ -> 10 CO2 + 2 Mn^2+ + 8 H2O"
	// Ten hydrogen ions on the right were dropped, and none of the sixteen on the left.
	slippedLine = "5 H2C2O4 + 2 MnO4^- + 16 H^+ -> 10 CO2 + 2 Mn^2+ + 8 H2O"
)

// slippedWorking slips on line 5.
func slippedWorking() string {
	return soundWorking[:strings.LastIndex(soundWorking, "\n")+1] + slippedLine
}

// form makes a form of names and values in turn.
func form(pairs ...string) string {
	v := url.Values{}
	for i := 0; i+1 < len(pairs); i += 2 {
		v.Add(pairs[i], pairs[i+1])
	}
	return v.Encode()
}

// plain is a page without its tags, spaces made one each.
func plain(page string) string {
	page = regexp.MustCompile(`(?s)<[^>]*>`).ReplaceAllString(page, "")
	return strings.Join(strings.Fields(html.UnescapeString(page)), " ")
}

// TestMarkerPage judges workings on the page.
func TestMarkerPage(t *testing.T) {
	s, _ := desk(t)
	try := func(pairs ...string) string {
		return form(append([]string{"q", markerQuestion, "working", slippedWorking()}, pairs...)...)
	}
	ruling := []string{"ruled-line", slippedLine, "ruled-verdict", "stands", "ruled-kind", "", "ruled-reason", "as we did in class"}
	for _, test := range []struct {
		name, form string
		status     int
		holds      []string // in the text of the page
		lacks      []string
	}{
		{"nothing", "", 200, []string{"To begin with"}, []string{"Line by line"}},
		{"a slip", try(), 200, []string{"4 of 6 marks", "The first slip is on line 5", "H+: 16 on the left and 10 on the right were not cancelled alike", "lost on line 5", "the nearest line that stands", "The usual slips of this question"}, []string{"provisional"}},
		{"sound", form("q", markerQuestion, "working", soundWorking), 200, []string{"6 of 6 marks", "No slip was found.", "The last whole equation is the answer."}, []string{"first slip"}},
		{"unread", try("working", "") + "", 200, []string{"4 of 6"}, nil},
		{"a line that cannot be read", form("q", markerQuestion, "working", "MnO4 @@ 3 -> ??\n"+soundWorking), 200, []string{"marks, provisionally", "line 1 could not be read", "not read: please look"}, nil},
		{"a line about something else", form("q", markerQuestion, "working", "Zn -> Zn^2+ + 2 e^-"), 200, []string{"provisionally", "line 1 is about something else"}, nil},
		{"only words", form("q", markerQuestion, "working", "I do not know"), 200, []string{"Nothing to judge was found.", "provisionally", "nothing in it could be judged"}, nil},
		{"no working yet", form("q", markerQuestion), 200, []string{"The question is understood", "Together6"}, []string{"Line by line"}},
		{"no question", form("working", soundWorking), 422, []string{"There is no question", "Type the question"}, nil},
		{"mistyped question", form("q", "MnO4^- + fe^2+ -> Mn^2+", "working", soundWorking), 422, []string{"did you mean Fe?"}, nil},
		{"no medium", form("q", "MnO4^- + H2C2O4 -> Mn^2+ + CO2", "working", soundWorking), 422, []string{"The medium matters here"}, nil},
		{"a medium beside it", form("q", "MnO4^- + H2C2O4 -> Mn^2+ + CO2", "medium", "acidic", "working", soundWorking), 200, []string{"6 of 6"}, nil},
		{"not redox", form("q", "Ag^+ + Cl^- -> AgCl", "working", "Ag^+ + Cl^- -> AgCl"), 422, []string{"This question cannot be marked"}, nil},
		// The usual scheme has seven steps in base (marking.md of the design).
		{"base", form("q", "Cl2 -> Cl^- + ClO3^-, in base", "working", "Cl2 + 2 e^- -> 2 Cl^-"), 200, []string{"of 7 marks", "brought into basic solution"}, nil},
		{"a scheme", try("worth-oxidation", "3", "worth-final", "0"), 200, []string{"6 of 7 marks", "worth nothing"}, nil},
		{"no number", try("worth-oxidation", "many"), 200, []string{"“many” is no worth of a step", "4 of 6 marks"}, nil},
		{"a scheme without marks", try("worth-species", "0", "worth-oxidation", "0", "worth-reduction", "0", "worth-equalized", "0", "worth-added", "0", "worth-final", "0"), 200, []string{"This scheme gives no marks"}, nil},
		{"a bare answer", form("q", markerQuestion, "working", "5 H2C2O4 + 2 MnO4^- + 6 H^+ -> 10 CO2 + 2 Mn^2+ + 8 H2O"), 200, []string{"6 of 6 marks"}, nil},
		{"a bare answer, working required", form("q", markerQuestion, "bare", "yes", "working", "5 H2C2O4 + 2 MnO4^- + 6 H^+ -> 10 CO2 + 2 Mn^2+ + 8 H2O"), 200, []string{"1 of 6 marks", "no working is shown"}, nil},
		{"without the repaired line", try(), 200, []string{"What you wrote"}, []string{"Line 5 could be:"}},
		{"with the repaired line", try("repaired", "yes"), 200, []string{"Line 5 could be:"}, nil},
		{"asked to overrule", try("overrule", "5"), 200, []string{"Your verdict on line 5"}, []string{"Overruled by you"}},
		{"overruled without a verdict", try("panel-line", slippedLine, "panel", "take", "panel-reason", "kept as typed"), 200, []string{"Choose a verdict."}, []string{"Overruled by you"}},
		{"overruled without a kind", try("panel-line", slippedLine, "panel-verdict", "slips", "panel", "take"), 200, []string{"Choose what kind of slip it is."}, nil},
		{"overruled", try("panel-line", slippedLine, "panel-verdict", "stands", "panel", "take"), 200, []string{"5 of 6 marks", "No slip was found.", "Overruled by you", "Without your verdicts they would be 4 of 6."}, []string{"Your verdict on line"}},
		{"overruled before", try(ruling...), 200, []string{"5 of 6 marks", "As we did in class.", "Overruled by you"}, nil},
		{"taken back", try(append(ruling, "back", "0")...), 200, []string{"4 of 6 marks"}, []string{"Overruled by you"}},
		{"overruled otherwise", try(append(ruling, "panel-line", slippedLine, "panel-verdict", "follows", "panel", "take")...), 200, []string{"Overruled by you"}, []string{"As we did in class"}},
		{"the line is gone", form(append([]string{"q", markerQuestion, "working", soundWorking}, ruling...)...), 200, []string{"6 of 6 marks", "Your verdicts on lines that do not stand here now", "as we did in class"}, nil},
		{"a ruling of nonsense", try("ruled-line", slippedLine, "ruled-verdict", "purple", "ruled-kind", "x", "ruled-reason", ""), 200, []string{"4 of 6 marks"}, []string{"Overruled"}},
	} {
		status, page := post(t, s, "/marker", test.form)
		if status != test.status {
			t.Errorf("%s: status %d, want %d", test.name, status, test.status)
		}
		text := plain(page)
		for _, want := range test.holds {
			if !strings.Contains(text, want) {
				t.Errorf("%s: the page lacks %q", test.name, want)
			}
		}
		for _, not := range test.lacks {
			if strings.Contains(text, not) {
				t.Errorf("%s: the page has %q", test.name, not)
			}
		}
		if strings.Contains(page, "ZgotmplZ") {
			t.Errorf("%s: something is not escaped", test.name)
		}
	}
}

// TestMarkerFragment answers with the judgement alone, and the same one.
func TestMarkerFragment(t *testing.T) {
	s, _ := desk(t)
	f := form("q", markerQuestion, "working", slippedWorking())
	status, part := post(t, s, "/marker/judged", f)
	if status != 200 || strings.Contains(part, "<html") || !strings.Contains(part, "data-told") {
		t.Errorf("status %d: %.200s", status, part)
	}
	if _, page := post(t, s, "/marker", f); !strings.Contains(page, part) {
		t.Error("the page does not hold the same judgement")
	}
}

// TestMarkerRoundTrip sends back the fields of a page: they are those that are read.
func TestMarkerRoundTrip(t *testing.T) {
	s, _ := desk(t)
	_, page := post(t, s, "/marker", form("q", markerQuestion, "working", slippedWorking(), "overrule", "5", "worth-species", "7"))
	names := map[string]bool{}
	for _, m := range regexp.MustCompile(` name="([^"]*)"`).FindAllStringSubmatch(page, -1) {
		names[m[1]] = true
	}
	for _, want := range []string{"q", "medium", "working", "worth-species", "worth-oxidation", "worth-reduction", "worth-equalized", "worth-added", "worth-final", "bare", "repaired", "panel-line", "panel-verdict", "panel-kind", "panel-reason", "panel", "overrule"} {
		if !names[want] {
			t.Errorf("the page has no field %q", want)
		}
		delete(names, want)
	}
	delete(names, "viewport")
	delete(names, "color-scheme")
	if len(names) > 0 {
		t.Errorf("fields that nobody reads: %v", names)
	}
	if !strings.Contains(page, `id="worth-species" value="7"`) {
		t.Error("the worth that was typed is not in its field")
	}
}

// TestMarkerExamples: each example to try has one slip, which the method's later
// lines follow from.
func TestMarkerExamples(t *testing.T) {
	s, _ := desk(t)
	for i, e := range markerWorkings {
		sol, err := redox.Work(e.Question.Text, e.Question.Medium, redox.Conventions{})
		if err != nil {
			t.Fatal(err)
		}
		q, err := marking.NewQuestion(sol)
		if err != nil {
			t.Fatal(err)
		}
		slips := 0
		for _, l := range q.Judge(e.Working).Lines {
			switch l.Verdict {
			case marking.Slips:
				slips++
			case marking.Unread, marking.Elsewhere, marking.Comment:
				t.Errorf("example %d, line %d: %s", i+1, l.Number, l.Verdict)
			}
		}
		if slips != 1 {
			t.Errorf("example %d has %d slips", i+1, slips)
		}
		if status, page := get(t, s, fmt.Sprintf("/marker?example=%d", i+1)); status != 200 || !strings.Contains(plain(page), "The first slip is on line") {
			t.Errorf("example %d is not judged: status %d", i+1, status)
		}
	}
}

// TestMarkerKept takes a question that is kept.
func TestMarkerKept(t *testing.T) {
	s, m := desk(t)
	id, err := m.SaveQuestion(t.Context(), course.Question{Text: "MnO4^- + H2C2O4 -> Mn^2+ + CO2", Medium: redox.Acidic})
	if err != nil {
		t.Fatal(err)
	}
	status, page := post(t, s, "/marker", form("q", "something else", "kept", fmt.Sprint(id), "working", soundWorking))
	if status != 200 || !strings.Contains(plain(page), "6 of 6 marks") || !strings.Contains(page, ">\nMnO4^- &#43; H2C2O4 -&gt; Mn^2&#43; &#43; CO2</textarea>") {
		t.Errorf("status %d: the question was not taken", status)
	}
	// One that is gone leaves what was typed.
	status, page = post(t, s, "/marker", form("q", markerQuestion, "kept", "99", "working", soundWorking))
	if status != 200 || !strings.Contains(plain(page), "6 of 6 marks") {
		t.Errorf("a question that is gone: status %d", status)
	}
}

// TestMarkerKeeps: nothing that was typed is lost, and all of it is escaped.
func TestMarkerKeeps(t *testing.T) {
	s, _ := desk(t)
	hostile := "\n\n  </textarea><script>alert(1)</script> \" ' & <b>\n"
	for name, f := range map[string]string{
		"hostile working":  form("q", markerQuestion, "working", hostile+soundWorking),
		"hostile question": form("q", `"></textarea><script>alert(1)</script>`, "working", hostile),
		"hostile ruling":   form("q", markerQuestion, "working", hostile+slippedLine, "ruled-line", slippedLine, "ruled-verdict", "slips", "ruled-kind", "sum-slip", "ruled-reason", `"><script>alert(1)</script>`),
		"hostile panel":    form("q", markerQuestion, "working", hostile+slippedLine, "panel-line", slippedLine, "panel-verdict", `"><script>`, "panel-reason", `"><script>alert(1)</script>`, "panel", "take"),
		"hostile worth":    form("q", markerQuestion, "working", hostile, "worth-oxidation", `"><script>`),
		"hostile example":  form("example", "999999999999999999999", "working", hostile, "overrule", "-1", "back", "7"),
	} {
		status, page := post(t, s, "/marker", f)
		if status >= 500 || strings.Contains(page, "<script>alert") || strings.Contains(page, `"><script>`) {
			t.Errorf("%s: status %d, or not escaped", name, status)
		}
		if want := "&lt;/textarea&gt;&lt;script&gt;alert(1)&lt;/script&gt; &#34; &#39; &amp; &lt;b&gt;"; !strings.Contains(page, want) {
			t.Errorf("%s: the working is not in the page", name)
		}
	}
	// A working begins with the line that it began with: HTML drops one.
	if _, page := post(t, s, "/marker", form("q", markerQuestion, "working", hostile)); !strings.Contains(page, ">\n\n\n  &lt;/textarea") {
		t.Error("empty lines at the beginning are lost")
	}
	for _, test := range []struct {
		name, working string
		status        int
		holds         string
	}{
		{"200 kB", strings.Repeat("Zn -> Zn^2+ + 2 e^-\n", 10<<10), 422, "A working may have 64 kB, and this one has 200 kB."},
		{"a null", soundWorking + "\x00", 422, "characters that are no text"},
		{"no UTF-8", soundWorking + "\xff", 422, "characters that are no text"},
		{"more than is taken", strings.Repeat("x", 1<<20), 413, "Go back in the browser"},
		{"many lines", strings.Repeat("Zn -> Zn^2+ + 2 e^-\n", 3000), 200, "2940 further lines are judged and not shown"},
	} {
		status, page := post(t, s, "/marker", form("q", markerQuestion, "working", test.working))
		if status != test.status || !strings.Contains(plain(page), test.holds) {
			t.Errorf("%s: status %d, want %d with %q", test.name, status, test.status, test.holds)
		}
		if kept := strings.Count(page, "Zn -&gt; Zn^2&#43; &#43; 2 e^-\n"); strings.HasPrefix(test.name, "200") && kept != 10<<10 {
			t.Errorf("%s: %d lines are still there", test.name, kept)
		}
	}
}

// TestStudentPage hands out what the student gets back.
func TestStudentPage(t *testing.T) {
	s, _ := desk(t)
	for format, begins := range map[string]string{"pdf": "%PDF-", "docx": "PK"} {
		status, file := post(t, s, "/marker."+format, form("q", markerQuestion, "working", slippedWorking()))
		if status != 200 || !strings.HasPrefix(file, begins) {
			t.Errorf("%s: status %d, begins %.10q", format, status, file)
		}
		if status, _ := post(t, s, "/marker."+format, form("working", slippedWorking())); status != http.StatusUnprocessableEntity {
			t.Errorf("%s without a question: status %d", format, status)
		}
	}
}

func FuzzMarker(f *testing.F) {
	s, _ := desk(f)
	f.Add(markerQuestion, soundWorking, "1", "stands", "")
	f.Add("Cl2 -> Cl^- + ClO3^-, in base", slippedLine, "x", "slips", "sum-slip")
	f.Add("<script>", "\x00\xff\r\n\r", "-1", "", "<script>")
	f.Fuzz(func(t *testing.T, question, working, worth, verdict, kind string) {
		status, page := post(t, s, "/marker", form("q", question, "working", working, "worth-final", worth, "panel-line", working, "panel-verdict", verdict, "panel-kind", kind, "panel", "take"))
		if status >= 500 {
			t.Errorf("status %d", status)
		}
		if n := strings.Count(strings.ToLower(page), "<script"); n != 2 { // the desk's own and the page's
			t.Errorf("%d scripts stand in the page", n)
		}
	})
}
