package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
	"time"

	"halves/redox"
)

// TestEachOrder holds that many lines come out in the order in which they went
// in, however long each takes.
func TestEachOrder(t *testing.T) {
	const lines = 10000
	var in bytes.Buffer
	for i := range lines {
		fmt.Fprintf(&in, "line %d\n", i+1)
	}
	uneven := task{key: "question", answer: func(r request) ([]byte, error) {
		if strings.HasSuffix(r.text, "7") {
			runtime.Gosched()
		}
		return json.Marshal(map[string]string{"question": r.text})
	}}
	var out bytes.Buffer
	if err := each(t.Context(), &in, &out, uneven, nil); err != nil {
		t.Fatal(err)
	}
	for i := range lines {
		got, _ := out.ReadString('\n')
		if want := fmt.Sprintf("{\"id\":%d,\"question\":\"line %d\"}\n", i+1, i+1); got != want {
			t.Fatalf("answer %d is %q, want %q", i+1, got, want)
		}
	}
}

// TestEachAnswersAtOnce holds that a program that writes one question and waits
// gets its answer before it writes the next.
func TestEachAnswersAtOnce(t *testing.T) {
	in, write := io.Pipe()
	read, out := io.Pipe()
	done := make(chan error, 1)
	go func() {
		err := each(t.Context(), in, out, task{key: "question", answer: (&workOptions{}).line}, nil)
		out.Close()
		done <- err
	}()
	for range 3 {
		if _, err := io.WriteString(write, "Cu + Ag^+ -> Cu^2+ + Ag\n"); err != nil {
			t.Fatal(err)
		}
		buffer := make([]byte, 1<<16)
		n, err := read.Read(buffer)
		if err != nil || !strings.HasPrefix(string(buffer[:n]), `{"id":`) {
			t.Fatalf("the answer is %q, error %v", buffer[:n], err)
		}
		for !bytes.HasSuffix(buffer[:n], []byte("\n")) {
			if n, err = read.Read(buffer); err != nil {
				t.Fatal(err)
			}
		}
	}
	write.Close()
	if err := <-done; err != nil {
		t.Fatal(err)
	}
}

// TestEachDefect holds that a defect met in one line is that line's error.
func TestEachDefect(t *testing.T) {
	faulty := task{key: "question", answer: func(r request) ([]byte, error) {
		if r.text == "b" {
			panic("oops")
		}
		return []byte(`{"question":"` + r.text + `"}`), nil
	}}
	var out bytes.Buffer
	if err := each(t.Context(), strings.NewReader("a\nb\nc\n"), &out, faulty, nil); err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(out.String(), "\n")
	if len(lines) != 4 || !strings.Contains(lines[1], `"kind":"internal"`) || lines[2] != `{"id":3,"question":"c"}` {
		t.Errorf("the answers are\n%s", &out)
	}
}

// An endless reader gives one line for ever, and ends the context after some.
type endless struct {
	reads  int
	cancel func()
}

func (e *endless) Read(p []byte) (int, error) {
	if e.reads++; e.reads == 3 {
		e.cancel()
	}
	return copy(p, strings.Repeat("Cu + Ag^+ -> Cu^2+ + Ag\n", len(p)/24)), nil
}

// TestInterrupted holds that an interrupted run ends, with status 3, and leaves
// no part of a file behind.
func TestInterrupted(t *testing.T) {
	dir := t.TempDir()
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	var stdout, stderr bytes.Buffer
	status := run(ctx, []string{"work", "--each", "-", "-o", filepath.Join(dir, "out.jsonl")}, &endless{cancel: cancel}, &stdout, &stderr)
	if status != statusFile || stderr.String() != "halves: interrupted\n" {
		t.Errorf("status %d, standard error %q; want %d, %q", status, &stderr, statusFile, "halves: interrupted\n")
	}
	left, err := os.ReadDir(dir)
	if err != nil || len(left) > 0 {
		t.Errorf("left behind: %v, error %v", left, err)
	}
}

// A closedPipe is standard output that nobody reads.
type closedPipe struct{}

func (closedPipe) Write([]byte) (int, error) {
	return 0, &os.PathError{Op: "write", Path: "|1", Err: syscall.EPIPE}
}

