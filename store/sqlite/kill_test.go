package sqlite_test

import (
	"bufio"
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"halves/course"
	"halves/store/sqlite"
)

// TestMain is also the process that TestKill kills, and others.
func TestMain(m *testing.M) {
	switch path := os.Getenv("HALVES_STORE"); os.Getenv("HALVES_STORE_CHILD") {
	case "":
		os.Exit(m.Run())
	case "save until killed":
		fmt.Println(saveUntilKilled(path))
	case "open and save":
		fmt.Println(openAndSave(path))
	}
	os.Exit(1)
}

// child is this program again, to do one of the things in TestMain.
func child(t *testing.T, what, path string) *exec.Cmd {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.CommandContext(t.Context(), self)
	cmd.Env = append(os.Environ(), "HALVES_STORE_CHILD="+what, "HALVES_STORE="+path)
	cmd.Stderr = os.Stderr
	return cmd
}

// saveUntilKilled saves, and prints the ID of a question and the number of its
// round when it is saved with all that goes with it.
func saveUntilKilled(path string) error {
	ctx := context.Background()
	s, err := sqlite.Open(path)
	if err != nil {
		return err
	}
	kept, err := s.Questions(ctx, "")
	if err != nil {
		return err
	}
	for round := len(kept) + 1; ; round++ {
		text := fmt.Sprint("round ", round)
		id, err := s.SaveQuestion(ctx, course.Question{Text: text, Note: note(round)})
		if err != nil {
			return err
		}
		fmt.Println("question", id, round)
		if _, err := s.SaveSet(ctx, course.Set{ID: 1, Title: text, JSON: []byte(text)}); err != nil {
			return err
		}
		fmt.Println("set", 1, round)
		if err := s.Remember(ctx, course.Worked{Text: text}); err != nil {
			return err
		}
		fmt.Println("worked", 0, round)
	}
}

// Whatever was acknowledged is there after the process was killed, and whole.
func TestKill(t *testing.T) {
	path := filepath.Join(t.TempDir(), "course.db")
	first := open(t, path)
	if _, err := first.SaveSet(t.Context(), course.Set{Title: "Quiz 3", JSON: []byte("{}")}); err != nil {
		t.Fatal(err)
	}
	if err := first.Close(); err != nil {
		t.Fatal(err)
	}
	random := rand.New(rand.NewPCG(2026, 3))
	saved := map[int64]int{} // questions acknowledged: their rounds
	var set, worked int      // the last rounds acknowledged
	for len(saved) < 200 {
		cmd := child(t, "save until killed", path)
		out, err := cmd.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		acts := 30 + random.IntN(120)
		for lines := bufio.NewScanner(out); lines.Scan(); acts-- {
			if acts == 0 {
				if err := cmd.Process.Kill(); err != nil { // in the midst of the next act; what it printed by now counts too
					t.Fatal(err)
				}
			}
			var what string
			var id int64
			var round int
			if _, err := fmt.Sscan(lines.Text(), &what, &id, &round); err != nil {
				t.Fatalf("the process printed %q", lines.Text())
			}
			switch what {
			case "question":
				saved[id] = round
			case "set":
				set = round
			case "worked":
				worked = round
			}
		}
		cmd.Wait() // killed
		if acts > 0 {
			t.Fatalf("the process ended by itself, %d acts early", acts)
		}

		s := open(t, path)
		kept, err := s.Questions(t.Context(), "")
		if err != nil {
			t.Fatal(err)
		}
		rounds := map[int64]int{}
		for _, q := range kept {
			var round int
			if _, err := fmt.Sscanf(q.Text, "round %d", &round); err != nil {
				t.Fatalf("question %d is %q", q.ID, q.Text)
			}
			if q.Note != note(round) {
				t.Errorf("question %d of round %d is not whole: its note is %q", q.ID, round, q.Note)
			}
			rounds[q.ID] = round
		}
		for id, round := range saved {
			if rounds[id] != round {
				t.Errorf("question %d of round %d was acknowledged, and %d is there", id, round, rounds[id])
			}
		}
		if n := len(rounds) - len(saved); n > 1 {
			t.Errorf("%d questions more than acknowledged are there, at most the last can be", n)
		}
		if x, err := s.Set(t.Context(), 1); err != nil || string(x.JSON) != x.Title || !isRound(x.Title, set) {
			t.Errorf("the set is of %q, JSON %q, %v; want round %d or the next", x.Title, x.JSON, err, set)
		}
		if list, err := s.History(t.Context()); err != nil || len(list) == 0 || !isRound(list[0].Text, worked) {
			t.Errorf("the history is %+v, %v; want round %d or the next at the front", list, err, worked)
		}
		sound(t, s)
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
		saved = rounds // what was kept and not acknowledged may not go any more either
	}
}

// isRound reports whether text is of the round or of the next, which may have
// been kept without a word of it.
func isRound(text string, round int) bool {
	return text == fmt.Sprint("round ", round) || text == fmt.Sprint("round ", round+1)
}

// note is the note of the question of a round.
func note(round int) string { return strings.Repeat("note ", round%500) }

// openAndSave opens the store, saves a question, and closes it.
func openAndSave(path string) error {
	s, err := sqlite.Open(path, sqlite.BusyTimeout(time.Minute))
	if err != nil {
		return err
	}
	if _, err := s.SaveQuestion(context.Background(), course.Question{Text: "Cu + NO3^- -> Cu^2+ + NO"}); err != nil {
		return err
	}
	return s.Close()
}

// Processes that open a new file at the same time all find it made.
func TestOpenTogether(t *testing.T) {
	for range 5 {
		path := filepath.Join(t.TempDir(), "course.db")
		var cmds []*exec.Cmd
		var outs []*strings.Builder
		for range 4 {
			cmd, out := child(t, "open and save", path), new(strings.Builder)
			cmd.Stdout = out
			if err := cmd.Start(); err != nil {
				t.Fatal(err)
			}
			cmds, outs = append(cmds, cmd), append(outs, out)
		}
		for i, cmd := range cmds {
			if cmd.Wait(); outs[i].String() != "<nil>\n" {
				t.Errorf("process %d: %s", i, outs[i])
			}
		}
		s := open(t, path)
		if kept, err := s.Questions(t.Context(), ""); err != nil || len(kept) != len(cmds) {
			t.Errorf("%d questions are kept, %v, want %d", len(kept), err, len(cmds))
		}
		sound(t, s)
	}
}
