package sqlite_test

import (
	"fmt"
	"path/filepath"
	"testing"

	"halves/course"
	"halves/store/sqlite"
)

// thousand keeps 1,000 questions.
func thousand(b *testing.B, s *sqlite.Store) {
	b.Helper()
	for i := range 1000 {
		if _, err := s.SaveQuestion(b.Context(), course.Question{Text: "MnO4^- + H2C2O4 -> Mn^2+ + CO2", Note: fmt.Sprint("number ", i)}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSaveQuestion(b *testing.B) {
	s := open(b, filepath.Join(b.TempDir(), "course.db"))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := s.SaveQuestion(b.Context(), course.Question{Text: "MnO4^- + H2C2O4 -> Mn^2+ + CO2"}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkQuestions(b *testing.B) {
	s := open(b, filepath.Join(b.TempDir(), "course.db"))
	thousand(b, s)
	for _, c := range []struct {
		name, search string
		want         int
	}{
		{"kept=1000", "", 1000},
		{"kept=1000/search=1", "number MNO4^- 777", 1},
	} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				list, err := s.Questions(b.Context(), c.search)
				if err != nil || len(list) != c.want {
					b.Fatalf("%d questions, %v", len(list), err)
				}
			}
		})
	}
}

// BenchmarkOpen opens and closes a store. The aim is 30 ms to open one that is
// there.
func BenchmarkOpen(b *testing.B) {
	b.Run("new", func(b *testing.B) {
		folder := b.TempDir()
		b.ReportAllocs()
		for i := 0; b.Loop(); i++ {
			openAndClose(b, filepath.Join(folder, fmt.Sprint(i)))
		}
	})
	b.Run("kept=1000", func(b *testing.B) {
		path := filepath.Join(b.TempDir(), "course.db")
		s := open(b, path)
		thousand(b, s)
		if err := s.Close(); err != nil {
			b.Fatal(err)
		}
		b.ReportAllocs()
		for b.Loop() {
			openAndClose(b, path)
		}
	})
}

func openAndClose(b *testing.B, path string) {
	s, err := sqlite.Open(path)
	if err != nil {
		b.Fatal(err)
	}
	if err := s.Close(); err != nil {
		b.Fatal(err)
	}
}

// BenchmarkBackup writes a backup of 1,000 questions and reads it through.
func BenchmarkBackup(b *testing.B) {
	s := open(b, filepath.Join(b.TempDir(), "course.db"))
	thousand(b, s)
	path := filepath.Join(b.TempDir(), "backup")
	b.ReportAllocs()
	for b.Loop() {
		if err := s.Backup(b.Context(), path); err != nil {
			b.Fatal(err)
		}
	}
}
