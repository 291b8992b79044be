package marking

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/goccy/go-yaml"

	"halves/internal/nearest"
)

// A SchemeError is something in a file of a scheme that cannot be read.
type SchemeError struct {
	Line, Column int // from 1; 0 where it is no single place
	Msg, Hint    string
}

func (e *SchemeError) Error() string {
	if e.Line == 0 {
		return e.Msg
	}
	return fmt.Sprintf("line %d, column %d: %s", e.Line, e.Column, e.Msg)
}

const schemeHint = "write one step a line with what it is worth: oxidation: 2"

// ReadScheme reads a scheme from YAML 1.2, a step a line with what it is worth,
// and perhaps "working: true":
//
//	species: 1
//	oxidation: 2
//	reduction: 2
//	final: 1
//	working: true
//
// A step that is not named earns nothing. The error is a *SchemeError.
func ReadScheme(text []byte) (Scheme, error) {
	scheme := Scheme{Worth: map[Step]int{}}
	if len(text) > MaxText || !utf8.Valid(text) {
		return scheme, &SchemeError{Msg: "this is no scheme: it is too long, or no text", Hint: schemeHint}
	}
	var all yaml.MapSlice
	d := yaml.NewDecoder(bytes.NewReader(bytes.TrimPrefix(text, []byte("\ufeff"))), yaml.UseOrderedMap())
	if err := decode(d, &all); err != nil && !errors.Is(err, io.EOF) {
		e := &SchemeError{Msg: "this is not YAML", Hint: schemeHint}
		var at yaml.Error
		if errors.As(err, &at) {
			e.Msg = at.GetMessage()
			if token := at.GetToken(); token != nil && token.Position != nil {
				e.Line, e.Column = token.Position.Line, token.Position.Column
			}
		}
		return scheme, e
	}
	sum := 0
	for _, pair := range all {
		key := fmt.Sprint(pair.Key)
		line := lineOf(text, key)
		switch v := pair.Value.(type) {
		case bool:
			if key == "working" {
				scheme.Working = v
				continue
			}
		case uint64:
			if slices.Contains(Steps, Step(key)) && v <= maxWorth {
				scheme.Worth[Step(key)] = int(v)
				sum += int(v)
				continue
			}
		}
		e := &SchemeError{Line: line, Column: 1, Hint: schemeHint}
		switch {
		case key == "working":
			e.Msg, e.Hint = fmt.Sprintf("working cannot be %v", pair.Value), "it is true or false"
		case slices.Contains(Steps, Step(key)):
			e.Msg, e.Hint = fmt.Sprintf("%s cannot be worth %v", key, pair.Value), fmt.Sprintf("give a whole number from 0 to %d", maxWorth)
		default:
			e.Msg, e.Hint = fmt.Sprintf("there is no step %q", key), "the steps are "+strings.Join(stepNames(), ", ")
			if near := nearest.Word(key, slices.Values(stepNames())); near != "" {
				e.Hint = "did you mean " + near + "?"
			}
		}
		return scheme, e
	}
	if sum == 0 {
		return scheme, &SchemeError{Msg: "this scheme gives no marks", Hint: schemeHint}
	}
	return scheme, nil
}

// maxWorth is the most that a step may be worth.
const maxWorth = 100

// decode guards against a text that the reader of YAML cannot stand.
func decode(d *yaml.Decoder, v any) (err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("this is not YAML: %v", r)
		}
	}()
	return d.Decode(v)
}

// lineOf is the line on which a key stands, 0 where it is not found.
func lineOf(text []byte, key string) int {
	for i, line := range strings.Split(string(text), "\n") {
		if rest, ok := strings.CutPrefix(strings.TrimLeft(line, " \"'"), key); ok && strings.HasPrefix(strings.TrimLeft(rest, " \"'"), ":") {
			return i + 1
		}
	}
	return 0
}
