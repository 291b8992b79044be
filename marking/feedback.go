package marking

import (
	"fmt"
	"slices"
	"strings"

	"halves/chem"
)

// An advice is what is said of a kind of slip.
type advice struct {
	words string // its name for an instructor
	rule  string // what the method says
	ask   string // a question for the student to think about
}

var advices = map[Kind]advice{
	MainCoefficient:     {"an element other than O and H not balanced", "In each half, first balance the elements other than oxygen and hydrogen.", "How many atoms of each of these elements stand on each side?"},
	SubscriptAltered:    {"a subscript altered", "A coefficient in front balances atoms. A subscript belongs to the substance: changing it makes another substance.", "Which number may you change without changing what the substance is?"},
	ChargeMiscopied:     {"charge of an ion miscopied", "The charge belongs to the ion and is copied with it.", "What charge does this ion have in the question?"},
	OxygenWithoutWater:  {"oxygen balanced without water", "In acid, oxygen is balanced with water: one H2O for each O that is lacking.", "Where can oxygen atoms come from, or go to, in an acidic solution in water?"},
	WaterSide:           {"water on the wrong side", "Water goes to the side that lacks oxygen.", "Which side has fewer oxygen atoms?"},
	WaterCount:          {"number of water molecules", "One H2O for each oxygen atom that a side lacks.", "How many oxygen atoms does each side have now?"},
	HydrogenSide:        {"hydrogen ions on the wrong side", "Hydrogen ions go to the side that lacks hydrogen.", "Which side has fewer hydrogen atoms, the water counted too?"},
	HydrogenCount:       {"number of hydrogen ions", "One H^+ for each hydrogen atom that a side lacks, the water counted too.", "How many hydrogen atoms does each side have, those of the water included?"},
	ElectronSide:        {"electrons on the wrong side", "Electrons go to the side whose charge is the more positive.", "What is the charge of each side, and what does an electron do to it?"},
	ElectronCount:       {"number of electrons", "As many electrons as make the charge of both sides equal.", "What is the charge of each side when every ion is counted with its coefficient?"},
	ElectronsMissing:    {"a half used without its electrons", "A half-reaction is finished when its charge is balanced with electrons.", "Is the charge of both sides of each half equal before you add them?"},
	UnequalElectrons:    {"electrons not made equal", "Multiply the halves so that as many electrons are lost as are gained.", "How many electrons does each half move, and which number do both go into?"},
	PartMultiplied:      {"only part of a half multiplied", "When a half is multiplied, every term of it is.", "Which term of the half still has its old number?"},
	ElectronsKept:       {"electrons left in the whole equation", "In the whole equation no electrons are left: those lost are those gained.", "Where did the electrons go that one half gave?"},
	UnevenCancel:        {"different amounts cancelled on the two sides", "What stands on both sides is taken away in the same amount from each.", "How many of these stood on each side before, and how many on each side did you take away?"},
	SumSlip:             {"like terms added wrongly", "Each species of the sum has as many as the multiplied halves have together.", "What do the two halves hold of this species, taken together?"},
	ChargeUnbalanced:    {"charge not balanced", "In the whole equation both atoms and charge balance.", "What is the sum of the charges on each side?"},
	NotLowest:           {"common factor left in the answer", "The answer has the lowest whole numbers.", "Is there a number that divides all the coefficients, or one that makes them whole?"},
	HydrogenInBase:      {"hydrogen ions left in basic solution", "In base there are no hydrogen ions in the answer: add as many OH^- to both sides as there are H^+.", "Which ion is plentiful in a basic solution, and what does it make with H^+?"},
	HydroxideOneSide:    {"hydroxide ions added to one side only", "OH^- is added to both sides in the same amount, or not at all.", "What did you add to the other side?"},
	WaterUncombined:     {"water not combined or not cancelled", "H^+ and OH^- on one side are water, and water on both sides cancels.", "Is there anything on both sides, or anything that reacts with its neighbour?"},
	StraySpecies:        {"a species that is not of the question", "Besides the species of the question only water, its ions and electrons may be added.", "Where in the question does this species stand?"},
	TermLost:            {"a term lost in copying", "Each term of a line is copied to the next one unless it cancels.", "Which species of the line before is not here?"},
	LabelsSwapped:       {"oxidation and reduction taken for each other", "Oxidation is the loss of electrons, reduction the gain.", "On which side of this half do the electrons stand?"},
	Backwards:           {"written from products to reactants", "What reacts stands on the left, what forms on the right.", "Which of these does the question start from?"},
	OxidationStateWrong: {"oxidation state", "The oxidation states of a species add up to its charge.", "What do the states of all its atoms add up to?"},
}