func TestClosedPipe(t *testing.T) {
	for _, args := range [][]string{
		{"work", "Cu + Ag^+ -> Cu^2+ + Ag"},
		{"work", "Cu + Ag^+ -> Cu^2+ + Ag", "--format", "json"},
		{"work", "--each", "-"},
		{"check", "Cu + 2 Ag^+ -> Cu^2+ + 2 Ag"},
		{"species", "H2O"},
		{"man"},
	} {
		var stderr bytes.Buffer
		status := run(t.Context(), args, strings.NewReader("Cu + Ag^+ -> Cu^2+ + Ag\n"), closedPipe{}, &stderr)
		if status != statusFile || stderr.Len() > 0 {
			t.Errorf("%v: status %d, standard error %q; want %d and nothing", args, status, &stderr, statusFile)
		}
	}
}

// TestWriteFile holds that a file that cannot be written whole is not written.
func TestWriteFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "answer.txt")
	if err := os.WriteFile(path, []byte("older"), 0o600); err != nil {
		t.Fatal(err)
	}
	broken := errors.New("broken")
	err := writeFile(path, func(w io.Writer) error {
		io.WriteString(w, "half of it")
		return broken
	})
	if err != broken {
		t.Errorf("writeFile returned %v, want %v", err, broken)
	}
	check := func(want string) {
		t.Helper()
		got, err := os.ReadFile(path)
		if err != nil || string(got) != want {
			t.Errorf("the file holds %q, error %v; want %q", got, err, want)
		}
		all, err := os.ReadDir(filepath.Dir(path))
		if err != nil || len(all) != 1 {
			t.Errorf("the folder holds %v, error %v; want the file alone", all, err)
		}
	}
	check("older")
	if err := writeFile(path, func(w io.Writer) error { _, err := io.WriteString(w, "newer"); return err }); err != nil {
		t.Fatal(err)
	}
	check("newer")
	if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o600 && runtime.GOOS != "windows" {
		t.Errorf("the rights are %v, error %v; want those of the older file", info.Mode(), err)
	}
}

// TestEveryKindHasAStatus holds the table of exit statuses to the kinds.
func TestEveryKindHasAStatus(t *testing.T) {
	for _, k := range []redox.ErrorKind{
		redox.KindUnreadable, redox.KindNoAnswer, redox.KindManyAnswers, redox.KindNotRedox, redox.KindOnlyOxidation,
		redox.KindOnlyReduction, redox.KindTooLarge, redox.KindMediumNeeded, redox.KindInternal, kindUsage, kindFile, kindNotBalanced,
	} {
		if _, ok := statusByKind[k]; !ok {
			t.Errorf("the kind %q has no exit status", k)
		}
	}
}

func TestPlace(t *testing.T) {
	long := strings.Repeat("Cu + ", 40)
	tests := []struct {
		text           string
		offset, length int
		want           string
	}{
		{"Cu + co2", 5, 3, "    Cu + co2\n         ^^^\n"},
		{"Cu + Ag", 7, 0, "    Cu + Ag\n           ^\n"},
		{"", 0, 0, "    \n    ^\n"},
		// Positions are bytes, carets stand under characters.
		{"MnO₄⁻ + Хx", 12, 2, "    MnO₄⁻ + Хx\n            ^\n"},
		// What is not seen takes one column; so does a tab.
		{"Cu\t+\x00\u200bXx", 8, 2, "    Cu +??Xx\n          ^^\n"},
		{"Cu\xff\xfe", 2, 1, "    Cu??\n      ^\n"},
		// A long line is cut around the place.
		{long + "xx", 200, 2, "    ..." + (long + "xx")[130:] + "\n       " + strings.Repeat(" ", 70) + "^^\n"},
		{"xx" + long, 0, 2, "    " + ("xx" + long)[:72] + "...\n    ^^\n"},
		{long + "xx" + long, 200, 2, "    ..." + (long + "xx" + long)[152:224] + "...\n       " + strings.Repeat(" ", 48) + "^^\n"},
		{strings.Repeat("x", 4096), 0, 4096, "    " + strings.Repeat("x", 72) + "...\n    " + strings.Repeat("^", 72) + "\n"},
	}
	for _, tt := range tests {
		if got := place(tt.text, tt.offset, tt.length); got != tt.want {
			t.Errorf("place(%q, %d, %d) =\n%swant\n%s", tt.text, tt.offset, tt.length, got, tt.want)
		}
	}
}

