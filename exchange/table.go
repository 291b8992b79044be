package exchange

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"halves/chem"
	"halves/question"
)

// Rows is one question a row, under a head.
func Rows(versions []*question.Version) [][]string {
	out := [][]string{{"version", "number", "row", "question", "medium", "ask", "marks", "difficulty", "features", "answer", "electrons", "options", "right option", "check code", "source"}}
	for _, v := range versions {
		for _, x := range v.Items {
			q := x.Question
			right := ""
			var options []string
			for i, o := range x.Options {
				letter := string(rune('A' + i))
				if o.Right {
					right = letter
				}
				options = append(options, letter+": "+o.Text)
			}
			text := q.Text
			if x.Reversed { // as it is asked
				e := q.Skeleton()
				text = chem.Equation{Left: e.Right, Right: e.Left}.String()
			}
			electrons := ""
			if q.Electrons > 0 {
				electrons = strconv.FormatInt(q.Electrons, 10)
			}
			out = append(out, []string{v.Letter, strconv.Itoa(x.Number), strconv.Itoa(x.Slot), text, string(q.Medium), string(x.Ask), strconv.Itoa(x.Worth),
				q.Difficulty.String(), q.Features.String(), q.Answer().String(), electrons, strings.Join(options, "; "), right, v.Code, q.Source})
		}
	}
	return out
}

// CSV writes a table as comma-separated values (RFC 4180).
func CSV(w io.Writer, rows [][]string) error {
	c := csv.NewWriter(w)
	if err := c.WriteAll(rows); err != nil {
		return err
	}
	return c.Error()
}

// Book writes a table as the one sheet of a workbook (ISO/IEC 29500-1).
func Book(w io.Writer, rows [][]string) error {
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