// Words names a kind of slip for an instructor.
func (k Kind) Words() string {
	if a, ok := advices[k]; ok {
		return a.words
	}
	return string(k)
}

// Feedback is what is said of one slip.
type Feedback struct {
	Line     int
	Matter   string // what is the matter, in terms of the line
	Rule     string // what the method says
	Question string // to think about
	Repaired string // the line as it could stand, "" where none can be given
}

// Student says it to the student; the repaired line only if it is allowed.
func (f Feedback) Student(repaired bool) string {
	out := fmt.Sprintf("Look at line %d again: %s. %s %s", f.Line, f.Matter, f.Rule, f.Question)
	if repaired && f.Repaired != "" {
		out += " It could be: " + f.Repaired
	}
	return out
}

// Instructor says it to the instructor.
func (f Feedback) Instructor(kind Kind) string {
	out := fmt.Sprintf("Line %d, %s: %s.", f.Line, kind.Words(), f.Matter)
	if f.Repaired != "" {
		out += " It could be: " + f.Repaired
	}
	return out
}

// Feedback returns what is to be said of a line that slips, and whether it does.
func (r Result) Feedback(line int) (Feedback, bool) {
	s := r.judgedAt(line)
	if s == nil || s.verdict != Slips {
		return Feedback{}, false
	}
	a := advices[s.kind]
	return Feedback{Line: line, Matter: s.why, Rule: a.rule, Question: a.ask, Repaired: r.working.repaired(s)}, true
}

// judgedAt returns the statement of a line that its verdict comes from, nil for
// none.
func (r Result) judgedAt(line int) *judged {
	if r.working == nil || line < 1 || line > len(r.Lines) {
		return nil
	}
	for _, s := range r.working.statements {
		if s.line == line-1 && s.verdict == r.Lines[line-1].Verdict {
			return s
		}
	}
	return nil
}

// Hint says what helps a student on, without the line itself before the third
// rung: where to look, which rule, the line. It says so where nothing is wrong.
func (r Result) Hint(rung int) string {
	f, ok := r.Feedback(r.FirstSlip)
	switch {
	case !ok && r.FinalCorrect:
		return "This is the answer."
	case !ok:
		return r.working.next(rung)
	case rung <= 1:
		return fmt.Sprintf("Look at line %d again.", f.Line)
	case rung == 2 || f.Repaired == "":
		return fmt.Sprintf("Line %d: %s %s", f.Line, f.Rule, f.Question)
	}
	return fmt.Sprintf("Line %d could be: %s", f.Line, f.Repaired)
}

