package marking

import (
	"fmt"
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"

	"halves/chem"
)

// report gathers failures by cause and prints a few of each.
type report struct {
	count map[string]int
	shown map[string][]string
}

func (r *report) add(cause, text string) {
	if r.count == nil {
		r.count, r.shown = map[string]int{}, map[string][]string{}
	}
	if r.count[cause]++; len(r.shown[cause]) < 3 {
		r.shown[cause] = append(r.shown[cause], text)
	}
}

func (r *report) print(t *testing.T) {
	t.Helper()
	var causes []string
	for c := range r.count {
		causes = append(causes, c)
	}
	slices.SortFunc(causes, func(a, b string) int {
		if r.count[a] != r.count[b] {
			return r.count[b] - r.count[a]
		}
		return strings.Compare(a, b)
	})
	for _, c := range causes {
		t.Logf("%d times: %s\n%s", r.count[c], c, strings.Join(r.shown[c], "\n"))
	}
}

// case1 prints a case compactly: the question, the text with the verdicts.
func caseText(q *gquestion, text string, got Result) string {
	medium := "acidic"
	if q.base {
		medium = "basic"
	}
	var b strings.Builder
	fmt.Fprintf(&b, "  question %s (%s)\n", q.text, medium)
	for _, l := range got.Lines {
		fmt.Fprintf(&b, "    %d %-60s | %s %s %s\n", l.Number, strings.TrimSpace(l.Text), l.Verdict, l.Kind, l.Why)
	}
	return b.String()
}

// traits tells which habits of typing a line has that are hard to read.
func traits(line string, q *gquestion, ty typing) (out string) {
	if q.put[onLeft] != nil {
		return ", molecular question"
	}
	if strings.Contains(" ==  ⇒  --->  ➔ ", ty.arrow) {
		return fmt.Sprintf(", arrow %q", ty.arrow)
	}
	if strings.Contains(line, "-->") && ty.arrow == "->" {
		out += ", arrow against a charge"
	}
	if strings.Contains(line, "electron") {
		out += ", electrons in words"
	}
	if ty.header {
		out += ", labels on lines of their own"
	}
	if ty.labels >= 5 {
		out += fmt.Sprintf(", labels like %q", wordings[ty.labels][2])
	}
	return out
}

// TestGeneratedSound: no sound working is faulted, whatever its style.
func TestGeneratedSound(t *testing.T) {
	t.Parallel()
	all, _, skipped := gquestions(t)
	t.Logf("%d questions; skipped: %v", len(all), skipped)
	sound(t, all)
}

// TestGeneratedMolecular: nor is one that begins with ions and ends with the
// substances put back.
func TestGeneratedMolecular(t *testing.T) {
	t.Parallel()
	_, molecular, _ := gquestions(t)
	t.Logf("%d questions", len(molecular))
	sound(t, molecular)
}

// TestGeneratedMolecularSlips: a wrong number of any substance in the answer of a
// molecular question is found, spectators among them.
func TestGeneratedMolecularSlips(t *testing.T) {
	t.Parallel()
	_, molecular, _ := gquestions(t)
	r := rand.New(rand.NewPCG(9, 10))
	var rep report
	n, bad := 0, 0
	for _, q := range molecular {
		for side := range q.put {
			for i := range q.put[side] {
				for _, alone := range []bool{true, false} {
					p := somePlan(r, q)
					w := &gworking{q: q}
					if !alone {
						w = q.work(p)
					}
					e := q.put.clone()
					e[side][i].n++
					w.lines = append(w.lines, gline{half: -1, stage: "put back", e: e, slip: true})
					text, at := w.typed(typing{arrow: " -> ", electron: "e^-", labels: 1}, nil)
					got := q.Judge(text)
					if n++; got.FirstSlip != at[len(at)-1] || got.FinalCorrect {
						bad++
						rep.add(fmt.Sprintf("a wrong number in a molecular answer is passed, alone %v", alone), caseText(q, text, got))
					}
				}
			}
		}
	}
	t.Logf("%d wrong answers, %d passed", n, bad)
	if bad > 0 {
		t.Fail()
		rep.print(t)
	}
}

