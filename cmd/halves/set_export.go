package main

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/xuri/excelize/v2"

	"halves/paper"
	"halves/qti"
	"halves/question"
	"halves/redox"
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
		return a.output(o.file, func(w io.Writer) error {
			c := csv.NewWriter(w)
			if err := c.WriteAll(rowsOf(versions)); err != nil {
				return err
			}
			return c.Error()
		})
	case "xlsx":
		return a.output(o.file, func(w io.Writer) error { return writeSetBook(w, rowsOf(versions)) })
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
		set, left := packageOf(s, v, o.conventions)
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

// packageOf makes the items of a package, and says how many questions have none.
func packageOf(s *question.Set, v *question.Version, c redox.Conventions) (set qti.Set, left int) {
	set = qti.Set{ID: "halves-" + v.Code, Title: s.Wish.Title}
	if len(s.Versions) > 1 {
		set.Title += ", version " + v.Letter
	}
	for i := range v.Items {
		x := &v.Items[i]
		item := qti.Item{ID: fmt.Sprintf("q%d", x.Number), Title: fmt.Sprintf("Question %d", x.Number), Worth: max(x.Worth, 1)}
		item.Stem = paper.Stem(x, c)
		switch {
		case x.Options != nil:
			for _, o := range paper.Choices(x, c) {
				item.Choices = append(item.Choices, qti.Choice{Text: o.Text, Right: o.Right, Feedback: o.Note})
			}
		case x.Ask == question.Balance:
			for _, p := range paper.Gaps(x, c) {
				piece := qti.Piece{Text: p.Text}
				if p.Answer != "" {
					piece.Gap = &qti.Gap{Answer: p.Answer, Label: p.Label}
				}
				item.Line = append(item.Line, piece)
			}
		default:
			left++
			continue
		}
		set.Items = append(set.Items, item)
	}
	return set, left
}

// rowsOf is one question a row, under a head.
func rowsOf(versions []*question.Version) [][]string {
	out := [][]string{{"version", "number", "row", "question", "medium", "ask", "marks", "difficulty", "features", "answer", "electrons", "right option", "check code", "source"}}
	for _, v := range versions {
		for _, x := range v.Items {
			q := x.Question
			right := ""
			for i, o := range x.Options {
				if o.Right {
					right = string(rune('A' + i))
				}
			}
			electrons := ""
			if q.Electrons > 0 {
				electrons = strconv.FormatInt(q.Electrons, 10)
			}
			out = append(out, []string{v.Letter, strconv.Itoa(x.Number), strconv.Itoa(x.Slot), q.Text, string(q.Medium), string(x.Ask), strconv.Itoa(x.Worth),
				q.Difficulty.String(), q.Features.String(), q.Answer().String(), electrons, right, v.Code, q.Source})
		}
	}
	return out
}

// writeSetBook writes a table as the one sheet of a workbook (ISO/IEC 29500-1).
func writeSetBook(w io.Writer, rows [][]string) error {
	book := excelize.NewFile()
	defer book.Close()
	const sheet = "Questions"
	if err := book.SetSheetName("Sheet1", sheet); err != nil {
		return err
	}
	numbers := map[string]bool{"number": true, "row": true, "marks": true, "difficulty": true, "electrons": true}
	for r, row := range rows {
		cells := make([]any, len(row))
		for c, text := range row {
			cells[c] = text
			if r > 0 && numbers[rows[0][c]] && text != "" {
				if n, err := strconv.ParseFloat(text, 64); err == nil {
					cells[c] = n
				}
			}
		}
		at, err := excelize.CoordinatesToCellName(1, r+1)
		if err != nil {
			return err
		}
		if err := book.SetSheetRow(sheet, at, &cells); err != nil {
			return err
		}
	}
	bold, err := book.NewStyle(&excelize.Style{Font: &excelize.Font{Bold: true}})
	if err != nil {
		return err
	}
	for _, step := range []func() error{
		func() error { return book.SetRowStyle(sheet, 1, 1, bold) },
		func() error { return book.SetColWidth(sheet, "D", "D", 45) },
		func() error { return book.SetColWidth(sheet, "I", "J", 45) },
		func() error {
			return book.SetPanes(sheet, &excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"})
		},
	} {
		if err := step(); err != nil {
			return err
		}
	}
	return book.Write(w)
}
