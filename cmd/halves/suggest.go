package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"halves/internal/nearest"
)

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
	if near := nearest.Word(name, flags); near != "" {
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
