package question

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
)

// MaxWish is how many bytes a file of a wish may have.
const MaxWish = 64 << 10

// A FileError is something in a file that cannot be read.
type FileError struct {
	Line, Column int // from 1, in characters; 0 where it is no single place
	Msg          string
	Tip          string // a way out, or ""
	Err          error
}

func (e *FileError) Error() string {
	if e.Line == 0 {
		return e.Msg
	}
	return fmt.Sprintf("line %d, column %d: %s", e.Line, e.Column, e.Msg)
}

// Hint says what to do.
func (e *FileError) Hint() string { return e.Tip }

// Unwrap returns what the message was made from, or nil.
func (e *FileError) Unwrap() error { return e.Err }

const wishHint = "write one wish a line: questions: 10"

// ReadWish reads a wish from YAML 1.2, a line for each key; what it does not name
// is as usual. A list stands in brackets or has a line for each of its values:
//
//	title: Week 7
//	questions: 12
//	want: [water-twice, base]
//	difficulty: 2-6
//
// The error is a *FileError with the place and the nearest valid word.
func ReadWish(text []byte) (Wish, error) {
	w := NewWish()
	switch {
	case len(text) > MaxWish:
		return w, &FileError{Msg: fmt.Sprintf("a wish may have %d bytes, and this file has %d", MaxWish, len(text)), Tip: wishHint}
	case !utf8.Valid(text):
		return w, &FileError{Msg: "this is not text in UTF-8", Tip: wishHint}
	}
	file, err := parseYAML(bytes.TrimPrefix(text, []byte("\ufeff")))
	if err != nil {
		e := &FileError{Msg: err.Error(), Tip: wishHint, Err: err}
		var at yaml.Error
		if errors.As(err, &at) {
			e.Msg = at.GetMessage()
			if t := at.GetToken(); t != nil && t.Position != nil {
				e.Line, e.Column = t.Position.Line, t.Position.Column
			}
		}
		return w, e
	}
	for i, doc := range file.Docs {
		var pairs []*ast.MappingValueNode
		switch n := doc.Body.(type) {
		case nil, *ast.NullNode, *ast.CommentGroupNode:
		case *ast.MappingNode:
			pairs = n.Values
		case *ast.MappingValueNode:
			pairs = []*ast.MappingValueNode{n}
		default:
			return w, wishAt(n.GetToken(), "this is no wish", wishHint, nil)
		}
		if i > 0 && pairs != nil {
			return w, wishAt(doc.GetToken(), "a second document begins here", "keep one wish in one file", nil)
		}
		for _, p := range pairs {
			if err := w.line(p); err != nil {
				return w, err
			}
		}
	}
	return w, w.check()
}

// parseYAML guards against a text that the parser cannot stand.
func parseYAML(text []byte) (file *ast.File, err error) {
	defer func() {
		if r := recover(); r != nil {
			file, err = nil, fmt.Errorf("this is not YAML: %v", r)
		}
	}()
	return parser.ParseBytes(text, 0)
}

// line takes one key with its values.
func (w *Wish) line(p *ast.MappingValueNode) error {
	name := p.Key.GetToken()
	i := slices.IndexFunc(keys, func(k Key) bool { return k.Name == name.Value })
	if i < 0 {
		var known []string
		for _, k := range keys {
			known = append(known, k.Name)
		}
		e := unknownWord("line of a wish", name.Value, known)
		hint := e.Hint()
		if hint == "" {
			hint = "the lines are: " + strings.Join(known, ", ")
		}
		return wishAt(name, e.Error(), hint, e)
	}
	nodes := []ast.Node{p.Value}
	if list, ok := p.Value.(*ast.SequenceNode); ok {
		nodes = list.Values
	}
	values := make([]string, len(nodes))
	for j, n := range nodes {
		switch n.(type) {
		case *ast.StringNode, *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode, *ast.LiteralNode:
			values[j] = n.GetToken().Value
		default:
			return wishAt(n.GetToken(), fmt.Sprintf("%s has no value that can be read", name.Value), keys[i].Help, nil)
		}
	}
	if keys[i].List && len(values) == 1 && nodes[0] == p.Value {
		values = strings.Split(values[0], ",")
	}
	err := keys[i].Set(w, values)
	if err == nil {
		return nil
	}
	at := p.Value.GetToken()
	var item *itemError
	if errors.As(err, &item) && item.i < len(nodes) {
		at = nodes[item.i].GetToken()
	}
	hint := ""
	var hinted interface{ Hint() string }
	if errors.As(err, &hinted) {
		hint = hinted.Hint()
	}
	if hint == "" {
		hint = name.Value + ": " + keys[i].Help
	}
	return wishAt(at, err.Error(), hint, err)
}

func wishAt(t *token.Token, msg, hint string, err error) *FileError {
	e := &FileError{Msg: msg, Tip: hint, Err: err}
	if t != nil && t.Position != nil {
		e.Line, e.Column = t.Position.Line, t.Position.Column
	}
	return e
}
