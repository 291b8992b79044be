package document_test

import (
	"halves/balance"
	"halves/chem"
	"halves/document"
)

// runsOf reads an equation in canonical text.
func runsOf(text string) []chem.Run {
	readings, err := chem.ReadEquation(text, nil)
	if err != nil {
		panic(err)
	}
	return readings.All[0].Equation.Runs(chem.Style{})
}

func ledgerOf(text string) balance.Ledger {
	readings, err := chem.ReadEquation(text, nil)
	if err != nil {
		panic(err)
	}
	l, err := balance.NewLedger(readings.All[0].Equation)
	if err != nil {
		panic(err)
	}
	return l
}

func prose(s string) document.Inline { return document.Inline{{Prose: s}} }

// every returns a document with every kind of block and of span. Its spoken
// forms are its own, so that it changes only with the writers.
func every() *document.Document {
	permanganate := document.Span{Formula: []chem.Run{{Text: "MnO"}, {Text: "4", Level: chem.Subscript}, {Text: "-", Level: chem.Superscript}}, Spoken: "permanganate ion"}
	unknown := func(s string) chem.Run { return chem.Run{Text: s, Level: chem.Variable} }
	return &document.Document{
		Title: document.Inline{{Formula: runsOf("MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+"), Spoken: "permanganate ion plus iron two ion give manganese two ion plus iron three ion"}, {Prose: ", in acid"}},
		Blocks: []document.Block{
			document.Note{Text: document.Inline{{Prose: "A remark on "}, permanganate, {Prose: " & more."}}},
			document.Heading{Level: 1, Text: prose("Oxidation states"), Keep: true},
			document.Table{
				Caption: "The states", Spare: 1,
				Head:  []document.Inline{prose("species"), prose("name"), {{Prose: "Mn", Spoken: "manganese"}}, {{Prose: "O", Spoken: "oxygen"}}},
				Right: []bool{false, false, true, true},
				Rows: [][]document.Inline{
					{{permanganate}, prose("permanganate ion"), {{Prose: "+7", Spoken: "plus 7"}}, {{Prose: "−2", Spoken: "minus 2"}}},
					{{{Formula: []chem.Run{{Text: "[Fe(CN)"}, {Text: "6", Level: chem.Subscript}, {Text: "]"}, {Text: "4-", Level: chem.Superscript}}}}, nil, nil, prose("?")},
				},
			},
			document.List{Items: []document.Inline{
				{{Prose: "It goes from "}, {Prose: "+7", Spoken: "plus 7"}, {Prose: " to +2 \"at once\"."}},
				prose("1. No list within."),
			}},
			document.Heading{Level: 1, Text: prose("Reduction"), Keep: true},
			document.Paragraph{Text: prose("Under each line: its atoms. What is marked ≠ is still to do.")},
			document.Equation{
				Label: prose("split into halves"), Reason: prose("Mn goes from +7 to +2"),
				Line: runsOf("MnO4^- -> Mn^2+"), Spoken: "permanganate ion gives manganese two ion",
				Ledger: ledgerOf("MnO4^- -> Mn^2+"), SpokenLedger: "manganese: left 1, right 1; oxygen: left 4, right 0, not equal; charge: left minus 1, right plus 2, not equal",
			},
			document.Equation{Label: prose("balance the other atoms"), Reason: prose("nothing to do")},
			document.Equation{
				Label: prose("balance charge with electrons"), Reason: document.Inline{{Prose: "add "}, {Formula: []chem.Run{{Text: "5 "}, {Text: "e"}, {Text: "-", Level: chem.Superscript}}, Spoken: "five electrons"}},
				Line:   runsOf("MnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O"),
				Ledger: ledgerOf("MnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O"),
			},
			document.Equation{
				Label: prose("add"),
				Line:  runsOf("10 Fe^2+ + 2 MnO4^- + 16 H^+ + 10 e^- -> 10 Fe^3+ + 10 e^- + 2 Mn^2+ + 8 H2O"),
			},
			document.Heading{Level: 2, Text: prose("Algebra")},
			document.Equation{
				Label: prose("name the unknowns"),
				Line: []chem.Run{unknown("a"), {Text: " "}, {Text: "CuSO"}, {Text: "4", Level: chem.Subscript}, {Text: ".5H"}, {Text: "2", Level: chem.Subscript}, {Text: "O"}, {Text: " -> "},
					unknown("b"), {Text: " "}, {Text: "Cu"}, {Text: "2+", Level: chem.Superscript}},
			},
			document.Equation{Line: []chem.Run{{Text: "4"}, unknown("a"), {Text: " - "}, unknown("b"), {Text: " = "}, {Text: "-2"}, unknown("c")}, Spoken: "four a minus b equals minus two c"},
			document.Heading{Level: 1, Text: prose("The answer")},
			document.Equation{Line: runsOf("MnO4^- + 5 Fe^2+ + 8 H^+ -> Mn^2+ + 5 Fe^3+ + 4 H2O"), Spoken: "the answer in words", Final: true},
			document.Table{Right: []bool{false, false}, Head: []document.Inline{nil, nil}, Rows: [][]document.Inline{{prose("charge"), prose("+17")}}},
		},
	}
}

