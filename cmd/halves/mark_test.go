package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"halves/marking"
	"halves/redox"
)

// markLines are a sound working, one with a slip, one with a line that cannot be
// read, and one that is about something else.
const markLines = `{"id":"a","question":"Cu + Ag^+ -> Cu^2+ + Ag","text":"Cu -> Cu^2+ + 2 e^-\nAg^+ + e^- -> Ag\nCu + 2 Ag^+ -> Cu^2+ + 2 Ag"}
{"id":"b","question":"Cu + Ag^+ -> Cu^2+ + Ag","text":"Cu -> Cu^2+ + 2 e^-\nAg^+ + e^- -> Ag\nCu + Ag^+ -> Cu^2+ + Ag"}
{"id":"c","question":{"skeleton":"Cu + NO3^- -> Cu^2+ + NO","medium":"acidic"},"text":"Cu -> Cu^2+ + 2 e^-\n\nN0x3 + 4 -> N?? + 2"}
{"id":"d","question":"Cl2 -> Cl^- + ClO3^-","medium":"basic","text":"the paper copy\nZn -> Zn^2+ + 2 e^-"}
`

// workingFiles writes a working, and a table of some with rows that cannot be
// marked.
func workingFiles(t *testing.T) (one, table string) {
	t.Helper()
	dir := t.TempDir()
	one, table = filepath.Join(dir, "ada.txt"), filepath.Join(dir, "section.csv")
	for path, text := range map[string]string{
		one: "MnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O\nFe^2+ -> Fe^3+ + e^-\nMnO4^- + Fe^2+ + 8 H^+ -> Mn^2+ + Fe^3+ + 4 H2O\n",
		table: "student,working,question\nada,\"Cu -> Cu^2+ + 2 e^-\nAg^+ + e^- -> Ag\nCu + 2 Ag^+ -> Cu^2+ + 2 Ag\",Cu + Ag^+ -> Cu^2+ + Ag\n" +
			"ben,Zn + Cu^2+ -> Zn^2+ + Cu,Zn + Cu^2+ -> Zn^2+ + Cu\ncai,x,Cu + Xx\n,x,x\n",
	} {
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return one, table
}

// Every kind and verdict has words of its own, and none is the id.
func TestMarkWords(t *testing.T) {
	seen := map[string]marking.Kind{}
	for _, k := range marking.Kinds {
		words := k.Words()
		if other, twice := seen[words]; words == "" || twice || strings.Contains(words, string(k)) && strings.Contains(string(k), "-") {
			t.Errorf("the kind %q has the words %q, as %q has", k, words, other)
		}
		seen[words] = k
	}
	for _, v := range []marking.Verdict{marking.Comment, marking.Stands, marking.Follows, marking.Recovered, marking.Slips, marking.Unread, marking.Elsewhere} {
		if v.Words() == "" {
			t.Errorf("the verdict %q has no words", v)
		}
	}
}

// A spreadsheet runs cells that begin with these signs (common practice, no
// source).
func TestGuarded(t *testing.T) {
	for _, tt := range []struct{ in, want string }{
		{"ada", "ada"}, {"", ""}, {"a=b", "a=b"}, {"=1+1", "'=1+1"}, {"+1", "'+1"}, {"-1", "'-1"}, {"@x", "'@x"}, {"\t=1", "'\t=1"}, {"\r\n-1", "'\r\n-1"}, {"\uff1d1", "'\uff1d1"},
	} {
		if got := guarded(tt.in); got != tt.want {
			t.Errorf("guarded(%q) = %q, want %q", tt.in, got, tt.want)
		}
	}
}

// What is typed cannot steer a terminal.
func TestShown(t *testing.T) {
	if got, want := shown(" a\x1b[31m\u202eb\xffc\td\n"), "a?[31m?b?c d"; got != want {
		t.Errorf("shown = %q, want %q", got, want)
	}
}

// The members of a line of mark: the question as a string or an object, the
// medium of the line before that of the object.
func TestReadWorkingLine(t *testing.T) {
	for _, tt := range []struct{ line, text, question, medium, err string }{
		{`{"question":"a -> b","text":"x\ny"}`, "x\ny", "a -> b", "", ""},
		{`{"text":"x"}`, "x", "", "", ""},
		{`{"text":"x","question":null,"medium":null}`, "x", "", "", ""},
		{`{"text":"x","question":{"skeleton":"a -> b","medium":"basic"}}`, "x", "a -> b", "basic", ""},
		{`{"text":"x","question":{"skeleton":"a -> b","medium":"basic"},"medium":"acidic"}`, "x", "a -> b", "acidic", ""},
		{"Cu -> Cu^2+ + 2 e^-", "Cu -> Cu^2+ + 2 e^-", "", "", ""},
		{`{"question":"a -> b"}`, "", "", "", `the line has no "text"`},
		{`{"question":7,"text":"x"}`, "", "", "", `"question" is a number and not a string`},
		{`{"question":{"skeleton":7},"text":"x"}`, "", "", "", `"question.skeleton" is a number and not a string`},
	} {
		r, err := readRequest([]byte(tt.line), 1, keyWorking)
		if tt.err != "" {
			if err == nil || err.Error() != tt.err {
				t.Errorf("readRequest(%s): error %v, want %q", tt.line, err, tt.err)
			}
			continue
		}
		if err != nil || r.text != tt.text || r.question != tt.question || r.medium != tt.medium {
			t.Errorf("readRequest(%s) = text %q, question %q, medium %q, error %v; want %q, %q, %q", tt.line, r.text, r.question, r.medium, err, tt.text, tt.question, tt.medium)
		}
	}
}

// More questions than are kept are marked all the same, on all cores, and no
// more are kept.
func TestMarkerKeepsFew(t *testing.T) {
	const lines = 3 * maxQuestions
	var in bytes.Buffer
	for i := range lines {
		fmt.Fprintf(&in, "{\"question\":\"%sZn + Cu^2+ -> Zn^2+ + Cu\",\"text\":\"Zn + Cu^2+ -> Zn^2+ + Cu\"}\n", strings.Repeat(" ", i))
	}
	m := &marker{}
	var out bytes.Buffer
	if err := each(t.Context(), &in, &out, task{key: keyWorking, answer: m.line}, nil); err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(out.String(), `"marks":6,"outOf":6`); n != lines {
		t.Errorf("%d of %d lines have all marks; the first is\n%.300s", n, lines, out.String())
	}
	if n := len(m.known); n == 0 || n > maxQuestions {
		t.Errorf("%d questions are kept, at most %d may be", n, maxQuestions)
	}
}

// A question that cannot be worked stays an error when it is asked for again.
func TestMarkerKeepsErrors(t *testing.T) {
	m := &marker{}
	for range 2 {
		_, err := m.prepare("Ag^+ + Cl^- -> AgCl", "")
		if err == nil || report(err).Kind != kindNotMarked {
			t.Errorf("prepare: error %v, want the kind %q", err, kindNotMarked)
		}
		if _, err := m.prepare("Cu + Xx -> Cu^2+", "acid"); err == nil || report(err).Kind != redox.KindUnreadable {
			t.Errorf("prepare: error %v, want the kind %q", err, redox.KindUnreadable)
		}
	}
}

// benchmarkWorkings are one of each: sound, with a slip, a bare answer, in base.
var benchmarkWorkings = []map[string]string{
	{"question": "MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in acid", "text": "MnO4^- -> Mn^2+\nMnO4^- -> Mn^2+ + 4 H2O\nMnO4^- + 8 H^+ -> Mn^2+ + 4 H2O\nMnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O\nFe^2+ -> Fe^3+ + e^-\n5 Fe^2+ -> 5 Fe^3+ + 5 e^-\nMnO4^- + 5 Fe^2+ + 8 H^+ -> Mn^2+ + 5 Fe^3+ + 4 H2O"},
	{"question": "MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in acid", "text": "MnO4^- + 6 H^+ + 5 e^- -> Mn^2+ + 4 H2O\nFe^2+ -> Fe^3+ + e^-\n5 Fe^2+ -> 5 Fe^3+ + 5 e^-\nMnO4^- + 5 Fe^2+ + 6 H^+ -> Mn^2+ + 5 Fe^3+ + 4 H2O"},
	{"question": "Cu + NO3^- -> Cu^2+ + NO, in acid", "text": "3 Cu + 2 NO3^- + 8 H^+ -> 3 Cu^2+ + 2 NO + 4 H2O"},
	{"question": "Cl2 -> Cl^- + ClO3^-, in base", "text": "ox: Cl2 + 6 H2O -> 2 ClO3^- + 12 H^+ + 10 e^-\nred: Cl2 + 2 e^- -> 2 Cl^-\n5 Cl2 + 10 e^- -> 10 Cl^-\n6 Cl2 + 6 H2O -> 2 ClO3^- + 12 H^+ + 10 Cl^-\n3 Cl2 + 3 H2O -> ClO3^- + 6 H^+ + 5 Cl^-\n3 Cl2 + 6 OH^- -> ClO3^- + 5 Cl^- + 3 H2O"},
}

// BenchmarkMarkEach marks lines on all cores, as halves mark --each does.
func BenchmarkMarkEach(b *testing.B) {
	const lines = 8000
	var in []byte
	for i := range lines {
		line, err := json.Marshal(benchmarkWorkings[i%len(benchmarkWorkings)])
		if err != nil {
			b.Fatal(err)
		}
		in = append(append(in, line...), '\n')
	}
	b.ReportAllocs()
	b.SetBytes(int64(len(in)))
	for b.Loop() {
		var stderr bytes.Buffer
		if status := run(b.Context(), []string{"mark", "--each", "-"}, bytes.NewReader(in), io.Discard, &stderr); status != 0 {
			b.Fatal(status, stderr.String())
		}
	}
	b.ReportMetric(float64(b.N)*lines/b.Elapsed().Seconds(), "scripts/s")
}

// BenchmarkMarkTable marks the rows of a table on all cores.
func BenchmarkMarkTable(b *testing.B) {
	const rows = 8000
	table := filepath.Join(b.TempDir(), "section.csv")
	if err := os.WriteFile(table, tableOf(b, rows), 0o600); err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		var stderr bytes.Buffer
		if status := run(b.Context(), []string{"mark", table, "--format", "csv"}, nil, io.Discard, &stderr); status != 0 {
			b.Fatal(status, stderr.String())
		}
	}
	b.ReportMetric(float64(b.N)*rows/b.Elapsed().Seconds(), "scripts/s")
}

// tableOf are the benchmarkWorkings again and again, as comma-separated text.
func tableOf(t testing.TB, rows int) []byte {
	t.Helper()
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	all := [][]string{{"question", "student", "working"}}
	for i := range rows {
		x := benchmarkWorkings[i%len(benchmarkWorkings)]
		all = append(all, []string{x["question"], fmt.Sprintf("student %d", i), x["text"]})
	}
	if err := w.WriteAll(all); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}