// next is the hint for a working that is right as far as it goes.
func (w *working) next(rung int) string {
	if w == nil {
		return "The working cannot be read."
	}
	if len(w.q.halves) == 0 {
		switch {
		case rung <= 1:
			return "Look at the oxidation states: which elements change?"
		case rung == 2:
			return "Gain and loss are equal: multiply what changes so that as many electrons are lost as gained, then balance the rest."
		}
		return "The answer is: " + w.write(w.q.answer, false)
	}
	whole := slices.ContainsFunc(w.statements, func(s *judged) bool { return s.thread == overall && s.holds })
	for k, h := range w.q.halves {
		reached, stage := -1, 0
		for n := range stages {
			v := h.stage(n)
			if slices.ContainsFunc(w.statements, func(s *judged) bool { return s.thread == k && s.holds && proportional(s.vector, v) }) {
				reached = n
			}
		}
		for stage = reached + 1; stage < stages && reached >= 0 && proportional(h.stage(stage), h.stage(reached)); {
			stage++
		}
		if whole || stage == stages {
			continue
		}
		from := fmt.Sprintf("The %s half comes next.", h.role)
		switch {
		case rung <= 1:
			return from
		case rung == 2:
			return from + " " + stageRules[stage]
		}
		return from + " It could be: " + w.write(h.stage(stage), false)
	}
	switch {
	case rung <= 1:
		return "Both halves are there. Now the whole equation."
	case rung == 2:
		return advices[UnequalElectrons].rule + " Then add the halves and cancel what stands on both sides."
	}
	return "The answer is: " + w.write(w.q.answer, false)
}

// A half goes through stages: the bare split, its other atoms, oxygen, hydrogen,
// charge.
const stages = 5

var stageRules = [stages]string{
	"Write what changes and what it becomes.",
	advices[MainCoefficient].rule, advices[WaterCount].rule, advices[HydrogenCount].rule, advices[ElectronCount].rule,
}

// stage returns a half as it stands at a stage.
func (h half) stage(n int) []chem.Ratio {
	v := slices.Clone(h.vector)
	for i := range v {
		own := i < len(h.own) && h.own[i]
		switch {
		case n == 0 && (i >= firstOwn || own):
			v[i] = chem.Whole(int64(v[i].Sign()))
		case i == electron && n < 4, i == hydron && n < 3 && !own, i == water && n < 2 && !own:
			v[i] = zero
		}
	}
	return v
}

// proportional reports whether one vector is a positive multiple of the other.
func proportional(a, b []chem.Ratio) bool {
	at := func(v []chem.Ratio, i int) chem.Ratio {
		if i < len(v) {
			return v[i]
		}
		return zero
	}
	k := zero
	for i := range max(len(a), len(b)) {
		x, y := at(a, i), at(b, i)
		switch {
		case x.Sign() != y.Sign():
			return false
		case x.Sign() == 0:
		case k.Sign() == 0:
			k = x.Quo(y)
		case !x.Equal(y.Mul(k)):
			return false
		}
	}
	return k.Sign() > 0
}

// repaired writes a line that slips as it could stand: as far along as it was
// meant to be.
func (w *working) repaired(s *judged) string {
	if s.claim != nil {
		for _, c := range w.q.solution.Changes {
			if c.Element == s.claim.element {
				return fmt.Sprintf("%s: %s to %s, %s electrons for each atom", c.Element, c.From.Signed(), c.To.Signed(), magnitude(c.Electrons()))
			}
		}
		return ""
	}
	if s.thread == elsewhere {
		return ""
	}
	if s.thread == overall {
		return w.write(w.q.answer, s.hydronium)
	}
	h := w.q.halves[s.thread]
	k, ok := w.proportion(s.statement, h.vector)
	if !ok || k.Sign() <= 0 || s.kind == UnequalElectrons {
		k = chem.Whole(1)
	}
	stands := func(i int) bool { return has(s.left, i) || has(s.right, i) }
	e := stands(electron) || s.kind == ElectronsMissing
	hyd := e || stands(hydron) || stands(hydroxide)
	wat := hyd || stands(water) || s.kind == OxygenWithoutWater
	v := make([]chem.Ratio, max(len(h.vector), firstOwn))
	for i, n := range h.vector {
		switch {
		case i == electron && !e, i == hydron && !hyd, i == water && !wat:
		default:
			v[i] = n.Mul(k)
		}
	}
	if stands(hydroxide) && w.q.inBase() {
		v[water] = v[water].Add(v[hydron])
		v[hydroxide] = v[hydroxide].Sub(v[hydron])
		v[hydron] = zero
	}
	out := w.write(v, s.hydronium)
	if s.kind == LabelsSwapped {
		out = string(h.role) + " half: " + out
	}
	return out
}

