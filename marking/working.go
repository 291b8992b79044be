package marking

import (
	"slices"
	"strings"

	"halves/chem"
	"halves/redox"
)

// A Line is one judged line of a working.
type Line struct {
	Number  int // from 1
	Text    string
	Thread  string // "oxidation half", "reduction half", "overall", "" for none
	Verdict Verdict
	Kind    Kind   // of a slip
	Why     string // one sentence, with the numbers
}

// A Result is a judged working.
type Result struct {
	Lines        []Line
	FirstSlip    int // number of the first line that slips, 0 for none
	Kind         Kind
	FinalCorrect bool // the last overall line is the answer
	working      *working
}

// A working is a text being judged.
type working struct {
	q          *Question
	book       []*chem.Species // the question's, then what was typed besides
	statements []*judged
	lines      []Line
	answer     *judged // the last overall statement
	swapped    bool    // the labels were told to be swapped
}

// A judged statement.
type judged struct {
	*statement
	verdict Verdict
	holds   bool // true by itself, whatever its purpose
	person  bool // a person's verdict
	kind    Kind
	why     string
	from    []*judged // what it follows from
}

// isRight reports whether a statement is true, whatever its purpose.
func (j *judged) isRight() bool { return j.verdict == Stands || j.verdict == Recovered }

// Judge judges each line of a working that was handed in: its last whole equation
// is the answer.
func (q *Question) Judge(text string) Result { return q.judge(text, true, nil) }

// An Overruling is a person's verdict on a line, whoever wrote it in a working of
// the same question; spaces do not count.
type Overruling struct {
	Text    string
	Verdict Verdict // Stands, Follows or Slips
	Kind    Kind    // of a slip
	Reason  string  // kept as the reason of the verdict
}

// JudgeWith is Judge where a person has overruled verdicts. What follows from an
// overruled line is judged by the person's verdict.
func (q *Question) JudgeWith(text string, by []Overruling) Result { return q.judge(text, true, by) }

// JudgeSoFar judges a working that is still being written, each line as Judge
// does, but for the last whole equation: until it is called the answer, it may
// still have to be cancelled, or brought into the medium.
func (q *Question) JudgeSoFar(text string) Result { return q.judge(text, false, nil) }

func (q *Question) judge(text string, handedIn bool, by []Overruling) Result {
	w := &working{q: q, book: slices.Clip(slices.Clone(q.species))}
	w.read(text)
	for i := len(w.statements) - 1; i >= 0; i-- {
		if s := w.statements[i]; s.thread == overall {
			if handedIn || s.label.answer {
				w.answer = s
			}
			break
		}
	}
	for i, s := range w.statements {
		w.judgeSafely(s, w.statements[:i])
		if o := overruled(w.lines[s.line].Text, by); o != nil {
			s.verdict, s.kind, s.why, s.holds, s.person = o.Verdict, o.Kind, o.Reason, o.Verdict == Stands, true
		}
	}
	r := w.result()
	for i := range r.Lines {
		l := &r.Lines[i]
		o := overruled(l.Text, by)
		if o == nil || l.Verdict != Unread {
			continue
		}
		l.Verdict, l.Kind, l.Why = o.Verdict, o.Kind, o.Reason
		if l.Verdict == Slips && (r.FirstSlip == 0 || l.Number < r.FirstSlip) {
			r.FirstSlip, r.Kind = l.Number, l.Kind
		}
	}
	return r
}

// overruled returns a person's verdict on a line, nil for none.
func overruled(line string, by []Overruling) *Overruling {
	for i, o := range by {
		if slices.Equal(strings.Fields(o.Text), strings.Fields(line)) {
			return &by[i]
		}
	}
	return nil
}

// judgeSafely leaves a statement unread whose numbers do not fit in 64 bits.
func (w *working) judgeSafely(s *judged, before []*judged) {
	defer func() {
		switch r := recover().(type) {
		case nil:
		case chem.OverflowError:
			s.verdict, s.why = Unread, "its numbers are too large to be judged"
		default:
			panic(r)
		}
	}()
	w.judge(s, before)
}