// TestPropertySecondSlip: after a slip that is carried forward, another slip is
// charged too and does not pass for a consequence of the first.
func TestPropertySecondSlip(t *testing.T) {
	t.Parallel()
	all, _, _ := gquestions(t)
	makers := slippers()
	r := rand.New(rand.NewPCG(11, 12))
	var rep report
	n, bad := 0, 0
	for _, q := range all {
		for range 8 {
			kind := pick(r, []Kind{WaterCount, WaterSide, HydrogenCount, HydrogenSide, ElectronCount})
			w := makers[kind](r, q, r.IntN(len(q.half)))
			if w == nil || w.lines[len(w.lines)-1].half >= 0 {
				continue
			}
			l := &w.lines[len(w.lines)-1]
			var places [][2]int
			for side := range l.e {
				for i, t := range l.e[side] {
					if !isMedium(t.sp) {
						places = append(places, [2]int{side, i})
					}
				}
			}
			x := pick(r, places)
			l.e = l.e.clone()
			l.e[x[0]][x[1]].n++
			if q.holds(-1, l.e) {
				continue
			}
			text, at := w.typed(typing{arrow: " -> ", electron: "e^-", labels: 1}, nil)
			got := q.Judge(text)
			last := got.Lines[at[len(at)-1]-1]
			if n++; got.FirstSlip != at[w.slipLine()] || last.Verdict != Slips || got.FinalCorrect {
				bad++
				rep.add(fmt.Sprintf("the second slip is %s %s", last.Verdict, last.Kind), caseText(q, text, got))
			}
		}
	}
	t.Logf("%d second slips, %d not charged", n, bad)
	if bad > 0 {
		t.Fail()
		rep.print(t)
	}
}

func sound(t *testing.T, all []*gquestion) {
	t.Helper()
	r := rand.New(rand.NewPCG(1, 2))
	var rep report
	n, bad, unread, finals := 0, 0, 0, 0
	for _, q := range all {
		for range 7 {
			p := somePlan(r, q)
			w := q.work(p)
			if w == nil || len(w.lines) == 0 {
				continue
			}
			if q.put[onLeft] != nil {
				w.lines = append(w.lines, gline{half: -1, stage: "put back", e: q.put})
			}
			n++
			ty := someTyping(r, false)
			if r.IntN(100) == 0 {
				ty.arrow = pick(r, []string{" == ", " ⇒ ", " ---> ", " ➔ "})
			}
			switch r.IntN(6) {
			case 0: // a line written twice
				i := r.IntN(len(w.lines))
				w.lines = slices.Insert(w.lines, i, w.lines[i])
			case 1: // a finished half in fractions
				i := r.IntN(len(w.lines))
				if l := &w.lines[i]; l.stage == "charge" && l.half >= 0 && l.e.net(chem.Electron)%2 == 0 && p.rungs != "electrons" {
					l.over = 2
				}
			case 2: // two halves on a line
				ty.join = pick(r, []string{"; ", " and "})
			}
			text, at := w.typed(ty, r)
			got := q.Judge(text)
			switch {
			case got.FirstSlip != 0:
				bad++
				l := got.Lines[got.FirstSlip-1]
				stage := "?"
				if i := slices.Index(at, got.FirstSlip); i >= 0 {
					stage = w.lines[i].stage
				}
				rep.add(fmt.Sprintf("false alarm: %s at %s%s", l.Kind, stage, traits(l.Text, q, ty)), caseText(q, text, got))
			case slices.ContainsFunc(at, func(i int) bool {
				v := got.Lines[i-1].Verdict
				return v != Stands && !(v == Comment && len(w.lines) == 1)
			}):
				unread++
				i := slices.IndexFunc(at, func(i int) bool { return got.Lines[i-1].Verdict != Stands })
				l := got.Lines[at[i]-1]
				rep.add(fmt.Sprintf("sound line %s%s", l.Verdict, traits(l.Text, q, ty)), caseText(q, text, got))
			case !got.FinalCorrect:
				finals++
				rep.add("the answer is not seen"+traits("", q, ty), caseText(q, text, got))
			}
		}
	}
	t.Logf("%d sound workings: %d faulted, %d with lines that do not stand, %d answers not seen", n, bad, unread, finals)
	if bad+unread+finals > 0 {
		t.Fail()
		rep.print(t)
	}
}

