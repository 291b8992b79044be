package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"halves/energetics"
	"halves/reference"
)

// A user's own tables lie in one folder: couples, formation and species, each as
// .tsv or .csv. Without --tables it is "halves" in the folder where the system
// keeps a user's settings.

// maxTable is how many bytes a table may have.
const maxTable = 8 << 20

// tableEndings are those of the files that are looked for.
var tableEndings = []string{".tsv", ".csv"}

func addTablesFlag(cmd *cobra.Command, folder *string) {
	cmd.Flags().StringVar(folder, "tables", "", "take your own tables from `FOLDER`: couples, formation, species, each .tsv or .csv (default: halves in your settings folder)")
}

// tables returns the tables of potentials, with the user's rows first. Where
// the folder was named it must be there; the usual one need not.
func (a *app) tables(folder string) (energetics.Tables, error) {
	t := energetics.Shipped()
	named := folder != ""
	if !named {
		settings, err := os.UserConfigDir()
		if err != nil {
			return t, nil // a system without such a folder has no tables there
		}
		folder = filepath.Join(settings, "halves")
	}
	if info, err := os.Stat(folder); err != nil || !info.IsDir() {
		if !named {
			return t, nil
		}
		if err == nil {
			err = errors.New("is not a folder")
		}
		return t, &fileError{folder, err}
	}
	found := false
	for _, table := range []struct {
		name string
		read func(name, text string) error
	}{
		{"species", func(name, text string) error {
			own, err := reference.ReadSpeciesTable(name, text)
			if err == nil {
				err = reference.UseSpecies(own)
			}
			return err
		}},
		{"couples", func(name, text string) error {
			own, err := reference.ReadCouples(name, text)
			if err == nil {
				t = energetics.New(t.Couples.With(own), t.Formations)
			}
			return err
		}},
		{"formation", func(name, text string) error {
			own, err := reference.ReadFormations(name, text)
			if err == nil {
				t = energetics.New(t.Couples, t.Formations.With(own))
			}
			return err
		}},
	} {
		for _, ending := range tableEndings {
			name := table.name + ending
			text, err := readTable(filepath.Join(folder, name))
			if errors.Is(err, fs.ErrNotExist) {
				continue
			}
			if err != nil {
				return t, err
			}
			found = true
			if err := table.read(name, text); err != nil {
				return t, tableFault(err)
			}
		}
	}
	if named && !found {
		return t, &usageError{msg: "no table is in " + folder, hint: "it may hold couples.tsv, formation.tsv and species.tsv, or .csv files of these names"}
	}
	return t, nil
}

// tableFault is a mistake in a user's table, with the way out that it names.
func tableFault(err error) error {
	e := &usageError{msg: err.Error()}
	var table *reference.TableError
	if errors.As(err, &table) {
		e.hint = table.Hint
	}
	return e
}

func readTable(path string) (string, error) {
	f, err := os.Open(path)
	if err != nil {
		if errors.Is(err, fs.ErrNotExist) {
			return "", err
		}
		return "", &fileError{path, err}
	}
	defer f.Close()
	b, err := io.ReadAll(io.LimitReader(f, maxTable+1))
	switch {
	case err != nil:
		return "", &fileError{path, err}
	case len(b) > maxTable:
		return "", &usageError{msg: fmt.Sprintf("%s has more than %d bytes", path, maxTable), hint: "keep only the rows that you need"}
	}
	return string(b), nil
}