// read makes statements of a text.
func (w *working) read(text string) {
	if len(text) > MaxText || !printable(text) {
		w.lines = []Line{{Number: 1, Verdict: Unread, Why: "this is too long or no text"}}
		return
	}
	text = strings.ReplaceAll(text, "\r\n", "\n")
	text = strings.ReplaceAll(text, "\r", "\n")
	var header label
	under := 0 // statements under the heading
	for i, raw := range strings.Split(text, "\n") {
		line := Line{Number: i + 1, Text: raw, Verdict: Comment}
		if len(raw) > maxLine || len(w.statements) >= maxStatements {
			line.Verdict, line.Why = Unread, "the line is too long to be read"
			if len(raw) <= maxLine {
				line.Why = "a working does not have so many lines"
			}
			w.lines = append(w.lines, line)
			continue
		}
		if c, ok := claimOf(raw); ok {
			s := &statement{line: i, text: raw, claim: &c, thread: states}
			w.statements = append(w.statements, &judged{statement: s})
			line.Verdict = Stands
			w.lines = append(w.lines, line)
			continue
		}
		all, words := pieces(raw)
		if len(all) == 0 {
			if l := labelOf(words); l.any() && len(strings.Fields(words)) <= 4 && strings.HasSuffix(strings.TrimSpace(words), ":") {
				header, under = l, 0
			}
			w.lines = append(w.lines, line)
			continue
		}
		read := 0
		for _, p := range all {
			if p.label.comment && !p.label.any() {
				continue
			}
			s := w.statement(p, i)
			if s == nil {
				if looksLikeEquation(p.equation) {
					line.Verdict, line.Why = Unread, "this line cannot be read as an equation"
				}
				continue
			}
			read++
			if !s.label.any() {
				s.label.oxidation, s.label.reduction, s.label.overall = header.oxidation, header.reduction, header.overall
				s.label.weak = under > 0 // a heading stands over its first line; where it ends is not said
				under++
			}
			w.place(s)
			w.leaveOut(s)
			w.statements = append(w.statements, &judged{statement: s})
		}
		if read > 0 {
			line.Verdict = Stands // until it is judged
		}
		w.lines = append(w.lines, line)
	}
}

// looksLikeEquation reports whether a text was meant as an equation: it has a
// sign of one besides an equals sign alone.
func looksLikeEquation(s string) bool {
	from, to := arrowAt(s)
	return from >= 0 && strings.Trim(s[from:to], "=") != "" && strings.ContainsAny(s, "0123456789+") && !strings.Contains(s, "<")
}

