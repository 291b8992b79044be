package marking

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"halves/redox"
)

// A Step is a part of the method that a point can be given for.
type Step string

// The steps, in the order of the method.
const (
	SpeciesStep   Step = "species"      // both halves with the right species
	OxidationStep Step = "oxidation"    // the oxidation half balanced
	ReductionStep Step = "reduction"    // the reduction half balanced
	EqualizedStep Step = "equalized"    // electrons made equal
	AddedStep     Step = "added"        // halves added, and what stands on both sides cancelled
	MediumStep    Step = "medium"       // in base, hydrogen ions made into hydroxide ions and water
	StatesStep    Step = "states"       // by oxidation states: what changes, and between which
	ChangesStep   Step = "changes"      // by oxidation states: how many electrons each formula moves
	OthersStep    Step = "coefficients" // by oxidation states: the species that do not change
	FinalStep     Step = "final"        // the answer right, in lowest whole numbers, in its medium
)

// Steps lists the steps in the order of the methods.
var Steps = []Step{SpeciesStep, OxidationStep, ReductionStep, StatesStep, ChangesStep, EqualizedStep, AddedStep, MediumStep, OthersStep, FinalStep}

// says names a step for a reader.
var says = map[Step]string{
	SpeciesStep:   "two halves with the right species",
	OxidationStep: "the oxidation half balanced",
	ReductionStep: "the reduction half balanced",
	EqualizedStep: "electrons made equal",
	AddedStep:     "halves added and cancelled",
	MediumStep:    "brought into basic solution",
	StatesStep:    "oxidation states of what changes",
	ChangesStep:   "gain and loss for each formula",
	OthersStep:    "the other coefficients",
	FinalStep:     "the final equation",
}

// String names the step in words.
func (s Step) String() string { return says[s] }

// A Scheme says what each step of a working is worth. Marks are whole numbers.
type Scheme struct {
	Worth map[Step]int // steps that earn nothing are left out
	// Working says that a bare answer, with no half shown, earns the final point
	// alone.
	Working bool
}

// Scheme returns the usual scheme of a question, a point for each step: six in
// acid, seven in base, five where nothing dissolves. (marking.md of the project's design; common practice, no
// source.)
func (q *Question) Scheme() Scheme {
	s := Scheme{Worth: map[Step]int{}}
	steps := []Step{SpeciesStep, OxidationStep, ReductionStep, EqualizedStep, AddedStep, FinalStep}
	switch {
	case len(q.halves) == 0:
		steps = []Step{StatesStep, ChangesStep, EqualizedStep, OthersStep, FinalStep}
	case q.inBase():
		steps = append(steps, MediumStep)
	}
	for _, step := range steps {
		s.Worth[step] = 1
	}
	return s
}

// OutOf is the sum of what the steps of a question are worth.
func (s Scheme) OutOf() int {
	sum := 0
	for _, n := range s.Worth {
		sum += n
	}
	return sum
}

// A Point says what a step earned, and why.
type Point struct {
	Step    Step
	Earned  int
	OutOf   int
	Line    int    // the line that earned or cost it, 0 for none
	Follows bool   // earned by a line that follows from a wrong one
	Why     string // one sentence
}

// Marks are what a working earns under a scheme.
type Marks struct {
	Earned, OutOf int
	Points        []Point
	Provisional   bool // a line could not be read, or is about something else: a person should look
}

// Mark gives the marks of a judged working under a scheme. A slip costs the point
// of its step and, while it is not mended, the final point; a slip that a later
// line of its thread puts right costs nothing.
func (r Result) Mark(scheme Scheme) Marks {
	m := Marks{}
	w := r.working
	judged, written := false, false
	for _, l := range r.Lines {
		m.Provisional = m.Provisional || l.Verdict == Unread || l.Verdict == Elsewhere
		judged = judged || l.Verdict != Comment
		written = written || strings.TrimSpace(l.Text) != ""
	}
	m.Provisional = m.Provisional || written && !judged
	for _, step := range Steps {
		worth := scheme.Worth[step]
		if worth == 0 {
			continue
		}
		p := Point{Step: step, OutOf: worth}
		if w != nil {
			w.point(&p, r.FinalCorrect, scheme)
		}
		if p.Why == "" {
			p.Why = "nothing of this step was found"
		}
		m.Earned += p.Earned
		m.OutOf += worth
		m.Points = append(m.Points, p)
	}
	return m
}

