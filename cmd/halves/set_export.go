package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"halves/exchange"
	"halves/qti"
)

// What a set can be handed on as.
var exports = []string{"qti22", "qti30", "csv", "xlsx", "json"}

func (a *app) setExportCommand() *cobra.Command {
	o := &setPrintOptions{}
	cmd := &cobra.Command{
		Use:   "export SET.json",
		Short: "Hand a set on: QTI packages, CSV, XLSX, JSON",
		Long: `Hand a set on by open standards.

  qti22   a package of 1EdTech QTI 2.2: multiple choice where the set has options
          to choose from, else one box for each coefficient
  qti30   the same by QTI 3.0, checked by structure alone: its schema could not be
          had
  csv     a table with one question a row
  xlsx    the same as a workbook
  json    the set itself, as halves set new writes it

Platforms compare what is typed as text, so no question asks for a typed equation.
Of a set without options only questions that are to be balanced are handed on as
QTI. Each version of a set has a package of its own.

` + statuses("written", ""),
		Example: `  halves set export week7.json --as qti22 -o week7.zip
  halves set export week7.json -o week7.xlsx`,
		RunE: func(cmd *cobra.Command, args []string) error { return a.setExport(cmd, o, args) },
	}
	addWords(cmd, &o.as, "as", "what to write (default: what the name after -o ends in)", exports)
	cmd.Flags().Lookup("as").DefValue = ""
	cmd.Flags().StringVar(&o.version, "version", "", "only this `VERSION`: A")
	addTablesFlag(cmd, &o.folder)
	o.display.addOutput(cmd)
	o.class.addFlags(cmd)
	return cmd
}

func (a *app) setExport(cmd *cobra.Command, o *setPrintOptions, args []string) error {
	if !cmd.Flags().Changed("as") {
		for _, as := range []string{"csv", "xlsx", "json"} {
			if strings.HasSuffix(strings.ToLower(o.file), "."+as) {
				o.as = as
			}
		}
		if o.as == "" {
			return &usageError{msg: "what to write was not said", hint: "give --as qti22, qti30, csv, xlsx or json"}
		}
	}
	if o.file == "" && (strings.HasPrefix(o.as, "qti") || o.as == "xlsx") && isTerminal(a.stdout) {
		return &usageError{msg: o.as + " is nothing for a terminal", hint: "give -o FILE"}
	}
	var err error
	if o.conventions, err = a.conventions(cmd, &o.class); err != nil {
		return err
	}
	t, err := a.tables(o.folder)
	if err != nil {
		return err
	}
	s, err := a.readSet(args, t)
	if err != nil {
		return err
	}
	versions, err := chosen(s, o.version)
	if err != nil {
		return err
	}
	switch o.as {
	case "json":
		return a.showJSON(o.display, s)
	case "csv":
		return a.output(o.file, func(w io.Writer) error { return exchange.CSV(w, exchange.Rows(versions)) })
	case "xlsx":
		return a.output(o.file, func(w io.Writer) error { return exchange.Book(w, exchange.Rows(versions)) })
	}
	for _, v := range versions {
		path := o.file
		if len(versions) > 1 {
			if path == "" {
				return &usageError{msg: "each version has a package of its own", hint: "give -o FILE.zip, or --version A"}
			}
			path = lettered(o.file, v.Letter)
			fmt.Fprintf(a.stderr, "halves: wrote %s\n", path)
		}
		set, left := exchange.Package(s, v, o.conventions)
		if len(set.Items) == 0 {
			return &usageError{msg: "no question of this set can be handed on as QTI", hint: "wish for options to choose from (choices: 4), or ask to balance"}
		}
		if left > 0 {
			fmt.Fprintf(a.stderr, "halves: version %s: %d of its questions cannot be handed on as QTI and were left out\n", v.Letter, left)
		}
		write := qti.Write22
		if o.as == "qti30" {
			write = qti.Write30
		}
		if err := a.output(path, func(w io.Writer) error { return write(w, set) }); err != nil {
			return err
		}
	}
	return nil
}
