package lesson

import (
	"fmt"
	"regexp"
	"strings"
	"sync"
	"testing"

	"halves/checks"
	"halves/chem"
	"halves/names"
	"halves/redox"
)

// conventions are the ways of writing under which every row is worked.
var conventions = []struct {
	name string
	redox.Conventions
}{
	{"halves", redox.Conventions{}},
	{"states", redox.Conventions{By: redox.ByStates}},
	{"equations", redox.Conventions{By: redox.ByEquations}},
	{"hydronium", redox.Conventions{Hydronium: true}},
	{"base in halves", redox.Conventions{BaseInHalves: true}},
	{"roman, systematic", redox.Conventions{By: redox.ByStates, Roman: true, Names: names.Choice{Style: names.Systematic}}},
	{"sulph, stock", redox.Conventions{Names: names.Choice{Style: names.Stock, Sulph: true}}},
}

// A made track is one with its solution.
type made struct {
	name     string
	solution *redox.Solution
	track    Track
}

// allTracks works every row of the checks under every convention, in both
// lengths.
var allTracks = sync.OnceValue(func() []made {
	var all []made
	each := func(id, skeleton, medium string) {
		for _, c := range conventions {
			s, err := redox.Work(skeleton, redox.Medium(medium), c.Conventions)
			if err != nil {
				continue // what a method refuses is tested in redox
			}
			for _, l := range []Length{Full, Brief} {
				all = append(all, made{fmt.Sprintf("%s, %s, %s", id, c.name, l), s, NewTrack(s, l)})
			}
		}
	}
	for _, row := range checks.Equations() {
		each(row.ID, row.Skeleton, row.Medium)
	}
	for _, row := range checks.Impossible() { // some are only no redox
		each(row.ID, row.Skeleton, row.Medium)
	}
	return all
})

// eachTrack calls f with every track.
func eachTrack(t *testing.T, f func(t *testing.T, name string, s *redox.Solution, track Track)) {
	t.Helper()
	all := allTracks()
	if len(all) < 10*len(checks.Equations()) {
		t.Errorf("only %d tracks were made", len(all))
	}
	for _, m := range all {
		f(t, m.name, m.solution, m.track)
	}
}

// TestRules: the rows come by every rule of package redox, so that each is
// spoken somewhere in these tests.
func TestRules(t *testing.T) {
	seen := map[redox.Rule]bool{}
	eachTrack(t, func(t *testing.T, name string, s *redox.Solution, track Track) {
		for _, st := range s.Steps {
			seen[st.Rule] = true
		}
	})
	for _, r := range []redox.Rule{
		redox.WriteIons, redox.LeaveOut, redox.Split, redox.OtherAtoms, redox.Oxygen, redox.Hydrogen, redox.ChargeRule,
		redox.Equalize, redox.Add, redox.Cancel, redox.Neutralize, redox.FormWater, redox.LowestNumbers, redox.RestoreOthers,
		redox.Check, redox.MultiplyNet, redox.RestoreSpectators, redox.JoinIons, redox.ChangesOfState, redox.EqualChanges,
		redox.ChargeByIons, redox.OtherNumbers, redox.NameUnknowns, redox.Conserve, redox.AskHalves, redox.ChooseOne,
		redox.SolveFor, redox.ClearUnits, redox.PutNumbers,
	} {
		if !seen[r] {
			t.Errorf("no track has the rule %q", r)
		}
	}
}

// TestSteps: a track covers every step once, in order, and every cue says
// something, with a time.
func TestSteps(t *testing.T) {
	eachTrack(t, func(t *testing.T, name string, s *redox.Solution, track Track) {
		var covered []int
		for i, c := range track.Cues {
			if first, last := i == 0, i == len(track.Cues)-1; (c.Step < 0) != (first || last) {
				t.Errorf("%s: cue %d of %d has the step %d", name, i, len(track.Cues), c.Step)
			}
			if c.Step >= 0 {
				covered = append(append(covered, c.Step), c.With...)
				// Several elements of one half may each need their sentence.
				if strings.HasSuffix(name, "brief") && len(c.Say) > 2+len(c.With) && s.Steps[c.Step].Rule != redox.ChangesOfState {
					t.Errorf("%s: cue %d, %q, is not brief: %q", name, i, c.Heading, c.Say)
				}
			}
			if len(c.Say) == 0 || c.Heading == "" || c.Seconds <= 0 {
				t.Errorf("%s: cue %d, %q, says %q in %d s", name, i, c.Heading, c.Say, c.Seconds)
			}
		}
		for i := range s.Steps {
			if i >= len(covered) || covered[i] != i {
				t.Fatalf("%s: steps %v are covered, want each of %d once, in order", name, covered, len(s.Steps))
			}
		}
		if len(covered) != len(s.Steps) {
			t.Errorf("%s: %d steps are covered, want %d", name, len(covered), len(s.Steps))
		}
	})
}

// sayable is what a sentence is made of.
var sayable = regexp.MustCompile(`^[A-Z][A-Za-z ,:-]*[.]$`)

// TestSentences: plain words only, and never the same twice in a row.
func TestSentences(t *testing.T) {
	eachTrack(t, func(t *testing.T, name string, s *redox.Solution, track Track) {
		last := ""
		for _, c := range track.Cues {
			for _, x := range c.Say {
				text := strings.ReplaceAll(x, ". ", ", ") // a note may be two sentences
				if !sayable.MatchString(text) || strings.Contains(x, "  ") || strings.Contains(x, " ,") || strings.Contains(x, "..") {
					t.Errorf("%s: %s: not plain words: %q", name, c.Heading, x)
				}
				if x == last {
					t.Errorf("%s: %s: twice in a row: %q", name, c.Heading, x)
				}
				last = x
			}
		}
	})
}

// TestRepeatable: the same solution gives the same track.
func TestRepeatable(t *testing.T) {
	s, err := redox.Work("Cl2 -> Cl^- + ClO3^-, in base", "", redox.Conventions{})
	if err != nil {
		t.Fatal(err)
	}
	if a, b := fmt.Sprint(NewTrack(s, Full)), fmt.Sprint(NewTrack(s, Full)); a != b {
		t.Errorf("two tracks of one solution differ:\n%s\n%s", a, b)
	}
}

func TestAbout(t *testing.T) {
	for _, tt := range []struct {
		seconds int
		want    string
	}{
		{0, "about 10 seconds"}, {44, "about 40 seconds"}, {45, "about 50 seconds"}, {58, "about 1 minute"},
		{91, "about 1 minute 30 seconds"}, {114, "about 1 minute 50 seconds"}, {115, "about 2 minutes"}, {149, "about 2 minutes"},
		{150, "about 3 minutes"}, {360, "about 6 minutes"},
	} {
		if got := About(tt.seconds); got != tt.want {
			t.Errorf("About(%d) = %q, want %q", tt.seconds, got, tt.want)
		}
	}
}

// TestSeconds: fourteen words are six seconds at 140 a minute, twelve signs
// nine seconds at 80 a minute.
func TestSeconds(t *testing.T) {
	say := []string{"a b c d e f g", "h i j k l m n"}
	if got := seconds(say, nil); got != 6 {
		t.Errorf("fourteen words: %d s, want 6", got)
	}
	if got := seconds(nil, []chem.Run{{Text: "123456 123456"}}); got != 9 {
		t.Errorf("twelve signs: %d s, want 9", got)
	}
}