// TestLargeInput holds that nothing is kept of what is too large.
func TestLargeInput(t *testing.T) {
	var before, after runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	var stdout, stderr bytes.Buffer
	start := time.Now()
	status := run(t.Context(), []string{"work", "-"}, io.LimitReader(zeros{}, 100<<20), &stdout, &stderr)
	runtime.ReadMemStats(&after)
	if status != statusUnread || stdout.Len() > 0 || !strings.Contains(stderr.String(), "too large") {
		t.Errorf("status %d, standard output %q, standard error %q", status, &stdout, &stderr)
	}
	if n := after.TotalAlloc - before.TotalAlloc; n > 16<<20 {
		t.Errorf("%d bytes were allocated, in %v", n, time.Since(start))
	}
}

type zeros struct{}

func (zeros) Read(p []byte) (int, error) {
	clear(p)
	return len(p), nil
}

// benchmarkQuestions are ordinary questions, one of each difficulty.
var benchmarkQuestions = []string{
	"MnO4^- + H2C2O4 -> Mn^2+ + CO2, in acid",
	"H2O2 + [Cr(OH)4]^- -> CrO4^2- + H2O, in base",
	"Cl2 -> Cl^- + ClO3^-, in base",
	"Cu + NO3^- -> Cu^2+ + NO, in acid",
	"As2S3 + NO3^- -> H3AsO4 + SO4^2- + NO, in acid",
	"KMnO4 + FeSO4 + H2SO4 -> MnSO4 + Fe2(SO4)3 + K2SO4 + H2O",
	"C3H8 + O2 -> CO2 + H2O",
	"Zn + Cu^2+ -> Zn^2+ + Cu",
}

// BenchmarkEach works lines on all cores, as halves work --each does.
func BenchmarkEach(b *testing.B) {
	const lines = 8000
	in := []byte(strings.Repeat(strings.Join(benchmarkQuestions, "\n")+"\n", lines/len(benchmarkQuestions)))
	b.ReportAllocs()
	for b.Loop() {
		var stderr bytes.Buffer
		if status := run(b.Context(), []string{"work", "--each", "-"}, bytes.NewReader(in), io.Discard, &stderr); status != 0 {
			b.Fatal(status, stderr.String())
		}
	}
	b.ReportMetric(float64(b.N)*lines/b.Elapsed().Seconds(), "questions/s")
}

// BenchmarkCommand runs the command for one equation from its arguments to its
// text, within one process.
func BenchmarkCommand(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		var stderr bytes.Buffer
		if status := run(b.Context(), []string{"work", benchmarkQuestions[0]}, strings.NewReader(""), io.Discard, &stderr); status != 0 {
			b.Fatal(status, stderr.String())
		}
	}
}

// TestContinued: a run that was broken off goes on behind its last whole line, and
// gives the same file in the end.
func TestContinued(t *testing.T) {
	path := filepath.Join(t.TempDir(), "out.jsonl")
	in := "a\n\nb\nc\nd\n"
	echo := task{key: "question", answer: func(r request) ([]byte, error) { return []byte(`{"text":"` + r.text + `"}`), nil }}
	run := func(part string, breaks bool) error {
		if part != "" {
			if err := os.WriteFile(path+".part", []byte(part), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		return continued(path, func(w io.Writer, done int64) error {
			echo.done = done
			if err := each(t.Context(), strings.NewReader(in), w, echo, nil); err != nil {
				return err
			}
			if breaks {
				return errors.New("broken off")
			}
			return nil
		})
	}
	if err := run("", false); err != nil {
		t.Fatal(err)
	}
	whole, err := os.ReadFile(path)
	if err != nil || bytes.Count(whole, []byte("\n")) != 4 || !bytes.Contains(whole, []byte(`{"id":5,`)) {
		t.Fatalf("%q, %v", whole, err)
	}
	second := bytes.IndexByte(whole, '\n') + 5
	for _, part := range []string{string(whole[:second]), string(whole[:1]), string(whole)} {
		os.Remove(path)
		if err := run(part, true); err == nil {
			t.Error("a broken run ends well")
		}
		if _, err := os.Stat(path); err == nil {
			t.Error("a broken run leaves a file")
		}
		if err := run("", false); err != nil {
			t.Error(err)
		}
		if again, err := os.ReadFile(path); err != nil || !bytes.Equal(again, whole) {
			t.Errorf("after %q: %q, %v; want %q", part, again, err, whole)
		}
		if _, err := os.Stat(path + ".part"); err == nil {
			t.Error("the part is left")
		}
	}
}
