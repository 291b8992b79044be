package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"halves/redox"
)

// maxLine is the longest line of --each, in bytes.
const maxLine = 1 << 20

// A lineReader reads lines without keeping those that are too long.
type lineReader struct {
	r      *bufio.Reader
	number int // of the last line, from 1
	bytes  int64
}

func newLineReader(r io.Reader) *lineReader {
	return &lineReader{r: bufio.NewReaderSize(r, 64<<10)}
}

// next appends the next line to dst, without its end. long says that it has
// more than maxLine bytes, of which none are given. The error is io.EOF after
// the last line.
func (l *lineReader) next(dst []byte) (line []byte, long bool, err error) {
	start, read := len(dst), 0
	for {
		part, err := l.r.ReadSlice('\n')
		read += len(part)
		l.bytes += int64(len(part))
		if !long {
			dst = append(dst, bytes.TrimSuffix(part, []byte("\n"))...)
			if len(dst)-start > maxLine {
				long, dst = true, dst[:start]
			}
		}
		switch {
		case err == bufio.ErrBufferFull:
			continue
		case err == io.EOF && read > 0:
		case err != nil:
			return dst, false, err
		}
		l.number++
		if l.number == 1 {
			if rest, ok := bytes.CutPrefix(dst[start:], []byte("\ufeff")); ok {
				dst = append(dst[:start], rest...)
			}
		}
		return bytes.TrimSuffix(dst, []byte("\r")), long, nil
	}
}

// skip passes over lines that are not blank, n of them or all.
func (l *lineReader) skip(n int64) error {
	var b []byte
	for n > 0 {
		line, long, err := l.next(b[:0])
		switch {
		case err == io.EOF:
			return nil
		case err != nil:
			return err
		}
		if b = line; long || len(bytes.TrimSpace(line)) > 0 {
			n--
		}
	}
	return nil
}

// waiting reports whether the next line may not be there yet.
func (l *lineReader) waiting() bool { return l.r.Buffered() == 0 }

// A request is a line of --each, read.
type request struct {
	id       []byte // JSON
	text     string
	question string // of a working
	medium   string
}

// keyWorking is the key of lines that hold a question and, as text, a working.
const keyWorking = "working"

// A lineError is a line of --each that is not what it should be.
type lineError struct {
	msg, hint string
	kind      redox.ErrorKind // "" for unreadable
}

func (e *lineError) Error() string { return e.msg }

// readRequest reads a line as JSON where it looks like an object, else as text.
// key names the member with the text. The request has an id in any case.
func readRequest(line []byte, number int, key string) (request, error) {
	r := request{id: fmt.Append(nil, number)}
	if !isObject(line) {
		r.text = string(line)
		return r, nil
	}
	if !utf8.Valid(line) {
		return r, &lineError{msg: "this is not text (a byte that is not UTF-8)", hint: "save the file as UTF-8 text"}
	}
	var j struct {
		ID       json.RawMessage `json:"id"`
		Question json.RawMessage `json:"question"`
		Text     *string         `json:"text"`
		Medium   *string         `json:"medium"`
	}
	err := json.Unmarshal(line, &j)
	if j.ID != nil && json.Valid(j.ID) {
		r.id = bytes.Clone(j.ID)
	}
	var syntax *json.SyntaxError
	var typed *json.UnmarshalTypeError
	switch {
	case errors.As(err, &syntax):
		return r, &lineError{msg: fmt.Sprintf("the line is not JSON: after %d bytes, %v", syntax.Offset, syntax), hint: exampleRequest(key)}
	case errors.As(err, &typed):
		return r, &lineError{msg: fmt.Sprintf("%q is a %s and not a string", typed.Field, typed.Value), hint: exampleRequest(key)}
	case err != nil:
		return r, &lineError{msg: err.Error(), hint: exampleRequest(key)}
	}
	question, medium, err := readQuestion(j.Question)
	if errors.As(err, &typed) {
		field := strings.TrimSuffix("question."+typed.Field, ".")
		return r, &lineError{msg: fmt.Sprintf("%q is a %s and not a string", field, typed.Value), hint: exampleRequest(key)}
	}
	text, member := question, key
	if key != "question" {
		text, member = j.Text, "text"
	}
	if text == nil {
		return r, &lineError{msg: fmt.Sprintf("the line has no %q", member), hint: exampleRequest(key)}
	}
	r.text = *text
	if question != nil && key == keyWorking {
		r.question = *question
	}
	if j.Medium != nil {
		medium = j.Medium
	}
	if medium != nil {
		r.medium = *medium
	}
	return r, nil
}

// readQuestion reads the question of a line: a string, or an object with its
// skeleton and its medium. What is not there is nil.
func readQuestion(b json.RawMessage) (skeleton, medium *string, err error) {
	if len(b) > 0 && b[0] == '{' {
		var j struct {
			Skeleton *string `json:"skeleton"`
			Medium   *string `json:"medium"`
		}
		err = json.Unmarshal(b, &j)
		return j.Skeleton, j.Medium, err
	}
	if b != nil {
		err = json.Unmarshal(b, &skeleton)
	}
	return skeleton, nil, err
}

func exampleRequest(key string) string {
	switch key {
	case "text":
		return `{"id": 1, "text": "SO4^2-"}`
	case keyWorking:
		return `{"id": 1, "question": "Cu + Ag^+ -> Cu^2+ + Ag", "text": "Cu -> Cu^2+ + 2 e^-\nAg^+ + e^- -> Ag"}`
	}
	return `{"id": 1, "question": "Cu + Ag^+ -> Cu^2+ + Ag"}`
}

// isObject reports whether a line begins as a JSON object does and no formula.
func isObject(line []byte) bool {
	rest, ok := bytes.CutPrefix(bytes.TrimLeft(line, " \t"), []byte("{"))
	rest = bytes.TrimLeft(rest, " \t")
	return ok && len(rest) > 0 && (rest[0] == '"' || rest[0] == '}')
}

// report explains an error of a line.
func report(err error) redox.Report {
	var line *lineError
	if errors.As(err, &line) {
		r := redox.Report{Kind: line.kind, Message: line.msg, Hint: line.hint, Offset: -1}
		if r.Kind == "" {
			r.Kind = redox.KindUnreadable
		}
		return r
	}
	return newReport(err)
}

// appendLine appends the line that answers a request: the object with the id
// before its members.
func appendLine(dst, id, object []byte) []byte {
	dst = append(dst, `{"id":`...)
	dst = append(dst, id...)
	dst = append(dst, ',')
	dst = append(dst, plainJSON(object)[1:]...)
	return append(dst, '\n')
}