// TestGeneratedSlips: the first slip is found at its line and called by a name
// that can be defended, and what is carried forward from it is not charged again.
func TestGeneratedSlips(t *testing.T) {
	t.Parallel()
	all, _, _ := gquestions(t)
	makers := slippers()
	var rep report
	total, found := 0, 0
	again, carried, absurdities := 0, 0, 0
	t.Logf("%-22s %6s %6s %6s %8s %6s", "kind", "cases", "line", "kind", "carried", "again")
	for _, kind := range append(slices.Clone(Kinds), "(in base)", "(one line)") {
		makes := makers[kind]
		if makes == nil {
			continue
		}
		r := rand.New(rand.NewPCG(3, uint64(len(kind))))
		n, line, named, charged, after := 0, 0, 0, 0, 0
		for round := range 12 {
			for _, q := range all {
				if limit := map[bool]int{true: 250, false: 80}[kind == SubscriptAltered || kind == ChargeMiscopied]; n >= limit {
					break
				}
				w := makes(r, q, (round+r.IntN(2))%len(q.half))
				if w == nil || w.slipLine() < 0 {
					continue
				}
				ty := someTyping(r, w.plain)
				if strings.TrimSpace(ty.arrow) == ty.arrow {
					ty.arrow = " -> " // what the reader makes of tight arrows is asked of sound workings
				}
				if ty.electron == "electrons" {
					ty.electron = "e-"
				}
				if w.swap {
					ty.labels, ty.header = 1, false
				}
				text, at := w.typed(ty, r)
				got := q.Judge(text)
				i := w.slipLine()
				n++
				if got.FirstSlip != at[i] {
					rep.add(fmt.Sprintf("%s at %s: found at another line, or not: %s", kind, w.lines[i].stage, got.Kind), fmt.Sprintf("  expected line %d %v, got line %d %s\n", at[i], w.kinds, got.FirstSlip, got.Kind)+caseText(q, text, got))
					continue
				}
				line++
				if why := got.Lines[at[i]-1].Why; absurd(why) {
					absurdities++
					rep.add(fmt.Sprintf("%s at %s: the reason shows no difference: %s", kind, w.lines[i].stage, got.Kind), caseText(q, text, got))
				}
				if slices.Contains(w.kinds, got.Kind) {
					named++
				} else {
					rep.add(fmt.Sprintf("%s at %s: called %s", kind, w.lines[i].stage, got.Kind), fmt.Sprintf("  expected line %d %v\n", at[i], w.kinds)+caseText(q, text, got))
				}
				for _, k := range at[i+1:] {
					after++
					if l := got.Lines[k-1]; l.Verdict != Stands && l.Verdict != Follows && l.Verdict != Recovered {
						charged++
						rep.add(fmt.Sprintf("%s at %s: carried line is %s %s at %s", kind, w.lines[i].stage, l.Verdict, l.Kind, w.lines[slices.Index(at, k)].stage), fmt.Sprintf("  line %d, slip at %d\n", k, at[i])+caseText(q, text, got))
						break
					}
				}
			}
		}
		t.Logf("%-22s %6d %6d %6d %8d %6d", kind, n, line, named, after, charged)
		if n < 20 {
			t.Errorf("%s: %d cases are too few", kind, n)
		}
		total, found, again, carried = total+n, found+line, again+charged, carried+after
		if named*10 < n*9 {
			t.Errorf("%s: %d of %d are called by a name that can be defended", kind, named, n)
		}
	}
	t.Logf("%d slips, %d found at their line; of %d carried lines %d workings are charged again", total, found, carried, again)
	if found*100 < total*99 {
		t.Errorf("%d of %d slips found at their line", found, total)
	}
	if again > 0 {
		t.Errorf("%d workings are charged again for what they carried", again)
	}
	if absurdities > 0 {
		t.Errorf("%d reasons show the same number on both sides", absurdities)
	}
	rep.print(t)
}

var twoCounts = regexp.MustCompile(`left has (?:the charge )?(\S+?)(?: [A-Z][a-z]?)?, right (\S+)$`)

// absurd reports whether a reason says that two sides differ and gives the same
// number for both.
func absurd(why string) bool {
	m := twoCounts.FindStringSubmatch(why)
	return m != nil && m[1] == m[2]
}

