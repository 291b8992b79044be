package redox_test

import (
	"errors"
	"os"
	"slices"
	"strings"
	"testing"

	"halves/chem"
	"halves/redox"
)

// A couple is a published half-reaction, read.
type couple struct {
	text        string
	left, right []*chem.Species // without water, its ions and electrons
	equation    chem.Equation
	medium      redox.Medium
}

// couples reads testdata/half_reactions.tsv (see the README there for sources).
func couples(t testing.TB) []couple {
	t.Helper()
	data, err := os.ReadFile("testdata/half_reactions.tsv")
	if err != nil {
		t.Fatal(err)
	}
	var all []couple
	for _, row := range strings.Split(strings.TrimSpace(string(data)), "\n")[1:] {
		text, _, _ := strings.Cut(row, "\t")
		r, err := chem.ReadEquation(text, nil)
		if err != nil {
			t.Fatalf("%s: %v", text, err)
		}
		c := couple{text: text, equation: r.All[0].Equation, medium: redox.Acidic}
		for side, x := range c.equation.Terms {
			s := x.Species
			switch {
			case s.Same(chem.Hydroxide):
				c.medium = redox.Basic
			case s.IsElectron(), s.Same(chem.Water), s.Same(chem.Hydron):
			case side < 0:
				c.left = append(c.left, s)
			default:
				c.right = append(c.right, s)
			}
		}
		all = append(all, c)
	}
	return all
}

// Every half-reaction of the published tables comes out of its species alone.
func TestPublishedHalfReactions(t *testing.T) {
	for _, c := range couples(t) {
		var terms [2][]string
		for side, x := range c.equation.Terms {
			terms[(side+1)/2] = append(terms[(side+1)/2], x.Species.String())
		}
		q := strings.Join(terms[0], " + ") + " -> " + strings.Join(terms[1], " + ")
		_, err := redox.Work(q, c.medium, redox.Conventions{})
		var half *redox.HalfMissingError
		if !errors.As(err, &half) {
			t.Errorf("Work(%s, %s) = %v, want a lone half", q, c.medium, err)
			continue
		}
		if half.Present != redox.Reduction || len(half.Halves) != 1 {
			t.Errorf("Work(%s) finds %d halves, %s; want one reduction", q, len(half.Halves), half.Present)
			continue
		}
		if got, want := lowest(half.Halves[0].Equation), lowest(c.equation); got != want {
			t.Errorf("Work(%s, %s) = %s, want %s", q, c.medium, half.Halves[0].Equation, c.text)
		}
	}
}

// lowest writes an equation with its terms sorted and its common factor divided
// out, for comparison.
func lowest(e chem.Equation) string {
	g := int64(0)
	for _, x := range e.Terms {
		g = chem.GCD(g, x.Coefficient.Num())
	}
	side := func(terms []chem.Term) string {
		var out []string
		for _, x := range terms {
			out = append(out, x.Coefficient.Quo(chem.Whole(g)).String()+" "+x.Species.Key())
		}
		slices.Sort(out)
		return strings.Join(out, " + ")
	}
	return side(e.Left) + " -> " + side(e.Right)
}

func skeleton(left, right []*chem.Species) string {
	names := func(all []*chem.Species) string {
		out := make([]string, len(all))
		for i, s := range all {
			out[i] = s.String()
		}
		return strings.Join(out, " + ")
	}
	return names(left) + " -> " + names(right)
}

// usable leaves out the one pair that is not used as an example.
func usable(a, b couple) bool {
	text := a.text + b.text
	return !(strings.Contains(text, "Cr2O7") && strings.Contains(text, "I^-"))
}

// forPairs calls f with every nth pair of couples in one medium, an oxidant
// from the first and a reductant from the second, that is worked by halves.
func forPairs(t *testing.T, nth int, f func(t *testing.T, left, right []*chem.Species, m redox.Medium, s *redox.Solution)) {
	t.Helper()
	all := couples(t)
	n, worked := 0, 0
	for i, a := range all {
		for j, b := range all {
			if i == j || a.medium != b.medium || !usable(a, b) || len(a.left) == 0 || len(b.right) == 0 || len(a.right) == 0 || len(b.left) == 0 {
				continue
			}
			if n++; n%nth != 0 {
				continue
			}
			left, right := slices.Concat(a.left, b.right), slices.Concat(a.right, b.left)
			s, err := redox.Work(skeleton(left, right), a.medium, redox.Conventions{})
			if err != nil {
				var many *redox.ManyAnswersError
				var half *redox.HalfMissingError
				var no *redox.NoAnswerError
				if !errors.As(err, &many) && !errors.As(err, &half) && !errors.As(err, &no) {
					t.Errorf("Work(%s, %s) = %v", skeleton(left, right), a.medium, err)
				}
				continue
			}
			worked++
			f(t, left, right, a.medium, s)
		}
	}
	if worked < n/nth*9/10 {
		t.Errorf("only %d of %d pairs were worked", worked, n/nth)
	}
}

