package web

import (
	"encoding/json"
	"fmt"
	"strings"

	"github.com/danielgtaylor/huma/v2"

	"halves/conventions"
	"halves/question"
	"halves/redox"
)

// What the description of the API takes over: the published schemas of a worked
// question and of a set, and what packages conventions and question list.

// publish puts the published schemas among the components. A definition is called
// after its file: SolutionHalves; the wholes are Solution, Report and Set.
func publish(into map[string]*huma.Schema) {
	adopt(into, redox.Schema, func(def string) string {
		switch def {
		case "solution", "report":
			return capital(def)
		}
		return "Solution" + capital(def)
	})
	adopt(into, question.Schema, func(def string) string { return "Set" + capital(def) })
}

// adopt puts each definition of a JSON Schema among the components, with the
// references turned to where they are now. The schema itself, where it describes
// an object, goes under the name of "".
func adopt(into map[string]*huma.Schema, schema []byte, name func(def string) string) {
	var whole map[string]any
	if err := json.Unmarshal(schema, &whole); err != nil {
		panic(err) // it is part of the program; a test reads it
	}
	defs, _ := whole["$defs"].(map[string]any)
	if whole["type"] == "object" {
		root := map[string]any{}
		for k, v := range whole {
			if !strings.HasPrefix(k, "$") {
				root[k] = v
			}
		}
		into[name("")] = &huma.Schema{Extensions: turned(root, name).(map[string]any)}
	}
	for def, v := range defs {
		into[name(def)] = &huma.Schema{Extensions: turned(v, name).(map[string]any)}
	}
}

// turned copies a part of a schema with its references turned.
func turned(v any, name func(string) string) any {
	switch v := v.(type) {
	case map[string]any:
		out := make(map[string]any, len(v))
		for k, x := range v {
			if ref, ok := x.(string); ok && k == "$ref" {
				x = "#/components/schemas/" + name(strings.TrimPrefix(ref, "#/$defs/"))
			}
			out[k] = turned(x, name)
		}
		return out
	case []any:
		out := make([]any, len(v))
		for i, x := range v {
			out[i] = turned(x, name)
		}
		return out
	}
	return v
}

func capital(s string) string {
	if s == "" {
		return ""
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

func refTo(component string) *huma.Schema {
	return &huma.Schema{Ref: "#/components/schemas/" + component}
}

// A mediumJSON is a medium, or "" for what the question says.
type mediumJSON string

// Schema lists the media.
func (mediumJSON) Schema(huma.Registry) *huma.Schema {
	enum := []any{""}
	for _, m := range redox.Media {
		enum = append(enum, string(m))
	}
	return &huma.Schema{Type: huma.TypeString, Enum: enum, Description: "What may be added; empty for what the question itself says."}
}

// A conventionsJSON holds conventions by their names in JSON, all or some.
type conventionsJSON map[string]any

// nameInJSON is the name of a convention in JSON: baseInHalves for
// base-in-halves, as a solution has it.
func nameInJSON(name string) string {
	words := strings.Split(name, "-")
	for i := range words[1:] {
		words[i+1] = capital(words[i+1])
	}
	return strings.Join(words, "")
}

// newConventionsJSON writes all of them.
func newConventionsJSON(c redox.Conventions) conventionsJSON {
	out := conventionsJSON{}
	for _, k := range conventions.All() {
		if v := k.Get(&c); k.OnOff() {
			out[nameInJSON(k.Name)] = v == "true"
		} else {
			out[nameInJSON(k.Name)] = v
		}
	}
	return out
}

// over returns base with what is named here over it.
func (j conventionsJSON) over(base redox.Conventions) (redox.Conventions, error) {
	for _, k := range conventions.All() {
		v, ok := j[nameInJSON(k.Name)]
		if !ok {
			continue
		}
		if err := k.Set(&base, fmt.Sprint(v)); err != nil {
			return base, &pageError{422, sentence(err.Error()), ""}
		}
	}
	return base, nil
}

// Schema lists the conventions with their values.
func (conventionsJSON) Schema(huma.Registry) *huma.Schema {
	s := &huma.Schema{Type: huma.TypeObject, AdditionalProperties: false, Properties: map[string]*huma.Schema{}}
	for _, k := range conventions.All() {
		one := &huma.Schema{Type: huma.TypeString, Description: capital(k.Help) + "."}
		if k.OnOff() {
			one.Type = huma.TypeBoolean
		} else {
			for _, w := range k.Words {
				one.Enum = append(one.Enum, w)
			}
		}
		s.Properties[nameInJSON(k.Name)] = one
	}
	return s
}

// A wishJSON holds lines of a wish, as the wish of a set has them: a word, a
// number or true and false; a list for the lines that have several values.
type wishJSON map[string]any

// wish reads the lines over the usual wish. The errors are those of question.Key.
func (j wishJSON) wish() (question.Wish, error) {
	w := question.NewWish()
	for _, k := range question.Keys() {
		v, ok := j[k.Name]
		if !ok {
			continue
		}
		values := []string{}
		if list, ok := v.([]any); ok {
			for _, x := range list {
				values = append(values, wordOf(x))
			}
		} else {
			values = append(values, wordOf(v))
		}
		if err := k.Set(&w, values); err != nil {
			return w, err
		}
	}
	return w, nil
}

// wordOf writes a value of JSON as a line of a wish has it: 250, not 2.5e+02.
func wordOf(v any) string {
	if n, ok := v.(float64); ok {
		b, err := json.Marshal(n)
		if err == nil {
			return string(b)
		}
	}
	return fmt.Sprint(v)
}

// Schema lists the lines.
func (wishJSON) Schema(huma.Registry) *huma.Schema {
	s := &huma.Schema{Type: huma.TypeObject, AdditionalProperties: false, Properties: map[string]*huma.Schema{}}
	most := 200
	scalar := []*huma.Schema{{Type: huma.TypeString, MaxLength: &most}, {Type: huma.TypeNumber}, {Type: huma.TypeBoolean}}
	for _, k := range question.Keys() {
		one := &huma.Schema{Description: capital(k.Help) + "."}
		if k.List {
			one.Type, one.Items, one.MaxItems = huma.TypeArray, &huma.Schema{Type: huma.TypeString, MaxLength: &most}, &most
		} else {
			one.OneOf = scalar
		}
		s.Properties[k.Name] = one
	}
	return s
}