// write writes a vector as an equation, what is positive on the right.
func (w *working) write(v []chem.Ratio, hydronium bool) string {
	v = slices.Clone(v)
	var e chem.Equation
	if hydronium && len(v) > hydron && v[hydron].Sign() != 0 {
		v[water] = v[water].Sub(v[hydron])
	}
	put := func(i int) {
		t := chem.Term{Species: w.book[i], Coefficient: magnitude(v[i])}
		if i == hydron && hydronium {
			t.Species = chem.Hydronium
		}
		if v[i].Sign() < 0 {
			e.Left = append(e.Left, t)
		} else if v[i].Sign() > 0 {
			e.Right = append(e.Right, t)
		}
	}
	for i := firstOwn; i < len(v); i++ {
		put(i)
	}
	for _, i := range []int{water, hydron, hydroxide, electron} {
		if i < len(v) {
			put(i)
		}
	}
	return e.String()
}

// Explain gives the chain that led to a line's verdict, a sentence each: how it
// was read, which thread it is in and why, which earlier line was used, which law
// fails with the counts of both sides, and the nearest line that would stand.
func (r Result) Explain(line int) []string {
	if line < 1 || line > len(r.Lines) {
		return nil
	}
	l := r.Lines[line-1]
	s := r.judgedAt(line)
	if s == nil {
		if l.Why != "" {
			return []string{l.Why}
		}
		return []string{"no equation stands on this line"}
	}
	w := r.working
	out := []string{"read as " + w.asRead(s.statement), w.whyThread(s)}
	for _, f := range s.from {
		out = append(out, fmt.Sprintf("it follows from line %d", f.line+1))
	}
	if s.why != "" {
		out = append(out, s.why)
	}
	if s.verdict == Slips {
		for _, e := range w.elements(s.statement) {
			if !w.closed(s.statement, e) {
				out = append(out, w.say(s.statement, e))
			}
		}
		if has(s.left, electron) || has(s.right, electron) || s.thread == overall {
			if !w.closed(s.statement, 0) {
				out = append(out, w.say(s.statement, 0))
			}
		}
		if f := w.repaired(s); f != "" {
			out = append(out, "the nearest line that stands: "+f)
		}
	}
	return slices.Compact(out)
}

func (w *working) asRead(s *statement) string {
	if s.claim != nil {
		return fmt.Sprintf("%s from %s to %s", s.claim.element, s.claim.from.Signed(), s.claim.to.Signed())
	}
	side := func(terms []term) (out []chem.Term) {
		for _, t := range terms {
			x := w.book[t.species]
			if s.hydronium && t.species == hydron {
				x = chem.Hydronium
			}
			out = append(out, chem.Term{Species: x, Coefficient: t.n})
		}
		return out
	}
	return chem.Equation{Left: side(s.left), Right: side(s.right)}.String()
}

// whyThread says what a statement is about, and by what it was known.
func (w *working) whyThread(s *judged) string {
	var own []string
	for i := firstOwn; i < len(w.book); i++ {
		if (has(s.left, i) || has(s.right, i)) && (s.thread < 0 || w.belongs(i, s.thread)) {
			own = append(own, w.book[i].String())
		}
	}
	switch {
	case s.claim != nil:
		return "it is a claim of oxidation states"
	case s.thread == overall:
		return "it is a whole equation, by " + list(own)
	case s.thread == elsewhere:
		return "it is about something else: the question does not have its species"
	case len(own) > 0:
		return fmt.Sprintf("it is the %s half, by %s", w.q.halves[s.thread].role, list(own))
	case s.label.oxidation || s.label.reduction:
		return fmt.Sprintf("it is the %s half, by its label", w.q.halves[s.thread].role)
	}
	return fmt.Sprintf("it is the %s half, by where it stands", w.q.halves[s.thread].role)
}

func list(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}
