// Package reference holds tables of the trade, embedded, each row with its
// source: the elements and the species.
//
// It only looks things up. What a formula means is read in package chem; which
// oxidation state follows from rules is decided in package oxidation, which may
// compare its answer with the states written here. README.md beside the tables
// gives their columns, units, conditions and licences.
//
// A table is read at its first use and then kept; all that is returned is
// shared and must not be changed.
package reference

import (
	_ "embed"
	"fmt"
	"math/big"
	"strconv"
	"strings"
	"sync"

	"halves/chem"
)

// Edition names the state of the tables, year and month.
const Edition = "2026-11"

//go:embed sources.tsv
var sourcesTSV string

// Source returns the citation for the key that a row gives as its source, and
// whether there is such a key.
func Source(key string) (citation string, ok bool) {
	citation, ok = sources()[key]
	return citation, ok
}

var sources = sync.OnceValue(func() map[string]string {
	return must(loadSources(sourcesTSV))
})

func loadSources(text string) (map[string]string, error) {
	m := map[string]string{}
	columns := []string{"key", "citation", "licence_or_status", "how_read"}
	err := eachRow("sources.tsv", text, columns, func(line string) error {
		f, err := fieldsOf(line, columns)
		if err != nil {
			return err
		}
		if _, twice := m[f[0]]; twice {
			return fieldError("key", f[0], "stands in an earlier row too")
		}
		m[f[0]] = f[1]
		return nil
	})
	return m, err
}

// must gives up on a broken table: it is part of the program, and the tests
// read every row.
func must[T any](v T, err error) T {
	if err != nil {
		panic("reference: " + err.Error())
	}
	return v
}

// eachRow calls row with each line after the header, which must name exactly
// these columns. Its errors name table and row; rows are counted as lines of
// the file, from 1.
func eachRow(name, text string, columns []string, row func(line string) error) error {
	header, rest, _ := strings.Cut(text, "\n")
	if header != strings.Join(columns, "\t") {
		return fmt.Errorf("%s, row 1: the columns are %q, want %q", name, strings.Split(header, "\t"), columns)
	}
	for n := 2; rest != ""; n++ {
		var line string
		line, rest, _ = strings.Cut(rest, "\n")
		if err := row(line); err != nil {
			return rowError(name, n, err)
		}
	}
	return nil
}

func rowError(table string, row int, err error) error {
	return fmt.Errorf("%s, row %d, %w", table, row, err)
}

// fieldsOf cuts a line into the fields of these columns.
func fieldsOf(line string, columns []string) ([]string, error) {
	f := strings.Split(line, "\t")
	if len(f) != len(columns) {
		return nil, fieldError("all", line, fmt.Sprintf("has %d columns, want %d", len(f), len(columns)))
	}
	return f, nil
}

// fieldError says what is wrong with one field.
func fieldError(column, text, msg string) error {
	return fmt.Errorf("column %q: %q %s", column, text, msg)
}

// decimal reads a decimal number such as "15.999" exactly and returns the
// number of its decimals too.
func decimal(column, text string) (r *big.Rat, decimals int, err error) {
	r, ok := new(big.Rat).SetString(text)
	if !ok || strings.ContainsAny(text, "eE/") {
		return nil, 0, fieldError(column, text, "is not a decimal number")
	}
	if _, after, ok := strings.Cut(text, "."); ok {
		decimals = len(after)
	}
	return r, decimals, nil
}

// signed reads a signed number or fraction such as "+5/2", "-1" or "0".
func signed(text string) (chem.Ratio, bool) {
	numText, denText, fraction := strings.Cut(text, "/")
	num, err := strconv.ParseInt(numText, 10, 64)
	if err != nil || (num > 0) != strings.HasPrefix(numText, "+") {
		return chem.Ratio{}, false
	}
	if !fraction {
		return chem.Whole(num), true
	}
	den, err := strconv.ParseInt(denText, 10, 64)
	if err != nil || den < 2 {
		return chem.Ratio{}, false
	}
	return chem.NewRatio(num, den), true
}