// statement reads one equation, nil where it is none.
func (w *working) statement(p piece, line int) *statement {
	e, ok := w.equation(p.equation)
	for text := p.equation; !ok; {
		shorter := withoutRemark(text)
		if shorter == text {
			return nil
		}
		text = shorter
		e, ok = w.equation(text)
	}
	s := &statement{line: line, text: p.equation, label: p.label}
	var forms []term // what other forms of species take
	partners := w.partners(e)
	side := func(terms []chem.Term, sign int64) (ions, wrote []term) {
		put := func(x *chem.Species, n chem.Ratio) term {
			i := w.index(x)
			s.add(i, n.Mul(chem.Whole(sign)))
			return term{i, n}
		}
		for _, t := range terms {
			n := t.Coefficient
			if t.Species.Same(chem.Hydronium) {
				// Its water is never water on both sides.
				s.hydronium = true
				ion := put(chem.Hydron, n)
				s.add(water, n.Mul(chem.Whole(sign)))
				ions, wrote = append(ions, ion), append(wrote, ion)
				continue
			}
			if all := w.ionsOf(t.Species, partners); all != nil {
				s.dissolved = true
				wrote = append(wrote, term{w.index(t.Species), n})
				for _, i := range all {
					ions = append(ions, put(i.Species, n.Mul(i.Coefficient)))
				}
				continue
			}
			if m, h, o := w.formOf(t.Species); m >= 0 {
				if s.plain == nil {
					s.plain = []chem.Ratio{}
				}
				whole := put(w.book[m], n)
				ions, wrote = append(ions, whole), append(wrote, term{w.index(t.Species), n})
				forms = append(forms, term{hydron, n.Mul(chem.Whole(sign * h))}, term{water, n.Mul(chem.Whole(sign * o))})
				continue
			}
			whole := put(t.Species, n)
			ions, wrote = append(ions, whole), append(wrote, whole)
		}
		return ions, wrote
	}
	for _, t := range slices.Concat(e.Left, e.Right) {
		if n := t.Coefficient; n.Num() > maxCoefficient || n.Den() > maxCoefficient {
			return nil
		}
	}
	s.left, s.wrote[0] = side(e.Left, -1)
	s.right, s.wrote[1] = side(e.Right, 1)
	if s.plain != nil {
		s.plain = slices.Clone(s.vector)
		for _, f := range forms {
			s.add(f.species, f.n)
		}
	}
	return s
}

// maxCoefficient is beyond any coefficient that a student writes, so that sums
// of products of a few fit in 64 bits.
const maxCoefficient = 1_000_000

// equation reads an equation. Of "MnO4-->Mn2+" the first dash may be a charge or
// of the arrow: the reading with fewer strangers is taken.
func (w *working) equation(text string) (best chem.Equation, ok bool) {
	from, to := arrowAt(text)
	if from < 0 {
		return best, false
	}
	starts := []int{from}
	if strings.HasPrefix(text[from:to], "--") && from > 0 && text[from-1] != ' ' {
		starts = append(starts, from+1)
	}
	fewest := 0
	for _, from := range starts {
		left, right := electronSides(text, from, to)
		if left == "" || right == "" {
			continue
		}
		r, err := chem.ReadEquation(left+" "+normalArrow(text[from:to])+" "+right, lexicon{w.q})
		if err != nil {
			continue
		}
		e := r.All[0].Equation
		strange := 0
		for _, x := range e.Species() {
			if w.find(x) < 0 && !x.Same(chem.Hydronium) {
				strange++
			}
		}
		if !ok || strange < fewest {
			best, fewest, ok = e, strange, true
		}
	}
	return best, ok
}

func normalArrow(a string) string {
	if strings.Trim(a, "=") == "" {
		return "="
	}
	return "->"
}

func (s *statement) add(i int, n chem.Ratio) {
	for len(s.vector) <= i {
		s.vector = append(s.vector, chem.Ratio{})
	}
	s.vector[i] = s.vector[i].Add(n)
}

// ionsOf returns the ions as which a typed species is read, nil for one that is
// read whole.
func (w *working) ionsOf(x *chem.Species, partners []*chem.Species) []chem.Term {
	if i := w.find(x); i >= 0 && i < len(w.q.species) {
		return nil
	}
	// An altered subscript may have made an acid or a salt of another question.
	ions := w.q.ions(x)
	if !slices.ContainsFunc(ions, func(t chem.Term) bool {
		return w.isKnownIon(t.Species) || t.Species.Same(chem.Hydroxide) || slices.ContainsFunc(partners, t.Species.Same)
	}) {
		return nil
	}
	return ions
}

// isKnownIon reports whether an ion is a half's own, or of the question's
// substances.
func (w *working) isKnownIon(x *chem.Species) bool {
	return slices.IndexFunc(w.q.species, x.Same) >= firstOwn || slices.ContainsFunc(w.q.spectators, x.Same)
}

