package reference

import (
	"strings"
	"testing"
)

// TestMixtures visits every row; loading has refused words of no closed list.
func TestMixtures(t *testing.T) {
	rows := Mixtures()
	if len(rows) < 93 {
		t.Fatalf("%d rows, want those given that an equation can hold", len(rows))
	}
	seen := map[Severity]bool{}
	for _, m := range rows {
		seen[m.Severity] = true
		if _, ok := SourceOf(m.Source); !ok {
			t.Errorf("%s: no source %q", m.ID, m.Source)
		}
		if len(m.Match) > 1 && m.Parts[1] == "" {
			t.Errorf("%s: several parts are matched and one is named", m.ID)
		}
	}
	for _, s := range severities {
		if !seen[s] {
			t.Errorf("no row is as severe as %q", s)
		}
	}
}

func TestSeverity(t *testing.T) {
	for s, want := range map[Severity]bool{"explosion": true, "fire": true, "lethal gas": true, "lethal": true, "eruption": true, "burns": true, "toxic gas": false, "toxic": false, "unknown": false} {
		if s.Paper() != want {
			t.Errorf("%q.Paper() = %v, want %v", s, s.Paper(), want)
		}
	}
	if Severity("explosion").Rank() != 0 || Severity("mild").Rank() != -1 {
		t.Error("ranks are wrong")
	}
}

func TestMixturesRefuse(t *testing.T) {
	const good = "X001\tacid\tsulfur\tclass:acid|species:HCl;hot\telement:S\t\tany\tburns\tfire\tnever\tlab-safety\tmemory"
	header := strings.Join(mixtureColumns, "\t") + "\n"
	if _, err := loadMixtures(header + good + "\n"); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct{ old, new, column string }{
		{"X001", "1", "id"}, {"species:HCl", "species:HCl9", "match_1"}, {";hot", ";warm", "match_1"}, {"element:S", "element:Q", "match_2"},
		{"element:S", "ion:HCl", "match_2"}, {"element:S", "thing:S", "match_2"}, {"class:acid", "class:", "match_1"},
		{"\tany", "\tsome", "where"}, {"fire", "bang", "severity"}, {"memory", "sure", "confidence"}, {"class:acid|species:HCl;hot", "", "match_2"},
	} {
		_, err := loadMixtures(header + strings.Replace(good, tt.old, tt.new, 1) + "\n")
		if err == nil || !strings.Contains(err.Error(), "row 2") || !strings.Contains(err.Error(), tt.column) {
			t.Errorf("%s for %s: error %v, want one of row 2 about %s", tt.new, tt.old, err, tt.column)
		}
	}
	if _, err := loadMixtures(header + good + "\n" + good + "\n"); err == nil {
		t.Error("a row that stands twice: no error")
	}
}
