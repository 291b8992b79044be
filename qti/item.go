package qti

import (
	"fmt"
	"strconv"
	"strings"

	"halves/document"
)

// allRight is the feedback on a question whose gaps are all right.
const allRight = "RIGHT"

// item writes the file of one question.
func (w *writer) item(it *Item, language string) {
	w.file()
	w.open("assessmentItem", "xmlns", w.version.namespace,
		"identifier", identifier(it.ID), "title", title(it.Title, it.ID),
		"adaptive", "false", "timeDependent", "false", "xml:lang", language)
	gaps := it.gaps()
	if len(gaps) > 0 {
		w.declareGaps(gaps, it.Worth)
	} else {
		w.declareChoice(it.Choices)
	}
	w.outcomes(it)
	w.open("itemBody")
	for _, p := range it.Stem {
		w.paragraph(p)
	}
	if len(gaps) > 0 {
		w.line(it.Line, gaps, language)
	} else {
		w.choices(it.Choices)
	}
	w.close()
	w.open("responseProcessing")
	if len(gaps) > 0 {
		w.markGaps(gaps, it)
	} else {
		w.markChoice(it)
	}
	w.close()
	w.feedback(it)
	w.close()
	w.b = append(w.b, '\n')
}

// title returns what a thing is called; one without a title by its identifier.
func title(title, id string) string {
	switch {
	case !isBlank(title):
		return title
	case !isBlank(id):
		return id
	}
	return identifier(id)
}

// number writes a whole number of marks.
func number(n int) string { return strconv.Itoa(n) }

// choiceID names choice i, from 0. The names follow the order in which the
// choices were given and are not shown.
func choiceID(i int) string { return "C" + number(i+1) }

// gapID names gap i, from 0.
func gapID(i int) string { return "GAP" + number(i+1) }

// response declares a response and its right answer; mapping may follow before
// it is closed.
func (w *writer) response(id, baseType, answer string) {
	w.open("responseDeclaration", "identifier", id, "cardinality", "single", "baseType", baseType)
	w.open("correctResponse")
	w.leaf("value", answer)
	w.close()
}

func (w *writer) declareChoice(choices []Choice) {
	for i := range choices {
		if choices[i].Right {
			w.response("RESPONSE", "identifier", choiceID(i))
			w.close()
		}
	}
}

func (w *writer) declareGaps(gaps []*Gap, worth int) {
	for i, g := range gaps {
		w.response(gapID(i), "string", g.Answer)
		w.open("mapping", "defaultValue", "0")
		w.empty("mapEntry", "mapKey", g.Answer, "mappedValue", share(worth, len(gaps), i))
		w.close()
		w.close()
	}
}