// point decides one step.
func (w *working) point(p *Point, right bool, scheme Scheme) {
	if slip := w.costs(p.Step); slip != nil {
		p.Line, p.Why = slip.line+1, fmt.Sprintf("lost on line %d: %s", slip.line+1, slip.why)
		return
	}
	if p.Step == FinalStep {
		// A right answer is right, whatever was wrong before it: the slip costs its
		// own step.
		if s := w.unmended(); right {
			p.Earned, p.Line, p.Why = p.OutOf, w.answer.line+1, fmt.Sprintf("line %d is the answer", w.answer.line+1)
		} else if s != nil {
			p.Line, p.Why = s.line+1, fmt.Sprintf("the slip on line %d was not mended", s.line+1)
		} else if w.answer != nil {
			p.Line, p.Why = w.answer.line+1, "the last whole equation is not yet the answer"
		} else {
			p.Why = "no whole equation was found"
		}
		return
	}
	s := w.earner(p.Step)
	if s == nil {
		return
	}
	if scheme.Working && !slices.ContainsFunc(w.statements, func(s *judged) bool { return s.thread >= 0 || s.claim != nil }) {
		p.Why = "no working is shown"
		return
	}
	p.Earned, p.Line, p.Follows = p.OutOf, s.line+1, !s.holds
	p.Why = fmt.Sprintf("line %d shows it", s.line+1)
	switch {
	case s.verdict == Follows:
		p.Why = fmt.Sprintf("line %d shows it, by a right step from a line that was wrong", s.line+1)
	case p.Follows:
		p.Why = fmt.Sprintf("line %d shows it, and what is wrong there belongs to another step", s.line+1)
	}
}

// Step is the step of the method that the first slip belongs to, "" for none.
func (r Result) Step() Step {
	if s := r.judgedAt(r.FirstSlip); s != nil {
		return r.working.stepOf(s)
	}
	return ""
}

// Answer writes the last whole equation in one form, whatever the order of its
// terms, so that equal answers are equal; "" where there is none.
func (r Result) Answer() string {
	if r.working == nil || r.working.answer == nil {
		return ""
	}
	return r.working.write(r.working.answer.vector, false)
}

// stepOf is the step that a slip costs.
func (w *working) stepOf(s *judged) Step {
	if len(w.q.halves) == 0 {
		return w.stepByStates(s)
	}
	switch s.kind {
	case OxidationStateWrong:
		return SpeciesStep
	case UnequalElectrons, PartMultiplied, ElectronsMissing:
		return EqualizedStep
	case HydrogenInBase, HydroxideOneSide:
		if w.q.inBase() {
			return MediumStep
		}
		return FinalStep
	case NotLowest:
		return FinalStep
	case WaterUncombined:
		if w.q.inBase() {
			return MediumStep
		}
		return AddedStep
	case SubscriptAltered, ChargeMiscopied, StraySpecies, LabelsSwapped, Backwards:
		if s.thread >= 0 {
			return SpeciesStep
		}
		return AddedStep
	}
	if s.thread >= 0 {
		if w.q.halves[s.thread].role == redox.Oxidation {
			return OxidationStep
		}
		return ReductionStep
	}
	return AddedStep
}

// stepByStates is the step that a slip costs where oxidation states are counted.
func (w *working) stepByStates(s *judged) Step {
	switch {
	case s.claim != nil && slices.ContainsFunc(w.q.solution.Changes, func(c redox.Change) bool {
		return c.Element == s.claim.element && c.From.Equal(s.claim.from) && c.To.Equal(s.claim.to)
	}):
		return ChangesStep // the states are right, the electrons are not
	case s.claim != nil:
		return StatesStep
	case s.kind == NotLowest:
		return FinalStep
	case w.changesAgree(s.statement):
		return OthersStep
	}
	return EqualizedStep
}

