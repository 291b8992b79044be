package main

import (
	"io"
	"os"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"

	"halves/reference"
)

func (a *app) manCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "man [FOLDER]",
		Short: "Write the manual page, or the pages of all commands into a folder",
		Long: `Write the manual page of halves to standard output, or the pages of all commands
into a folder, in the format of man(1).`,
		Example: `  halves man | man -l -
  halves man ~/.local/share/man/man1`,
		GroupID: groupMore,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) > 1 {
				return &usageError{msg: "more than one folder was given", hint: "halves man FOLDER"}
			}
			// The date of the tables, so that the same program writes the same page.
			date, err := time.Parse("2006-01", reference.Edition)
			if err != nil {
				return err
			}
			header := &doc.GenManHeader{Title: "HALVES", Section: "1", Date: &date, Source: "halves", Manual: "Halves"}
			if len(args) == 0 {
				return a.output("", func(w io.Writer) error { return doc.GenMan(cmd.Root(), header, w) })
			}
			if err := os.MkdirAll(args[0], 0o777); err != nil {
				return &fileError{args[0], err}
			}
			header.Title = "" // each page its own
			if err := doc.GenManTree(cmd.Root(), header, args[0]); err != nil {
				return &fileError{args[0], err}
			}
			return nil
		},
	}
}