// partners are the ions that come with a half's own ions in the substances of an
// equation: K^+ with KMnO4, so that K2SO4 beside it is a salt too.
func (w *working) partners(e chem.Equation) (out []*chem.Species) {
	for _, x := range e.Species() {
		ions := w.ionsOf(x, nil)
		if !slices.ContainsFunc(ions, func(t chem.Term) bool { return slices.IndexFunc(w.q.species, t.Species.Same) >= firstOwn }) {
			continue
		}
		for _, t := range ions {
			if !w.isKnownIon(t.Species) {
				out = append(out, t.Species)
			}
		}
	}
	return out
}

// formOf returns the half's own species of which x is another form, -1 for none: it
// differs by h hydrogen ions and o waters alone, as HSO4^- from SO4^2-, Al(OH)3 from
// Al(OH)4^-.
func (w *working) formOf(x *chem.Species) (own int, h, o int64) {
	if w.find(x) >= 0 && w.find(x) < len(w.q.species) || x.Same(chem.Hydronium) {
		return -1, 0, 0
	}
	if x.Charge() == 0 && x.Atoms(chem.O) > 0 && x.Atoms(chem.H) == 0 && x.Key() != "SO2" && x.Key() != "CO2" {
		return -1, 0, 0 // an anhydride is another substance; these two are their acids in water (common practice, no source)
	}
	for i, m := range w.q.species {
		if i < firstOwn || !w.q.isOwn[i] || !sameBut(x, m, chem.O, chem.H) {
			continue
		}
		o = x.Atoms(chem.O) - m.Atoms(chem.O)
		h = x.Atoms(chem.H) - m.Atoms(chem.H) - 2*o
		if m.Composition().Only(chem.O, chem.H) && o != 0 {
			continue // O is no form of H2O2
		}
		if (o != 0 || h != 0) && x.Charge()-m.Charge() == h {
			return i, h, o
		}
	}
	return -1, 0, 0
}

// sameBut reports whether two species have the same atoms but for some elements.
func sameBut(a, b *chem.Species, but ...chem.Element) bool {
	for _, s := range []*chem.Species{a, b} {
		for _, c := range s.Composition() {
			if !slices.Contains(but, c.Element) && a.Atoms(c.Element) != b.Atoms(c.Element) {
				return false
			}
		}
	}
	return true
}

// leaveOut leaves the partner ions of a substance out of a half: KMnO4 there is
// another form of MnO4^-.
func (w *working) leaveOut(s *statement) {
	if s.thread < 0 || !s.dissolved {
		return
	}
	for i := firstOwn; i < len(s.vector); i++ {
		if w.isSpectator(i) {
			s.vector[i] = zero
			gone := func(t term) bool { return t.species == i }
			s.left, s.right = slices.DeleteFunc(s.left, gone), slices.DeleteFunc(s.right, gone)
		}
	}
}

// isSpectator reports whether a species is none of the halves' but an ion of the
// question's substances.
func (w *working) isSpectator(i int) bool {
	return i >= len(w.q.species) && slices.ContainsFunc(w.q.spectators, w.book[i].Same)
}

// index returns the number of a typed species, entering it if new.
func (w *working) index(s *chem.Species) int {
	if i := w.find(s); i >= 0 {
		return i
	}
	w.book = append(w.book, s)
	return len(w.book) - 1
}

// find returns the number of a typed species: the question's own where
// composition and charge agree with one of them alone. It is -1 for a stranger.
func (w *working) find(s *chem.Species) int {
	for i, t := range w.book {
		if t.Same(s) {
			return i
		}
	}
	found := -1
	for i, t := range w.q.species {
		if t.Charge() == s.Charge() && t.Composition().Equal(s.Composition()) {
			if found >= 0 {
				return -1
			}
			found = i
		}
	}
	return found
}

