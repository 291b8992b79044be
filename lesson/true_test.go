package lesson

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"halves/balance"
	"halves/chem"
	"halves/redox"
	"halves/speech"
)

var (
	countLine  = regexp.MustCompile(`(?i)^(?:count the|look at the|next comes|then we count the) ([a-z]+): ([a-z -]+) on the left, ([a-z -]+) on the right\.$`)
	chargeLine = regexp.MustCompile(`(?i)^(?:add up the charges: |now the charge: |the left has the charge )([a-z -]+?)(?: on the left)?, (?:the right )?([a-z -]+?)(?: on the right)?\.$`)
	eachLine   = regexp.MustCompile(`(?i)^(?:now |with that, |nothing to do for |nothing to add for |we are done already with |nothing to do for the |that brings )?(the charge|[a-z]+)(?: is done:|: it is|:| is| to) ([a-z -]+) on each side(?:: not zero, but equal)?\.$`)
	readLine   = regexp.MustCompile(`^(?:Now the line reads|So we have|We write|The line is now|So the answer is): (.*)\.$`)
	addLine    = regexp.MustCompile(`(?i)(?:we add|we put|we need|needs) ([a-z ,-]+?) on the (left|right)(?:, and as many water molecules on the (left|right))?\.$`)
	bothLine   = regexp.MustCompile(`(?i)(?:from each side we take away|we can take from each side|to each side we add) ([a-z ,-]+)\.$`)
	frontLine  = regexp.MustCompile(`(?i)(?:we put|we write|that takes) (an? [a-z -]+ in front of .*)\.$`)
	agentLine  = regexp.MustCompile(`^(.*) (?:is|are) (oxidized|reduced|both oxidized and reduced), so`)
)

// TestTrue: what a sentence says of atoms, charge, the line, what is added, what
// cancels and who is oxidized is what the lines hold. Each kind is read back
// from the words and compared with the step.
func TestTrue(t *testing.T) {
	seen := map[string]int{}
	eachTrack(t, func(t *testing.T, name string, s *redox.Solution, track Track) {
		tk := &talk{Solution: s}
		for _, c := range track.Cues {
			st := redox.Step{After: s.Equation}
			if c.Step >= 0 {
				st = s.Steps[c.Step]
			}
			wrong := func(x, format string, args ...any) {
				t.Errorf("%s: %s: %q, but %s", name, c.Heading, x, fmt.Sprintf(format, args...))
			}
			holds := func(x string, e chem.Equation, what, left, right string) {
				l, err := balance.NewLedger(e)
				if err != nil {
					t.Fatal(err)
				}
				for _, y := range l {
					law := "the charge"
					if y.Law != balance.Charge {
						law = speech.Element(y.Law.Element, s.Conventions.Names)
					}
					if law == strings.ToLower(what) {
						if amount(y, y.Left) != left || amount(y, y.Right) != right {
							wrong(x, "%s holds %s and %s", e, y.Left, y.Right)
						}
						return
					}
				}
				wrong(x, "%s has no %s", e, what)
			}
			for _, x := range c.Say {
				if m := countLine.FindStringSubmatch(x); m != nil {
					seen["count"]++
					holds(x, st.Before, m[1], m[2], m[3])
				}
				if m := chargeLine.FindStringSubmatch(x); m != nil {
					seen["charge"]++
					holds(x, st.Before, "the charge", m[1], m[2])
				}
				if m := eachLine.FindStringSubmatch(x); m != nil {
					seen["each"]++
					holds(x, st.After, m[1], m[2], m[2])
				}
				if m := readLine.FindStringSubmatch(x); m != nil {
					seen["read"]++
					if want := tk.equation(st.After); m[1] != want {
						wrong(x, "the line is %q", want)
					}
				}
				if m := addLine.FindStringSubmatch(x); m != nil {
					seen["add"]++
					found := false
					for _, y := range moves(st.Before, st.After) {
						found = found || y.side == m[2] && strings.HasSuffix(m[1], tk.count(y.is.Num(), y.species))
					}
					if !found || m[3] == m[2] {
						wrong(x, "from %s came %s", st.Before, st.After)
					}
				}
				if m := bothLine.FindStringSubmatch(x); m != nil {
					seen["both"]++
					for _, side := range []string{"left", "right"} {
						for _, y := range moves(st.Before, st.After) {
							n := y.difference
							if n.Sign() < 0 {
								n = n.Neg()
							}
							if y.side == side && !strings.Contains(m[1], tk.count(n.Num(), y.species)) {
								wrong(x, "%s changed by %s on the %s", y.species, n, side)
							}
						}
					}
				}
				if m := frontLine.FindStringSubmatch(x); m != nil {
					seen["front"]++
					for _, z := range moves(st.Before, st.After) {
						if want := article(speech.Ratio(z.is)) + " in front of " + speech.Substance(z.species, s.Conventions.Names); z.is.Sign() > 0 && !strings.Contains(m[1], want) {
							wrong(x, "the step wants %q", want)
						}
					}
				}
				if m := agentLine.FindStringSubmatch(x); m != nil && c.Heading == "Close" {
					seen["agent"]++
					for _, y := range s.Oxidized {
						if strings.EqualFold(m[1], speech.Substance(y, s.Conventions.Names)) && m[2] == "reduced" {
							wrong(x, "%s is oxidized", y)
						}
					}
					for _, y := range s.Reduced {
						if strings.EqualFold(m[1], speech.Substance(y, s.Conventions.Names)) && m[2] == "oxidized" {
							wrong(x, "%s is reduced", y)
						}
					}
				}
			}
		}
	})
	for _, kind := range []string{"count", "charge", "each", "read", "add", "both", "front", "agent"} {
		if seen[kind] < 400 {
			t.Errorf("%d sentences of the kind %q were found in all tracks", seen[kind], kind)
		}
	}
}