// TestPropertyMended: a wrong line that is written again as it should be is one
// slip, and nothing after it is charged.
func TestPropertyMended(t *testing.T) {
	t.Parallel()
	all, _, _ := gquestions(t)
	r := rand.New(rand.NewPCG(7, 8))
	var rep report
	n, bad := 0, 0
	for _, q := range all {
		for range 10 {
			p := somePlan(r, q)
			p.hydronium = false
			w := q.work(p)
			i := r.IntN(len(w.lines))
			l := w.lines[i]
			sp := pick(r, []*chem.Species{chem.Water, chem.Hydron, chem.Electron})
			wrong, ok := shift(r, l.e, sp)
			if !ok || l.half < 0 || q.holds(l.half, wrong) {
				continue
			}
			w.lines = slices.Insert(w.lines, i, gline{half: l.half, stage: l.stage, e: wrong, by: l.by, slip: true})
			ty := typing{arrow: " -> ", electron: "e^-", labels: 1}
			text, _ := w.typed(ty, r)
			got := q.Judge(text)
			n++
			cause := ""
			if got.FirstSlip != i+1 {
				cause = fmt.Sprintf("the wrong line is not the first slip: %s at %s, %s", sp, l.stage, p.rungs)
			} else {
				for k, g := range got.Lines {
					if k != i && g.Verdict != Stands && g.Verdict != Recovered {
						cause = fmt.Sprintf("%s wrong at %s (%s) and mended: %s %s at %s", sp, l.stage, p.rungs, g.Verdict, g.Kind, w.lines[k].stage)
						break
					}
				}
			}
			if cause == "" && !got.FinalCorrect {
				cause = "the answer is not seen"
			}
			if cause != "" {
				bad++
				rep.add(cause, fmt.Sprintf("  expected slip at line %d\n", i+1)+caseText(q, text, got))
			}
		}
	}
	t.Logf("%d mended workings, %d judged otherwise", n, bad)
	if bad > 0 {
		t.Fail()
		rep.print(t)
	}
}

// TestPropertyTyping: how a working is typed changes no verdict.
func TestPropertyTyping(t *testing.T) {
	t.Parallel()
	all, _, _ := gquestions(t)
	makers := slippers()
	r := rand.New(rand.NewPCG(5, 6))
	var rep report
	n, bad := 0, 0
	for _, q := range all {
		for round := range 2 {
			w := q.work(somePlan(r, q))
			if round > 0 {
				makes := makers[Kinds[r.IntN(len(Kinds)-1)]]
				w = makes(r, q, r.IntN(len(q.half)))
			}
			if w == nil || len(w.lines) == 0 || w.swap || r.IntN(2) == 0 {
				continue
			}
			base := typing{arrow: " -> ", electron: "e^-", labels: 1}
			text, _ := w.typed(base, nil)
			want := q.Judge(text)
			for _, change := range []struct {
				name string
				set  func(*typing)
			}{
				{"spaces", func(t *typing) { t.spaces = "  " }},
				{"tabs", func(t *typing) { t.spaces = "\t" }},
				{"tight coefficients", func(t *typing) { t.tight = true }},
				{"arrow", func(t *typing) { t.arrow = pick(r, []string{" --> ", " => ", " → ", " = "}) }},
				{"order", func(t *typing) { t.shuffle = true }},
				{"labels", func(t *typing) { t.labels = 2 + r.IntN(len(wordings)-2) }},
				{"electrons", func(t *typing) { t.electron = pick(r, []string{"e-", "e"}) }},
				{"minus", func(t *typing) { t.minus = true }},
				{"ones", func(t *typing) { t.ones = true }},
				{"line ends", func(t *typing) { t.crlf = true }},
			} {
				ty := base
				change.set(&ty)
				text, _ := w.typed(ty, r)
				got := q.Judge(text)
				n++
				for i := range want.Lines {
					a, b := want.Lines[i], got.Lines[i]
					if a.Verdict != b.Verdict || a.Kind != b.Kind {
						bad++
						rep.add(fmt.Sprintf("%s: %s %s became %s %s", change.name, a.Verdict, a.Kind, b.Verdict, b.Kind), fmt.Sprintf("  line %d\n", i+1)+caseText(q, text, got))
						break
					}
				}
			}
		}
	}
	t.Logf("%d typings, %d with another verdict", n, bad)
	if bad > 0 {
		t.Fail()
		rep.print(t)
	}
}