// place finds the thread of a statement, by its species, then its label.
func (w *working) place(s *statement) {
	touched := make([]int, len(w.q.halves)) // mains that belong to this half
	its := make([]int, len(w.q.halves))     // of them those that are its own as they stand
	mains, known, other := 0, 0, 0
	for i := firstOwn; i < len(s.vector); i++ {
		if !has(s.left, i) && !has(s.right, i) {
			continue
		}
		if s.dissolved && s.at(i).Sign() == 0 {
			continue // an ion of substances on both sides
		}
		own := i < len(w.q.isOwn) && w.q.isOwn[i]
		if x := w.book[i]; !own && x.Charge() == 0 && x.Composition().Only(chem.O) {
			continue // brought in for the oxygen, in whichever half
		}
		mains++
		hit := false
		home := w.home(i)
		for k := range w.q.halves {
			if !own && home >= 0 && home != k {
				continue
			}
			if w.belongs(i, k) {
				touched[k]++
				hit = true
				if i < len(w.q.isOwn) && w.q.isOwn[i] {
					its[k]++
				}
			}
		}
		switch {
		case i < len(w.q.isOwn) && w.q.isOwn[i]:
			known++
		case !hit:
			other++
		}
	}
	role := func(k int) bool {
		return s.label.oxidation && w.q.halves[k].role == redox.Oxidation || s.label.reduction && w.q.halves[k].role == redox.Reduction
	}
	var fit []int
	for k, n := range touched {
		if n == mains-other && n > 0 || known > 1 && its[k] == known && role(k) {
			fit = append(fit, k)
		}
	}
	// Of several threads the one in which it is true, where that is one alone.
	if !s.label.oxidation && !s.label.reduction {
		if good := w.trueThreads(s, fit); len(good) == 1 && (len(fit) > 1 || good[0] == overall && !slices.ContainsFunc(fit, func(k int) bool { return good[0] == k })) {
			s.thread = good[0]
			return
		}
	}
	switch {
	case mains == 0: // water and its ions alone: the label, then the half whose own they are
		s.thread = elsewhere
		for k := range w.q.halves {
			if role(k) {
				s.thread = k
			}
		}
		if s.thread == elsewhere {
			w.placeMedium(s)
		}
	case mains == other:
		s.thread = elsewhere
	case known == 0 && other > 0:
		s.thread = elsewhere
	case len(fit) == 0:
		s.thread = overall
	case !s.label.oxidation && !s.label.reduction && (s.label.overall || has(s.left, electron) && has(s.right, electron)):
		s.thread = overall
	case len(fit) == 1:
		s.thread = fit[0]
	default: // a species that both halves share, alone: what is like the half's own, the label, the last thread
		fit = w.likest(s, fit)
		s.thread = fit[0]
		for i := len(w.statements) - 1; i >= 0; i-- {
			if slices.Contains(fit, w.statements[i].thread) {
				s.thread = w.statements[i].thread
				break
			}
		}
		for _, k := range fit {
			if role(k) {
				s.thread = k
			}
		}
	}
}

// trueThreads lists the threads in which a statement is true: halves that fit, and
// the whole.
func (w *working) trueThreads(s *statement, fit []int) (out []int) {
	t := *s
	for _, k := range fit {
		if t.thread = k; !s.label.overall && w.isTrue(&t) {
			out = append(out, k)
		}
	}
	if t.thread = overall; w.isTrue(&t) {
		out = append(out, overall)
	}
	return out
}

// likest leaves those of some halves whose own species have most in common with a
// statement, side by side: its own, others of the same atoms, or of the same
// elements; of halves alike the one in which the same was written before.
func (w *working) likest(s *statement, fit []int) []int {
	score := func(k int) (n int) {
		for side, terms := range [][]term{s.left, s.right} {
			for _, t := range terms {
				best := 0
				for _, m := range w.q.halves[k].mains {
					if w.q.halves[k].vector[m].Sign() != 2*side-1 || t.species < firstOwn {
						continue
					}
					a, b := w.book[t.species], w.book[m]
					switch {
					case t.species == m:
						best = max(best, 3)
					case a.Composition().Equal(b.Composition()):
						best = max(best, 2)
					case sameElements(a, b):
						best = max(best, 1)
					}
				}
				n += best
			}
		}
		return n
	}
	var out []int
	most := -1
	for _, k := range fit {
		n := score(k)
		if n > most {
			most, out = n, nil
		}
		if n == most {
			out = append(out, k)
		}
	}
	for i := len(w.statements) - 1; i >= 0 && len(out) > 1; i-- {
		if b := w.statements[i]; slices.Contains(out, b.thread) && slices.Equal(mainsOf(b.statement), mainsOf(s)) {
			return []int{b.thread}
		}
	}
	return out
}

