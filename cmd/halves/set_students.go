package main

import (
	"fmt"
	"hash/fnv"
	"io"
	"strings"

	"halves/document"
	"halves/pdf"
	"halves/question"
)

// Bounds of a file of students.
const (
	maxStudents     = 1 << 20 // bytes
	mostStudents    = 5000
	mostStudentName = 100
)

// printStudents writes a worksheet or a key for each student, as one PDF.
func (a *app) printStudents(o *setPrintOptions, s *question.Set, pool *question.Pool) error {
	if o.format != "pdf" {
		return &usageError{msg: "the papers of many students are written as one PDF", hint: "give -o FILE.pdf"}
	}
	if o.as != "worksheet" && o.as != "key" && o.as != "exam" {
		return &usageError{msg: "--students is for worksheets, exams and keys", hint: "leave --as out, or give --as key"}
	}
	students, err := a.readStudents(o.students)
	if err != nil {
		return err
	}
	versions, err := chosen(s, o.version)
	if err != nil {
		return err
	}
	if own := ownIn(s); o.vary && own != "" {
		return &usageError{msg: "this set holds questions of your own (" + own + "), and a draw for each student would not have them", hint: "leave --vary out: the versions are then given out in turn"}
	}
	size := pdf.A4
	if o.paper == "letter" {
		size = pdf.Letter
	}
	bar := a.newProgress(o.file, int64(len(students)), "students")
	defer bar.stop()
	var failed error
	docs := func(yield func(*document.Document) bool) {
		for i, student := range students {
			set, v := s, versions[i%len(versions)]
			if o.vary {
				if set, failed = vary(s, pool, student); failed != nil {
					return
				}
				v = &set.Versions[0]
			}
			options := o.options()
			options.Student = student
			d, err := layOut(o.as, set, v, options)
			if err != nil {
				failed = err
				return
			}
			bar.set(int64(i+1), 1)
			if !yield(d) {
				return
			}
		}
	}
	return a.output(o.file, func(w io.Writer) error {
		err := pdf.WriteAll(w, pdf.Options{Paper: size}, docs)
		if failed != nil {
			return failed
		}
		return err
	})
}

// ownIn names a question of a set that no draw would give, "" for none.
func ownIn(s *question.Set) string {
	library := map[string]bool{}
	for _, q := range question.Library() {
		library[q.ID] = true
	}
	for _, v := range s.Versions {
		for _, x := range v.Items {
			if x.Question.Couples == nil && !library[x.Question.ID] {
				return x.Question.Text
			}
		}
	}
	return ""
}

// vary draws a set for one student by the wish of a set, whose seed and the
// student together are the seed.
func vary(s *question.Set, pool *question.Pool, student string) (*question.Set, error) {
	w := s.Wish
	w.Versions = 1
	h := fnv.New64a()
	fmt.Fprintf(h, "%d %s", w.Seed, student)
	w.Seed = h.Sum64()
	return question.Make(w, pool, nil)
}

// readStudents reads one student a line.
func (a *app) readStudents(path string) ([]string, error) {
	text, name, err := a.readFile(path, maxStudents)
	if err != nil {
		return nil, err
	}
	if len(text) > maxStudents || !isText(string(text)) {
		return nil, &usageError{msg: name + " is no list of students", hint: "write one code a line, as text in UTF-8"}
	}
	var out []string
	seen := map[string]int{}
	for i, l := range strings.Split(strings.TrimPrefix(string(text), "\ufeff"), "\n") {
		l = strings.TrimSpace(l)
		if l == "" {
			continue
		}
		if len(l) > mostStudentName {
			return nil, &usageError{msg: fmt.Sprintf("%s, line %d: a student has at most %d characters", name, i+1, mostStudentName), hint: "write one code a line: B-07"}
		}
		if before, twice := seen[l]; twice {
			return nil, &usageError{msg: fmt.Sprintf("%s, line %d: %s stands in line %d too", name, i+1, l, before), hint: "keep one of the two"}
		}
		seen[l] = i + 1
		out = append(out, l)
	}
	switch {
	case len(out) == 0:
		return nil, &usageError{msg: name + " names no student", hint: "write one code a line: B-07"}
	case len(out) > mostStudents:
		return nil, &usageError{msg: fmt.Sprintf("%s names %d students; %d can be printed at a time", name, len(out), mostStudents), hint: "part the file"}
	}
	return out, nil
}