// changesAgree reports whether what changes has numbers in the proportion of the
// answer.
func (w *working) changesAgree(s *statement) bool {
	k := zero
	for i, changing := range w.q.changing {
		if !changing || w.q.acid[i].Sign() == 0 {
			continue
		}
		r := s.at(i).Quo(w.q.acid[i])
		if k.Sign() != 0 && !r.Equal(k) {
			return false
		}
		k = r
	}
	return k.Sign() > 0
}

// costs returns the first slip that is not mended and costs a step, nil for none.
func (w *working) costs(step Step) *judged {
	for _, s := range w.statements {
		if s.verdict == Slips && !w.mended(s) && w.stepOf(s) == step {
			return s
		}
	}
	return nil
}

// unmended returns the first slip that is not mended, a swapped label apart, nil
// for none.
func (w *working) unmended() *judged {
	for _, s := range w.statements {
		if s.verdict == Slips && s.kind != LabelsSwapped && !w.mended(s) {
			return s
		}
	}
	return nil
}

// mended reports whether a later line of the thread, as far along as the slip, is
// right.
func (w *working) mended(slip *judged) bool {
	if slip.kind == LabelsSwapped {
		return false
	}
	for _, s := range w.statements {
		// A wrong claim of states is mended by any line that is true after it.
		if s.line > slip.line && slip.claim != nil && s.holds && (s.claim == nil || s.claim.element == slip.claim.element) {
			return true
		}
		if s.line <= slip.line || s.thread != slip.thread || !s.isRight() || s.thread == overall && !s.holds || slip.claim != nil {
			continue
		}
		if s.thread == overall || w.rungOf(s.statement) >= w.reach(slip.statement) {
			return true
		}
	}
	return false
}

// reach is the rung that a half, right or not, is meant to stand on.
func (w *working) reach(s *statement) rung {
	h := helperOf(s.vector)
	switch {
	case h.electron.Sign() != 0:
		return electronsFirst
	case h.hydron.Sign() != 0:
		return hydrogenRung
	case h.water.Sign() != 0:
		return oxygenRung
	}
	return bareRung
}

// earner returns the statement that earns a step, nil for none.
func (w *working) earner(step Step) *judged {
	whole := w.firstGood(func(s *judged) bool { return s.thread == overall })
	if len(w.q.halves) == 0 {
		return w.earnerByStates(step, whole)
	}
	half := func(k int) *judged {
		if s := w.firstGood(func(s *judged) bool {
			return s.thread == k && (w.finished(s) || s.person && s.at(electron).Sign() != 0)
		}); s != nil {
			return s
		}
		if s := w.claimOfHalf(k); s != nil {
			return s
		}
		return whole
	}
	switch step {
	case SpeciesStep:
		var last *judged
		for k := range w.q.halves {
			s := w.firstGood(func(s *judged) bool { return s.thread == k })
			if s == nil {
				s = w.claimOfHalf(k)
			}
			if s == nil {
				s = w.firstNamed(k)
			}
			if s == nil {
				return whole
			}
			if last == nil || s.line > last.line {
				last = s
			}
		}
		return last
	case OxidationStep, ReductionStep:
		for k, h := range w.q.halves {
			if (h.role == redox.Oxidation) == (step == OxidationStep) {
				return half(k)
			}
		}
	case EqualizedStep:
		if whole != nil {
			return whole
		}
		if s := w.equalized(); s != nil {
			return s
		}
		// By oxidation states: the numbers of what changes, water still to come.
		for _, s := range w.statements {
			if s.thread == overall && s.verdict == Stands && w.changesAgree(s.statement) {
				return s
			}
		}
		return w.tried(step)
	case AddedStep:
		if whole != nil {
			return whole
		}
		return w.tried(step)
	case MediumStep:
		return w.firstGood(func(s *judged) bool {
			return s.thread == overall && !has(s.left, hydron) && !has(s.right, hydron)
		})
	}
	return nil
}

// claimOfHalf returns the first claim of states that stands for what a half changes,
// nil for none.
func (w *working) claimOfHalf(k int) *judged {
	return w.firstGood(func(s *judged) bool {
		return s.claim != nil && slices.ContainsFunc(w.q.solution.Halves[k].Changes, func(c redox.Change) bool { return c.Element == s.claim.element })
	})
}