// home is the half in which a stranger stood before, -1 for none.
func (w *working) home(i int) int {
	for n := len(w.statements) - 1; n >= 0; n-- {
		if b := w.statements[n]; b.thread >= 0 && (has(b.left, i) || has(b.right, i)) {
			return b.thread
		}
	}
	return -1
}

// mainsOf lists the species of a statement besides water, its ions and electrons.
func mainsOf(s *statement) (out []int) {
	for i := firstOwn; i < len(s.vector); i++ {
		if has(s.left, i) || has(s.right, i) {
			out = append(out, i)
		}
	}
	return out
}

// placeMedium places a statement of water and its ions alone: with the half
// whose own they are, else with the thread before.
func (w *working) placeMedium(s *statement) {
	for k, h := range w.q.halves {
		for i := water; i < electron; i++ {
			if i < len(h.own) && h.own[i] && (has(s.left, i) || has(s.right, i)) {
				s.thread = k
				return
			}
		}
	}
	if n := len(w.statements); n > 0 {
		s.thread = w.statements[n-1].thread
	}
}

// belongs reports whether a species is a half's own, or an altered form of one:
// of an element, not oxygen or hydrogen, that only this half changes.
func (w *working) belongs(i, k int) bool {
	h := w.q.halves[k]
	if i < len(w.q.isOwn) && w.q.isOwn[i] {
		return i < len(h.vector) && h.vector[i].Sign() != 0
	}
	for _, m := range h.mains {
		if sharesElement(w.book[i], w.book[m]) {
			return true
		}
	}
	return false
}

// sharesElement reports whether two species have an element in common, oxygen
// and hydrogen counting only where one has nothing else.
func sharesElement(a, b *chem.Species) bool {
	only := func(s *chem.Species) bool { return s.Composition().Only(chem.O, chem.H) }
	for _, c := range a.Composition() {
		if (c.Element == chem.O || c.Element == chem.H) && !(only(a) && only(b)) {
			continue
		}
		if b.Atoms(c.Element) > 0 {
			return true
		}
	}
	return false
}

// result gathers the verdicts by line.
func (w *working) result() Result {
	r := Result{Lines: w.lines, working: w}
	rank := map[Verdict]int{Comment: 0, Stands: 1, Recovered: 2, Follows: 3, Elsewhere: 4, Unread: 5, Slips: 6}
	for i := range r.Lines {
		if r.Lines[i].Verdict == Stands {
			r.Lines[i].Verdict = Comment
		}
	}
	for _, s := range w.statements {
		l := &r.Lines[s.line]
		if rank[s.verdict] >= rank[l.Verdict] && l.Verdict != Unread {
			l.Verdict, l.Kind, l.Why, l.Thread = s.verdict, s.kind, s.why, w.threadName(s.thread)
		}
		if s.verdict == Slips && r.FirstSlip == 0 {
			r.FirstSlip, r.Kind = s.line+1, s.kind
		}
	}
	if w.answer != nil {
		r.FinalCorrect = w.isAnswer(w.answer)
	}
	return r
}

func (w *working) threadName(k int) string {
	switch {
	case k == overall:
		return "overall"
	case k == states:
		return "oxidation states"
	case k >= 0:
		return string(w.q.halves[k].role) + " half"
	}
	return ""
}
