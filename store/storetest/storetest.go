// Package storetest states what every course.Store promises, as tests. Each store
// calls Run from a test of its own.
//
// What is peculiar to a store is left to that: what it survives, what it does
// where the disk is full, and how long a method may take.
package storetest

import (
	"testing"

	"halves/course"
)

// Run runs all tests. Open opens a new, empty store; restore opens one that holds
// what is in the file that Backup wrote. Both stop the test where they cannot, and
// see to it that the store is closed at its end.
func Run(t *testing.T, open func(t *testing.T) course.Store, restore func(t *testing.T, backup string) course.Store) {
	for _, test := range []struct {
		name string
		run  func(*testing.T, course.Store)
	}{
		{"empty", testEmpty},
		{"settings", testSettings},
		{"questions", testQuestions},
		{"search", testSearch},
		{"sets", testSets},
		{"history", testHistory},
		{"not found", testNotFound},
		{"invalid", testInvalid},
		{"any text", testAnyText},
		{"largest", testLargest},
		{"times", testTimes},
		{"cancelled", testCancelled},
		{"closed", testClosed},
		{"at once", testAtOnce},
	} {
		t.Run(test.name, func(t *testing.T) { test.run(t, open(t)) })
	}
	t.Run("backup", func(t *testing.T) { testBackup(t, open(t), restore) })
	t.Run("backup while writing", func(t *testing.T) { testBackupWhileWriting(t, open(t), restore) })
	t.Run("backup fails", func(t *testing.T) { testBackupFails(t, open(t)) })
}

// Examples are of Tarn Hollow College, which is invented.
const (
	permanganate = "MnO4^- + H2C2O4 -> Mn^2+ + CO2"
	chlorine     = "Cl2 -> Cl^- + ClO3^-"
	copper       = "Cu + NO3^- -> Cu^2+ + NO"
)

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func second[T any](_ T, err error) error { return err }

func save(t *testing.T, s course.Store, q course.Question) int64 {
	t.Helper()
	id, err := s.SaveQuestion(t.Context(), q)
	must(t, err)
	return id
}

func saveSet(t *testing.T, s course.Store, x course.Set) int64 {
	t.Helper()
	id, err := s.SaveSet(t.Context(), x)
	must(t, err)
	return id
}

func questions(t *testing.T, s course.Store, search string) []course.Question {
	t.Helper()
	list, err := s.Questions(t.Context(), search)
	must(t, err)
	return list
}

func sets(t *testing.T, s course.Store) []course.Set {
	t.Helper()
	list, err := s.Sets(t.Context())
	must(t, err)
	return list
}

func history(t *testing.T, s course.Store) []course.Worked {
	t.Helper()
	list, err := s.History(t.Context())
	must(t, err)
	return list
}

func ids(list []course.Question) (out []int64) {
	for _, q := range list {
		out = append(out, q.ID)
	}
	return out
}

func setIDs(list []course.Set) (out []int64) {
	for _, x := range list {
		out = append(out, x.ID)
	}
	return out
}

func equal(a, b course.Set) bool {
	return a.ID == b.ID && a.Title == b.Title && string(a.JSON) == string(b.JSON) && a.Count == b.Count &&
		a.Version == b.Version && a.Created == b.Created && a.Changed == b.Changed
}