// share returns what gap i of n earns, in decimals. Shares are whole hundredths
// and sum to worth exactly: where it does not divide evenly, the first gaps earn
// a hundredth more (1 mark for 3 gaps is 0.34, 0.33, 0.33).
func share(worth, n, i int) string {
	h := 100 * worth / n
	if i < 100*worth%n {
		h++
	}
	s := fmt.Sprintf("%d.%02d", h/100, h%100)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

// hasFeedback reports whether any answer to an item brings feedback.
func (it *Item) hasFeedback() bool {
	has := plain(it.Feedback) != ""
	for i := range it.Choices {
		has = has || plain(it.Choices[i].Feedback) != ""
	}
	return has
}

// outcomes declares the marks, how many there are, and which feedback is due.
func (w *writer) outcomes(it *Item) {
	w.score(it.Worth)
	if it.hasFeedback() {
		w.empty("outcomeDeclaration", "identifier", "FEEDBACK", "cardinality", "single", "baseType", "identifier")
	}
}

// score declares the outcomes SCORE and MAXSCORE, whose names the standard sets.
func (w *writer) score(worth int) {
	for _, o := range [...]struct{ id, value string }{{"SCORE", "0"}, {"MAXSCORE", number(worth)}} {
		w.open("outcomeDeclaration", "identifier", o.id, "cardinality", "single", "baseType", "float",
			"normalMaximum", number(worth), "normalMinimum", "0")
		w.open("defaultValue")
		w.leaf("value", o.value)
		w.close()
		w.close()
	}
}

func (w *writer) choices(choices []Choice) {
	w.open("choiceInteraction", "responseIdentifier", "RESPONSE", "shuffle", "true", "maxChoices", "1")
	for i := range choices {
		w.open("simpleChoice", "identifier", choiceID(i))
		w.inline(choices[i].Text)
		w.close()
	}
	w.close()
}

// shortestBox is how wide a box is at least, in characters. All boxes of a line
// are alike, so that they do not tell how many digits an answer has.
const shortestBox = 3

func (w *writer) line(line []Piece, gaps []*Gap, language string) {
	// Said in every question, so that it does not tell whether there is a 1.
	note := document.Inline{{Prose: "Type a whole number in each box. Where a coefficient is 1, type 1."}}
	if isEnglish(language) {
		w.open("p")
	} else {
		w.open("p", "xml:lang", "en")
	}
	w.inline(note)
	w.close()

	width := shortestBox
	for _, g := range gaps {
		width = max(width, len(g.Answer))
	}
	w.open("p")
	n := 0
	for _, p := range line {
		w.inline(p.Text)
		if p.Gap == nil {
			continue
		}
		label := p.Gap.Label
		if isBlank(label) {
			label = fmt.Sprintf("gap %d of %d", n+1, len(gaps))
		}
		w.empty("textEntryInteraction", "responseIdentifier", gapID(n), "expectedLength", number(width), "aria-label", label)
		n++
	}
	w.close()
}

func isEnglish(language string) bool {
	first, _, _ := strings.Cut(language, "-")
	return strings.EqualFold(first, "en")
}

// markChoice writes the rules of the standard's template match_correct, with the
// item's marks in place of 1; feedback goes by the choice.
func (w *writer) markChoice(it *Item) {
	w.open("responseCondition")
	w.open("responseIf")
	w.match("RESPONSE")
	w.set("SCORE", "float", number(it.Worth))
	w.close()
	w.open("responseElse")
	w.set("SCORE", "float", "0")
	w.close()
	w.close()
	if it.hasFeedback() {
		w.open("setOutcomeValue", "identifier", "FEEDBACK")
		w.empty("variable", "identifier", "RESPONSE")
		w.close()
	}
}

// markGaps adds what each gap earns. A gap left empty is NULL, and a sum with
// NULL is NULL: it is passed over. Where all are right the marks are set once
// more, since a sum of hundredths in floating point may miss them.
func (w *writer) markGaps(gaps []*Gap, it *Item) {
	for i := range gaps {
		w.open("responseCondition")
		w.open("responseIf")
		w.open("not")
		w.open("isNull")
		w.empty("variable", "identifier", gapID(i))
		w.close()
		w.close()
		w.open("setOutcomeValue", "identifier", "SCORE")
		w.open("sum")
		w.empty("variable", "identifier", "SCORE")
		w.empty("mapResponse", "identifier", gapID(i))
		w.close()
		w.close()
		w.close()
		w.close()
	}
	w.open("responseCondition")
	w.open("responseIf")
	w.open("and")
	for i := range gaps {
		w.match(gapID(i))
	}
	w.close()
	w.set("SCORE", "float", number(it.Worth))
	if it.hasFeedback() {
		w.set("FEEDBACK", "identifier", allRight)
	}
	w.close()
	w.close()
}

// match writes the condition that a response is the right one.
func (w *writer) match(response string) {
	w.open("match")
	w.empty("variable", "identifier", response)
	w.empty("correct", "identifier", response)
	w.close()
}

// set sets an outcome to a value.
func (w *writer) set(outcome, baseType, value string) {
	w.open("setOutcomeValue", "identifier", outcome)
	w.leaf("baseValue", value, "baseType", baseType)
	w.close()
}

// feedback writes what is shown after an answer.
func (w *writer) feedback(it *Item) {
	if len(it.Choices) == 0 {
		w.modal(allRight, it.Feedback)
	}
	for i := range it.Choices {
		if c := &it.Choices[i]; c.Right {
			w.modal(choiceID(i), c.Feedback, it.Feedback)
		} else {
			w.modal(choiceID(i), c.Feedback)
		}
	}
}

// modal writes paragraphs that are shown where FEEDBACK is id, if there is
// anything in them.
func (w *writer) modal(id string, paragraphs ...document.Inline) {
	blank := true
	for _, p := range paragraphs {
		blank = blank && plain(p) == ""
	}
	if blank {
		return
	}
	w.open("modalFeedback", "outcomeIdentifier", "FEEDBACK", "identifier", id, "showHide", "show")
	if w.version.kebab {
		w.open("contentBody") // an element of QTI 3.0 alone
	}
	for _, p := range paragraphs {
		w.paragraph(p)
	}
	if w.version.kebab {
		w.close()
	}
	w.close()
}
