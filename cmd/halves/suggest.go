package main

import (
	"errors"
	"fmt"
	"iter"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// nearest returns the word that is likest to s, "" where none is like it: at
// most one wrong letter in three.
func nearest(s string, words iter.Seq[string]) string {
	s = strings.ToLower(s)
	if len(s) > 100 {
		return ""
	}
	best, least := "", len([]rune(s))/3+1
	for w := range words {
		if d := len(w) - len(s); d > 2*least || -d > 2*least {
			continue
		}
		if d := distance(s, strings.ToLower(w)); d < least {
			best, least = w, d
		}
	}
	return best
}

// distance counts the letters to put in, leave out or change that turn one word
// into the other (Levenshtein's distance, by the usual table, a row at a time).
func distance(a, b string) int {
	s, t := []rune(a), []rune(b)
	row := make([]int, len(t)+1)
	for j := range row {
		row[j] = j
	}
	for i, x := range s {
		diagonal := row[0]
		row[0] = i + 1
		for j, y := range t {
			change := diagonal
			if x != y {
				change++
			}
			diagonal = row[j+1]
			row[j+1] = min(change, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(t)]
}

// flagError explains a mistaken flag, with the line to type instead.
func flagError(cmd *cobra.Command, err error) error {
	var (
		unknown *pflag.NotExistError
		value   *pflag.InvalidValueError
		missing *pflag.ValueRequiredError
		usage   *usageError
	)
	switch {
	case errors.As(err, &usage):
		return usage
	case errors.As(err, &value):
		return &usageError{msg: fmt.Sprintf("--%s cannot be %q", value.GetFlag().Name, value.GetValue()), hint: fmt.Sprintf("--%s: %s", value.GetFlag().Name, value.GetFlag().Usage)}
	case errors.As(err, &missing):
		return &usageError{msg: fmt.Sprintf("--%s needs a value", missing.GetFlag().Name), hint: fmt.Sprintf("--%s %s", missing.GetFlag().Name, missing.GetFlag().Value.Type())}
	case errors.As(err, &unknown):
		return unknownFlag(cmd, unknown)
	}
	return &usageError{msg: err.Error(), hint: cmd.CommandPath() + " --help shows what can be given"}
}

func unknownFlag(cmd *cobra.Command, err *pflag.NotExistError) error {
	if letters := err.GetSpecifiedShortnames(); letters != "" {
		e := &usageError{msg: fmt.Sprintf("there is no flag -%s", letters), hint: cmd.CommandPath() + " --help lists the flags"}
		if strings.Contains(letters, ">") {
			e.msg = fmt.Sprintf("-%s stands by itself and was taken for a flag", letters)
			e.hint = "put the whole question in one pair of quotes: " + cmd.CommandPath() + " 'Cu + Ag^+ -> Cu^2+ + Ag'"
		}
		return e
	}
	name := err.GetSpecifiedName()
	e := &usageError{msg: fmt.Sprintf("there is no flag --%s", name), hint: cmd.CommandPath() + " --help lists the flags"}
	flags := func(yield func(string) bool) {
		more := true
		cmd.Flags().VisitAll(func(f *pflag.Flag) { more = more && yield(f.Name) })
	}
	if near := nearest(name, flags); near != "" {
		f := cmd.Flags().Lookup(near)
		e.hint = "did you mean --" + near + "?"
		if f.NoOptDefVal == "" {
			e.hint = fmt.Sprintf("did you mean --%s %s?", near, f.Value.Type())
		}
	} else if _, err := parseMediumWord(name); err == nil {
		e.hint = fmt.Sprintf("did you mean --medium %s?", name)
	}
	return e
}
