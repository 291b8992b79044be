package conventions

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"

	"halves/internal/nearest"
	"halves/redox"
)

// MaxFile is how many bytes a file of conventions may have.
const MaxFile = 64 << 10

// A FileError is something in a file of conventions that cannot be read.
type FileError struct {
	Line, Column int // from 1, in characters; 0 where it is no single place
	Msg          string
	Hint         string // a way out, or ""
}

func (e *FileError) Error() string {
	if e.Line == 0 {
		return e.Msg
	}
	return fmt.Sprintf("line %d, column %d: %s", e.Line, e.Column, e.Msg)
}

// Read reads a file of conventions; what it does not name is as by default. An
// empty file is one too. The error is a *FileError.
func Read(text []byte) (redox.Conventions, error) {
	var v redox.Conventions
	return v, read(text, &v)
}

func read(text []byte, v *redox.Conventions) error {
	switch {
	case len(text) > MaxFile:
		return &FileError{Msg: fmt.Sprintf("a file of conventions may have %d bytes, and this one has %d", MaxFile, len(text))}
	case !utf8.Valid(text):
		return &FileError{Msg: "this is not text in UTF-8", Hint: "write one convention a line: hydronium: true"}
	}
	file, err := parse(bytes.TrimPrefix(text, []byte("\ufeff"))) // some editors put a mark there
	if err != nil {
		return syntax(err)
	}
	seen := map[string]int{}
	for i, doc := range file.Docs {
		if i > 0 {
			return at(doc.GetToken(), "a second document begins here", "keep one class in one file")
		}
		pairs, err := pairsOf(doc.Body)
		if err != nil {
			return err
		}
		for _, p := range pairs {
			if err := one(p, v, seen); err != nil {
				return err
			}
		}
	}
	return nil
}

// parse guards against a text that the parser of YAML cannot stand.
func parse(text []byte) (file *ast.File, err error) {
	defer func() {
		if r := recover(); r != nil {
			file, err = nil, fmt.Errorf("this is not YAML: %v", r)
		}
	}()
	return parser.ParseBytes(text, 0)
}

// pairsOf returns the lines of a document, nil for an empty one.
func pairsOf(n ast.Node) ([]*ast.MappingValueNode, error) {
	switch n := n.(type) {
	case nil, *ast.NullNode, *ast.CommentGroupNode:
		return nil, nil
	case *ast.MappingNode:
		return n.Values, nil
	case *ast.MappingValueNode:
		return []*ast.MappingValueNode{n}, nil
	}
	return nil, at(n.GetToken(), "this is not a convention with its value", "write one convention a line: hydronium: true")
}

// one reads one line into v.
func one(p *ast.MappingValueNode, v *redox.Conventions, seen map[string]int) error {
	key := p.Key.GetToken()
	c, ok := Find(key.Value)
	if !ok {
		hint := "the conventions are: " + strings.Join(named(), ", ")
		if near := nearest.Word(strings.ReplaceAll(key.Value, "_", "-"), slices.Values(named())); near != "" {
			hint = "did you mean " + near + "?"
		}
		return at(key, fmt.Sprintf("there is no convention %q", key.Value), hint)
	}
	if line := seen[c.Name]; line > 0 {
		return at(key, fmt.Sprintf("%s stands in line %d already", c.Name, line), "keep one of the two")
	}
	seen[c.Name] = key.Position.Line
	switch p.Value.(type) {
	case *ast.StringNode, *ast.BoolNode:
	case *ast.NullNode:
		return at(key, c.Name+" has no value", "its values are: "+strings.Join(c.Words, ", "))
	default:
		return at(p.Value.GetToken(), c.Name+" has one word as its value", "it is one of: "+strings.Join(c.Words, ", "))
	}
	value := p.Value.GetToken()
	word := strings.ToLower(value.Value)
	if c.OnOff() {
		// Words that people write for on and off; YAML 1.2 knows true and false.
		switch word {
		case "yes", "on":
			word = "true"
		case "no", "off":
			word = "false"
		}
	}
	var wrong *ValueError
	if err := c.Set(v, word); errors.As(err, &wrong) {
		wrong.Value = value.Value
		return at(value, wrong.Error(), wrong.Hint())
	}
	return nil
}

func at(t *token.Token, msg, hint string) *FileError {
	e := &FileError{Msg: msg, Hint: hint}
	if t != nil && t.Position != nil {
		e.Line, e.Column = t.Position.Line, t.Position.Column
	}
	return e
}

// syntax tells what the parser of YAML found.
func syntax(err error) error {
	var e yaml.Error
	if errors.As(err, &e) {
		return at(e.GetToken(), e.GetMessage(), "write one convention a line: hydronium: true")
	}
	return &FileError{Msg: err.Error(), Hint: "write one convention a line: hydronium: true"}
}

// Write returns the file that Read reads as v, with a line for each convention
// and what it means.
func Write(v redox.Conventions) []byte {
	var b strings.Builder
	b.WriteString("# The conventions of a class, for halves --class.\n")
	for _, c := range All() {
		b.WriteString("\n")
		for _, line := range folded(c.Help, 76) {
			b.WriteString("# " + line + "\n")
		}
		if !c.OnOff() {
			b.WriteString("# (" + strings.Join(c.Words, ", ") + ")\n")
		}
		fmt.Fprintf(&b, "%s: %s\n", c.Name, c.Get(&v))
	}
	return []byte(b.String())
}

// folded breaks a sentence into lines of at most width characters where it can.
func folded(s string, width int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(s) {
		if line != "" && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > width {
			lines = append(lines, line)
			line = ""
		}
		if line != "" {
			line += " "
		}
		line += word
	}
	return append(lines, line)
}
