package main

import (
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"halves/energetics"
	"halves/question"
)

func (a *app) setCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "set",
		Short: "Make question sets, print them, and hand them on",
		Long: `Make a set of questions from a wish, in versions of equal difficulty; lay it out as
worksheets, keys, exam papers and slides; hand it on to a learning platform or a
spreadsheet.

  halves set new week7.yaml -o week7.json
  halves set print week7.json --as worksheet -o week7.pdf
  halves set print week7.json --as key -o week7-key.docx

A wish is a small file, a line for each thing wished for, or flags of the same
names; halves set new --help lists them.`,
		Example: `  halves set new --questions 12 --versions 4 --want water-twice,base -o exam.json
  halves set show exam.json
  halves set print exam.json --as exam -o exam.pdf
  halves set versions exam.json -o versions.pdf
  halves set export exam.json --as qti22 -o exam.zip
  halves set library --format html -o library.html`,
		GroupID: groupWork,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return cmd.Help()
			}
			return unknownCommand(cmd, args)
		},
	}
	cmd.AddCommand(a.setNewCommand(), a.setShowCommand(), a.setPrintCommand(), a.setVersionsCommand(), a.setExportCommand(), a.setLibraryCommand())
	return cmd
}

// pool makes the pool of questions that the tables give, a user's own among them.
func (a *app) pool(folder string) (*question.Pool, energetics.Tables, error) {
	t, err := a.tables(folder)
	if err != nil {
		return nil, t, err
	}
	return question.NewPool(t), t, nil
}

// readSet reads the file of a set, "-" for standard input, and says what was
// changed in it.
func (a *app) readSet(args []string, t energetics.Tables) (*question.Set, error) {
	if len(args) != 1 {
		msg := "no set was given"
		if len(args) > 1 {
			msg = "more than one set was given"
		}
		return nil, &usageError{msg: msg, hint: "halves set new -o week7.json makes one; then: halves set show week7.json"}
	}
	text, name, err := a.readFile(args[0], question.MaxSet)
	if err != nil {
		return nil, err
	}
	s, err := question.ReadSet(text, t.Couples)
	if err != nil {
		return nil, inFile(name, err)
	}
	for _, n := range s.Notes {
		fmt.Fprintf(a.stderr, "halves: %s\n", n)
	}
	return s, nil
}

// readFile reads a file of at most so many bytes, and one more where it is longer.
func (a *app) readFile(path string, most int64) (text []byte, name string, err error) {
	in, name, _, err := a.input(path)
	if err != nil {
		return nil, name, err
	}
	defer in.Close()
	text, err = io.ReadAll(io.LimitReader(in, most+1))
	if err != nil {
		return nil, name, &fileError{name, err}
	}
	return text, name, nil
}

// inFile puts the name of a file before what is wrong in it.
func inFile(name string, err error) error {
	e := &usageError{msg: name + ": " + err.Error()}
	var hinted interface{ Hint() string }
	if errors.As(err, &hinted) {
		e.hint = hinted.Hint()
	}
	return e
}

// chosen are the versions that a flag names, all for "".
func chosen(s *question.Set, letter string) ([]*question.Version, error) {
	var out []*question.Version
	var known []string
	for i := range s.Versions {
		v := &s.Versions[i]
		known = append(known, v.Letter)
		if letter == "" || strings.EqualFold(letter, v.Letter) {
			out = append(out, v)
		}
	}
	if len(out) == 0 {
		return nil, &usageError{msg: fmt.Sprintf("this set has no version %s", letter), hint: "it has " + strings.Join(known, ", ")}
	}
	return out, nil
}

// lettered is the name of the file of one of several versions: week7-B.docx.
func lettered(path, letter string) string {
	ext := filepath.Ext(path)
	return strings.TrimSuffix(path, ext) + "-" + letter + ext
}
