package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"slices"
	"strings"
	"testing"
	"testing/iotest"

	"halves/redox"
)

// readLines reads all lines; a line that is too long is "LONG".
func readLines(r io.Reader) (lines []string, err error) {
	l := newLineReader(r)
	for {
		b, long, err := l.next(nil)
		if err == io.EOF {
			return lines, nil
		}
		if err != nil {
			return lines, err
		}
		if long {
			b = []byte("LONG")
		}
		lines = append(lines, string(b))
		if l.number != len(lines) {
			return lines, errors.New("the lines are not counted from 1")
		}
	}
}

func TestLineReader(t *testing.T) {
	full := strings.Repeat("x", maxLine)
	tests := []struct {
		name, in string
		want     []string
	}{
		{"empty", "", nil},
		{"one", "a", []string{"a"}},
		{"two", "a\nb\n", []string{"a", "b"}},
		{"blank lines", "\n\na", []string{"", "", "a"}},
		{"carriage returns", "a\r\nb\r\n", []string{"a", "b"}},
		{"byte order mark", "\ufeffa\n\ufeffb", []string{"a", "\ufeffb"}},
		{"the longest", full + "\na", []string{full, "a"}},
		{"one byte too long", full + "x\na", []string{"LONG", "a"}},
		{"too long without an end", full + full + full, []string{"LONG"}},
	}
	for _, tt := range tests {
		for _, r := range []io.Reader{strings.NewReader(tt.in), iotest.HalfReader(strings.NewReader(tt.in))} {
			got, err := readLines(r)
			if err != nil || !slices.Equal(got, tt.want) {
				t.Errorf("%s: %d lines, error %v, want %d lines", tt.name, len(got), err, len(tt.want))
			}
		}
	}
	broken := errors.New("broken")
	if _, err := readLines(io.MultiReader(strings.NewReader("a\n"), iotest.ErrReader(broken))); err != broken {
		t.Errorf("a reader that fails: error %v, want %v", err, broken)
	}
}

func TestReadRequest(t *testing.T) {
	tests := []struct {
		line, id, text, medium, err string
	}{
		{"Cu -> Cu^2+", "7", "Cu -> Cu^2+", "", ""},
		{`{"id":"a","question":"Cu","medium":"basic"}`, `"a"`, "Cu", "basic", ""},
		{` { "question": "Cu", "id": {"n": 1} }`, `{"n": 1}`, "Cu", "", ""},
		{`{"question":"Cu","medium":null}`, "7", "Cu", "", ""},
		{`{"id":1}`, "1", "", "", `the line has no "question"`},
		{`{"id":1,"question":[]}`, "1", "", "", `"question" is a array and not a string`},
		{`{"id":1,"question":"Cu"} x`, "7", "", "", "the line is not JSON"},
		{"{\"question\":\"\xff\"}", "7", "", "", "not UTF-8"},
		// A formula may begin with a brace.
		{"{[Fe(CN)6]}^4- -> Fe", "7", "{[Fe(CN)6]}^4- -> Fe", "", ""},
	}
	for _, tt := range tests {
		r, err := readRequest([]byte(tt.line), 7, "question")
		if (err != nil) != (tt.err != "") || err != nil && !strings.Contains(err.Error(), tt.err) {
			t.Errorf("readRequest(%s): error %v, want %q", tt.line, err, tt.err)
		}
		if string(r.id) != tt.id || r.text != tt.text || r.medium != tt.medium {
			t.Errorf("readRequest(%s) = id %s, text %q, medium %q; want id %s, text %q, medium %q", tt.line, r.id, r.text, r.medium, tt.id, tt.text, tt.medium)
		}
	}
}

func TestPlainJSON(t *testing.T) {
	tests := []struct{ in, want string }{
		{`"a -\u003e b"`, `"a -> b"`},
		{`"\u003c\u0026\u003e"`, `"<&>"`},
		{`"\\u003e"`, `"\\u003e"`},     // a backslash, and then letters
		{`"\\\u003e"`, `"\\>"`},        // a backslash, and then the sign
		{`"\u2028 \n"`, `"\u2028 \n"`}, // others stay
		{`"\u00"`, `"\u00"`},
		{`\`, `\`},
	}
	for _, tt := range tests {
		if got := string(plainJSON([]byte(tt.in))); got != tt.want {
			t.Errorf("plainJSON(%s) = %s, want %s", tt.in, got, tt.want)
		}
	}
}

// FuzzEach reads any bytes as lines of --each: there is one answer for each
// line that is not blank, each is a JSON object with an id, and reading in
// pieces changes nothing.
func FuzzEach(f *testing.F) {
	for _, s := range []string{
		"Cu + Ag^+ -> Cu^2+ + Ag\n\nFe -> Fe3+\n",
		`{"id":"a","question":"Cu + Ag^+ -> Cu^2+ + Ag","medium":"acidic"}`,
		"{\"id\":1e5,\"question\":\"x\"}\r\n{\"id\":1",
		"\ufeffO2- -> O2\n\x00\xff\n{}\n",
		`{"ID":null,"QUESTION":"\u003e\ud800"}`,
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, in []byte) {
		echo := task{key: "question", answer: func(r request) ([]byte, error) {
			if len(r.text) > 20 {
				return nil, &lineError{msg: r.text}
			}
			return json.Marshal(map[string]string{"question": r.text, "medium": r.medium})
		}}
		var whole, pieces bytes.Buffer
		if err := each(t.Context(), bytes.NewReader(in), &whole, echo, nil); err != nil {
			t.Fatal(err)
		}
		if err := each(t.Context(), iotest.OneByteReader(bytes.NewReader(in)), &pieces, echo, nil); err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(whole.Bytes(), pieces.Bytes()) {
			t.Errorf("read whole:\n%s\nread byte by byte:\n%s", &whole, &pieces)
		}
		lines, err := readLines(bytes.NewReader(in))
		if err != nil {
			t.Fatal(err)
		}
		lines = slices.DeleteFunc(lines, func(l string) bool { return strings.TrimSpace(l) == "" })
		answers := strings.SplitAfter(whole.String(), "\n")
		if n := len(answers) - 1; n != len(lines) || answers[n] != "" {
			t.Fatalf("%d answers to %d lines", n, len(lines))
		}
		for _, a := range answers[:len(lines)] {
			var j struct {
				ID    json.RawMessage `json:"id"`
				Error *struct {
					Kind redox.ErrorKind `json:"kind"`
				} `json:"error"`
			}
			if err := json.Unmarshal([]byte(a), &j); err != nil || j.ID == nil {
				t.Fatalf("the answer %q: error %v, id %s", a, err, j.ID)
			}
			if j.Error != nil && j.Error.Kind == redox.KindInternal {
				t.Fatalf("a defect: %s", a)
			}
		}
	})
}