func TestPairsBalance(t *testing.T) {
	forPairs(t, 29, func(t *testing.T, _, _ []*chem.Species, _ redox.Medium, s *redox.Solution) {
		mustBalance(t, s)
	})
}

// The halves, each times its multiplier, add up to a multiple of the answer,
// and the electrons of both roles are equal and those that are told.
func TestPairsHalvesAddUp(t *testing.T) {
	forPairs(t, 31, func(t *testing.T, _, _ []*chem.Species, _ redox.Medium, s *redox.Solution) {
		if len(s.Halves) < 2 || len(s.Halves[0].Equation.Left) == 0 {
			return
		}
		sum := map[string]int64{}
		electrons := map[redox.Role]int64{}
		for _, h := range s.Halves {
			for side, x := range h.Equation.Terms {
				sum[x.Species.Key()] += side * x.Coefficient.Num() * h.Multiplier
			}
			electrons[h.Role] += h.Electrons * h.Multiplier
		}
		if sum["e^-"] != 0 || electrons[redox.Oxidation] != electrons[redox.Reduction] {
			t.Errorf("Work(%s): electrons %v", s.Given, electrons)
		}
		var factor int64
		for side, x := range s.Equation.Terms {
			if n := side * x.Coefficient.Num(); x.Species.Key() != "H2O" && x.Species.Key() != "OH^-" && x.Species.Key() != "H^+" {
				if sum[x.Species.Key()]%n != 0 || factor != 0 && sum[x.Species.Key()]/n != factor {
					t.Errorf("Work(%s): the halves give %d %s, the answer has %d", s.Given, sum[x.Species.Key()], x.Species, n)
					return
				}
				factor = sum[x.Species.Key()] / n
			}
		}
		if s.Electrons != nil && *s.Electrons*factor != electrons[redox.Oxidation] {
			t.Errorf("Work(%s): %d electrons in the answer, %d in a sum of %d times it", s.Given, *s.Electrons, electrons[redox.Oxidation], factor)
		}
	})
}

// Scaling, shuffling and other conventions change nothing.
func TestPairsInvariance(t *testing.T) {
	forPairs(t, 97, func(t *testing.T, left, right []*chem.Species, m redox.Medium, s *redox.Solution) {
		want := lowest(s.Equation)
		check := func(what, q string, c redox.Conventions) {
			t.Helper()
			got, err := redox.Work(q, m, c)
			if err != nil {
				t.Errorf("%s: Work(%s, %s) = %v", what, q, m, err)
				return
			}
			mustBalance(t, got)
			if c.Hydronium {
				return // compared below
			}
			if lowest(got.Equation) != want {
				t.Errorf("%s: Work(%s, %s) = %s, want %s", what, q, m, got.Equation, s.Equation)
			}
		}
		back := func(all []*chem.Species) []*chem.Species {
			out := slices.Clone(all)
			slices.Reverse(out)
			return out
		}
		check("shuffled", skeleton(back(left), back(right)), redox.Conventions{})
		check("scaled", "3 "+strings.ReplaceAll(skeleton(left, right), " + ", " + 7 "), redox.Conventions{})
		check("base in halves", skeleton(left, right), redox.Conventions{BaseInHalves: true})
		if m == redox.Acidic {
			got, err := redox.Work(skeleton(left, right), m, redox.Conventions{Hydronium: true})
			if err != nil {
				t.Errorf("hydronium: Work(%s) = %v", skeleton(left, right), err)
				return
			}
			mustBalance(t, got)
			if g, w := withoutHydronium(got.Equation), withoutHydronium(s.Equation); g != w {
				t.Errorf("hydronium: Work(%s) = %s, want what agrees with %s", skeleton(left, right), got.Equation, s.Equation)
			}
		}
		if r, err := redox.Work(skeleton(right, left), m, redox.Conventions{}); err != nil {
			t.Errorf("reversed: Work(%s, %s) = %v", skeleton(right, left), m, err)
		} else if l := lowest(chem.Equation{Left: r.Equation.Right, Right: r.Equation.Left}); l != want {
			t.Errorf("reversed: Work(%s, %s) = %s, want the reverse of %s", skeleton(right, left), m, r.Equation, s.Equation)
		}
	})
}

// withoutHydronium counts an equation as a vector with H^+ for H3O^+ - H2O.
func withoutHydronium(e chem.Equation) string {
	v := map[string]int64{}
	for side, x := range e.Terms {
		n := side * x.Coefficient.Num()
		if x.Species.Same(chem.Hydronium) {
			v["H^+"] += n
			v["H2O"] += n
			continue
		}
		v[x.Species.Key()] += n
	}
	var out []string
	for k, n := range v {
		if n != 0 {
			out = append(out, chem.Whole(n).Signed()+" "+k)
		}
	}
	slices.Sort(out)
	return strings.Join(out, " ")
}
