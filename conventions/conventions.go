// Package conventions names the conventions of a class and reads and writes the
// small file in which a class keeps them.
//
// The file is YAML 1.2, one convention a line, by the names that the flags of
// the command line have too:
//
//	by: halves
//	hydronium: true
//	names: stock
//
// What a convention does is left to the packages that work and show a question.
package conventions

import (
	"fmt"
	"slices"
	"strings"

	"halves/internal/nearest"
	"halves/names"
	"halves/redox"
)

// A Convention is one thing in which classes differ.
type Convention struct {
	Name  string   // as a flag and in the file: "base-in-halves"
	Help  string   // what it does, without a capital and a full stop
	Words []string // its values; "true" and "false" for one that is on or off
	get   func(*redox.Conventions) string
	set   func(*redox.Conventions, string)
}

// OnOff reports whether the convention is on or off, without other values.
func (c Convention) OnOff() bool { return c.Words[0] == "false" }

// Get returns the value that the convention has in v, one of Words.
func (c Convention) Get(v *redox.Conventions) string { return c.get(v) }

// Set gives the convention a value in v. The error is a *ValueError.
func (c Convention) Set(v *redox.Conventions, word string) error {
	if !slices.Contains(c.Words, word) {
		return &ValueError{c, word}
	}
	c.set(v, word)
	return nil
}

// A ValueError is a value that a convention does not have.
type ValueError struct {
	Convention Convention
	Value      string
}

func (e *ValueError) Error() string {
	return fmt.Sprintf("%s cannot be %q", e.Convention.Name, e.Value)
}

// Hint names the values, and the nearest.
func (e *ValueError) Hint() string {
	hint := "it is one of: " + strings.Join(e.Convention.Words, ", ")
	if near := nearest.Word(e.Value, slices.Values(e.Convention.Words)); near != "" {
		hint += "; did you mean " + near + "?"
	}
	return hint
}

// All lists the conventions in the order in which they are shown.
func All() []Convention {
	return []Convention{
		{"by", "the method: by half-reactions, oxidation states, or equations among the coefficients", redox.Methods,
			func(v *redox.Conventions) string { return v.By.String() },
			func(v *redox.Conventions, w string) { v.By = redox.Method(slices.Index(redox.Methods, w)) }},
		onOff("hydronium", "write H3O^+ for H^+", func(v *redox.Conventions) *bool { return &v.Hydronium }),
		onOff("base-in-halves", "in base, add hydroxide to each half and not at the end", func(v *redox.Conventions) *bool { return &v.BaseInHalves }),
		onOff("phases", "mark (s), (l), (g), (aq) where they were typed", func(v *redox.Conventions) *bool { return &v.Phases }),
		onOff("ones", "write the coefficient 1", func(v *redox.Conventions) *bool { return &v.Ones }),
		onOff("equals", "write = for the arrow", func(v *redox.Conventions) *bool { return &v.Equals }),
		onOff("roman", "write oxidation states as II, not +2", func(v *redox.Conventions) *bool { return &v.Roman }),
		onOff("comma", "write a comma before decimals", func(v *redox.Conventions) *bool { return &v.Comma }),
		{"names", "the names that are printed and spoken: permanganate ion, iron(III) ion (common); ferric ion (traditional); manganate(VII) ion (stock); tetraoxidomanganate(1-) ion (systematic)", names.Styles,
			func(v *redox.Conventions) string { return v.Names.Style.String() },
			func(v *redox.Conventions, w string) { v.Names.Style = names.Style(slices.Index(names.Styles, w)) }},
		onOff("sulph", "spell sulphate, not sulfate", func(v *redox.Conventions) *bool { return &v.Names.Sulph }),
	}
}

func onOff(name, help string, field func(*redox.Conventions) *bool) Convention {
	return Convention{name, help, []string{"false", "true"},
		func(v *redox.Conventions) string { return fmt.Sprint(*field(v)) },
		func(v *redox.Conventions, w string) { *field(v) = w == "true" }}
}

// Find returns the convention of a name, and whether there is one.
func Find(name string) (Convention, bool) {
	all := All()
	i := slices.IndexFunc(all, func(c Convention) bool { return c.Name == name })
	if i < 0 {
		return Convention{}, false
	}
	return all[i], true
}

// named lists the names.
func named() []string {
	var out []string
	for _, c := range All() {
		out = append(out, c.Name)
	}
	return out
}