// earnerByStates is earner where oxidation states are counted.
func (w *working) earnerByStates(step Step, whole *judged) *judged {
	counted := whole // the first line that has the numbers of what changes
	for _, s := range w.statements {
		if s.thread == overall && s.verdict != Comment && w.changesAgree(s.statement) {
			counted = s
			break
		}
	}
	switch step {
	case StatesStep, ChangesStep:
		var last *judged
		for _, c := range w.q.solution.Changes {
			s := w.firstGood(func(s *judged) bool {
				return s.claim != nil && s.claim.element == c.Element && (step == StatesStep || s.claim.electrons.Sign() != 0)
			})
			if s == nil {
				return counted
			}
			if last == nil || s.line > last.line {
				last = s
			}
		}
		return last
	case EqualizedStep:
		return counted
	case OthersStep:
		return whole
	}
	return nil
}

// tried returns the first whole equation that slips in another step than this,
// where both halves are shown: a slip costs the point of its own step alone.
func (w *working) tried(step Step) *judged {
	for k := range w.q.halves {
		if !slices.ContainsFunc(w.statements, func(s *judged) bool { return s.thread == k }) {
			return nil
		}
	}
	for _, s := range w.statements {
		if s.thread == overall && s.verdict == Slips && w.stepOf(s) != step {
			return s
		}
	}
	return nil
}

// firstGood returns the first statement that stands or follows, of those wanted.
func (w *working) firstGood(wanted func(*judged) bool) *judged {
	for _, s := range w.statements {
		if (s.holds || s.verdict == Follows) && wanted(s) {
			return s
		}
	}
	return nil
}

// firstNamed returns the first statement of a half that has all its species,
// whatever its numbers are.
func (w *working) firstNamed(thread int) *judged {
	for _, s := range w.statements {
		if s.thread != thread {
			continue
		}
		all := true
		for _, m := range w.q.halves[thread].mains {
			all = all && s.at(m).Sign() == w.q.halves[thread].vector[m].Sign()
		}
		if all {
			return s
		}
	}
	return nil
}

// finished reports whether a half has its electrons and conserves all, or does so
// but for a slip that it follows from.
func (w *working) finished(s *judged) bool {
	if s.holds {
		return w.rungOf(s.statement) == chargeRung
	}
	return s.at(electron).Sign() != 0 && w.closed(s.statement, 0)
}

// equalized returns the later of two finished halves whose electrons are equal.
func (w *working) equalized() *judged {
	if len(w.q.halves) == 0 {
		return nil
	}
	latest := make([]*judged, len(w.q.halves))
	for _, s := range w.statements {
		if s.thread >= 0 && w.finished(s) && (s.isRight() || s.verdict == Follows) {
			latest[s.thread] = s
		}
	}
	last := latest[0]
	for _, s := range latest {
		if s == nil || !magnitude(s.at(electron)).Equal(magnitude(latest[0].at(electron))) {
			return nil
		}
		if s.line > last.line {
			last = s
		}
	}
	return last
}

// ReadSteps reads what steps are worth: "species=1, oxidation=2, final=3". The
// error names the word that is no step.
func ReadSteps(text string) (map[Step]int, error) {
	out := map[Step]int{}
	for part := range strings.SplitSeq(text, ",") {
		name, value, ok := strings.Cut(strings.TrimSpace(part), "=")
		step := Step(strings.TrimSpace(name))
		if !slices.Contains(Steps, step) {
			return nil, fmt.Errorf("%q is no step; the steps are %s", name, strings.Join(stepNames(), ", "))
		}
		n, err := strconv.Atoi(strings.TrimSpace(value))
		if !ok || err != nil || n < 0 || n > 100 {
			return nil, fmt.Errorf("%s needs a whole number from 0 to 100", step)
		}
		out[step] = n
	}
	return out, nil
}

func stepNames() []string {
	var out []string
	for _, s := range Steps {
		out = append(out, string(s))
	}
	return out
}