// onPaper returns a document with every kind of block that paper and slides
// need.
func onPaper() *document.Document {
	permanganate := document.Span{Formula: []chem.Run{{Text: "MnO"}, {Text: "4", Level: chem.Subscript}, {Text: "-", Level: chem.Superscript}}, Spoken: "permanganate ion"}
	return &document.Document{
		Title:   prose("Worksheet 4"),
		Running: document.Running{Left: "General Chemistry II, section B", Right: "Version A", Foot: "Check code 7Q2F"},
		Blocks: []document.Block{
			document.Fields{Labels: []string{"Name", "Code"}},
			document.Exercise{Number: 1, Marks: "6 marks", Text: document.Inline{{Prose: "Balance the half of "}, permanganate, {Prose: " in acid."}}},
			document.Space{Label: prose("Reduction half"), Lines: 3},
			document.Space{Lines: 1},
			document.Exercise{Number: 2, Text: prose("Fill in the blanks.")},
			document.Equation{
				Line:   []chem.Run{document.Blank, {Text: " "}, {Text: "Cu"}, {Text: " -> "}, document.Blank, {Text: " "}, {Text: "Cu"}, {Text: "2+", Level: chem.Superscript}},
				Spoken: "blank copper give blank copper two ions",
			},
			document.Exercise{Number: 3, Marks: "1 mark", Text: prose("Where do the electrons stand?")},
			document.Choices{Items: []document.Choice{
				{Text: prose("on the left"), Right: true, Note: document.Inline{permanganate, {Prose: " takes them up."}}},
				{Text: prose("on the right"), Note: prose("That is an oxidation.")},
				{Text: document.Inline{permanganate}},
			}},
			document.Break{},
			document.Exercise{Number: 10, Text: prose("A working.")},
			document.Heading{Level: 2, Text: prose("Oxidation"), Keep: true},
			document.Equation{Line: runsOf("Cu -> Cu^2+ + 2 e^-"), Label: prose("balance charge")},
			document.Heading{Level: 1, Text: prose("After the exercises")},
			document.Paragraph{Text: prose("No exercise has this.")},
			document.Slide{Title: document.Inline{permanganate, {Prose: " on a slide"}}, Notes: []document.Inline{prose("First this."), {permanganate, {Prose: " then."}}}},
			document.Equation{Line: runsOf("MnO4^- -> Mn^2+")},
			document.Equation{Line: runsOf("MnO4^- -> Mn^2+ + 4 H2O"), Fresh: true},
			document.Slide{Title: prose("The last slide")},
			document.List{Items: []document.Inline{prose("one"), prose("two")}},
		},
	}
}

// hostile are characters that mean something to a format.
var hostile = []string{
	`<script>alert("1")</script>`, `&amp; &lt; & < > "quoted" 'single'`, `</style></title><!-- -->`,
	`\ \begin{x} \% $x$ $$ # _ { } ~ ^ %`, "| pipes | and `code` ``more`` ~~gone~~", `*bold* _slanted_ **both** __x__`,
	`[a](b) ![c](d) [e]: f <http://g.example> https://h.example www.i.example j@k.example`, `# no heading`, `- no list`, `+ no list`, `1. no list`, `2) no list`, `> no quotation`, `=== ---`, `:smile: @name #1`,
	"[* a star behind a bracket", "[1ex] a bracket that begins a reason on a line of its own", "é − × ≠ ⟶ · – ’ “x” ₂ ² α °", "\u00a0a\u00a0b\u00a0", "a  b", "--- -- ?` !` ,, << >>", `{=html} {.class}`, "&#65; &copy;", "~a~ ^b^ ==c==",
}

// asDocument puts a text into every place of a document.
func asDocument(s string) *document.Document {
	text := document.Inline{{Prose: s, Spoken: ""}}
	return &document.Document{
		Title:   text,
		Running: document.Running{Left: s, Right: s, Foot: s},
		Blocks: []document.Block{
			document.Heading{Level: 1, Text: text}, document.Paragraph{Text: text}, document.Note{Text: text},
			document.List{Items: []document.Inline{text, text}},
			document.Table{Caption: s, Head: []document.Inline{text, text}, Right: []bool{false, true}, Rows: [][]document.Inline{{text, text}}},
			document.Equation{Label: text, Reason: text},
			document.Equation{Label: text, Line: []chem.Run{{Text: "Cu"}, {Text: " -> "}, {Text: "Cu"}}, Reason: text},
			document.Equation{Reason: text},
			document.Fields{Labels: []string{s, s}},
			document.Exercise{Number: 7, Marks: s, Text: text},
			document.Choices{Items: []document.Choice{{Text: text, Right: true, Note: text}, {Text: text}}},
			document.Space{Label: text, Lines: 2},
			document.Break{},
			document.Slide{Title: text, Notes: []document.Inline{text, text}},
		},
	}
}

// times is how often asDocument shows its text.
const times = 29
