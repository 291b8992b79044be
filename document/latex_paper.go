package document

import (
	"strconv"
	"strings"
)

// lastPage is the label of the last page.
const lastPage = "halves-last"

// pageStyle writes what stands at the head and the foot of each page. How many
// pages there are is known when LaTeX has run once.
func (l *latexWriter) pageStyle(r Running) {
	if r == (Running{}) {
		return
	}
	l.tag("\\makeatletter\n\\newcommand{\\ps@halves}{%\n\\def\\@oddhead{\\small\\leftmark\\hfil\\rightmark}\\let\\@evenhead\\@oddhead\n")
	l.tag("\\def\\@oddfoot{\\small ")
	l.text(r.Foot)
	l.tag("\\hfil\\thepage\\@ifundefined{r@" + lastPage + "}{}{ of \\pageref{" + lastPage + "}}}\\let\\@evenfoot\\@oddfoot}\n\\makeatother\n\\pagestyle{halves}\\markboth{")
	l.text(r.Left)
	l.tag("}{")
	l.text(r.Right)
	l.tag("}\n")
}

// head writes what stands at the head of the pages, once, where the pages are
// not ours.
func (l *latexWriter) head(r Running) {
	if r.Left+r.Right == "" {
		return
	}
	l.text(r.Left)
	l.atRight(r.Right)
}

// foot writes what stands at the foot of the pages, once.
func (l *latexWriter) foot(r Running) {
	if r.Foot != "" {
		l.text(r.Foot)
		l.tag("\\par\n")
	}
}

// atRight ends a paragraph with what stands at its right.
func (l *latexWriter) atRight(s string) {
	switch {
	case s == "":
		l.tag("\\par\n")
	case textWidth(s) <= l.line/3:
		l.tag("\\halvesright{\\mbox{")
		l.text(s)
		l.tag("}}\n")
	default:
		l.tag("\\halvesright{")
		l.text(s)
		l.tag("}\n")
	}
}

// paperCommands are what exercises and slides are written with, so that the
// source can be edited by hand. An exercise is a list of one item, whose label is
// the number. What stands at the right is on the last line, or on one more where
// it has no room there (D. Knuth, The TeXbook, chapter 14). Rules are 8.5 mm
// apart, as on ruled paper (common practice, no source).
//
// A page that is full but for some room may end before what would be torn: the
// stretch makes this the better place for TeX to break at, and it will leave
// empty up to about four and a half times as much.
const paperCommands = `\newenvironment{halvesexercise}[1]{\begin{list}{}{\leftmargin2em\labelwidth1.5em\labelsep.5em\itemindent0pt\listparindent0pt\topsep8pt\partopsep0pt\parsep4pt\itemsep0pt}\item[\textbf{#1.}\hfill]\mbox{}}{\end{list}}
\newcommand{\halvesright}[1]{\unskip\nobreak\hfill\penalty50\hskip1em\null\nobreak\hfill#1\par}
\newcommand{\halvesrule}{\enspace\hrulefill\null}
\newcommand{\halvesline}{\penalty5000\noindent\hrulefill\null\par}
\newenvironment{halvesspace}{\par\parskip0pt\lineskip0pt\baselineskip8.5mm\ignorespaces}{\vskip10pt}
\newcommand{\halvesroom}[1]{\par\vskip0pt plus #1\penalty-200\vskip0pt plus -#1\relax}
`

// What may be left empty of a page is half of it, or an eighth.
const (
	halfOfPage  = "70pt"
	shortOfPage = "18pt"
)

// filled ends a page where what follows would be torn.
func (l *latexWriter) filled(room string) { l.tag("\\halvesroom{" + room + "}\n") }

// hang is how far the text of an exercise stands behind its number, in hundredths
// of an em.
const hang = 200

// asked opens an exercise. It is kept on a page up to half a page; a working is
// torn between its parts.
func (l *latexWriter) asked(e Exercise, working bool) {
	room := halfOfPage
	if working {
		room = shortOfPage
	}
	l.filled(room)
	l.exercise, l.keep = true, true
	l.line -= hang
	l.tag("\\begin{halvesexercise}{" + strconv.Itoa(e.Number) + "}")
	l.inline(e.Text)
	l.atRight(e.Marks)
	l.tag("\\nopagebreak\n")
}

// close ends the exercise or the slide.
func (l *latexWriter) close() {
	if l.exercise {
		l.tag("\\end{halvesexercise}\n")
		l.line += hang
	}
	l.exercise, l.keep = false, false
	if len(l.notes) == 0 {
		return
	}
	l.tag("\\begin{quote}\\small\\textit{" + notesSaid + ".}\\par\n")
	for _, note := range l.notes {
		l.inline(note)
		l.tag("\\par\n")
	}
	l.tag("\\end{quote}\n")
	l.notes = nil
}

// choices writes a list with letters.
func (l *latexWriter) choices(c Choices) {
	if len(c.Items) == 0 {
		return
	}
	l.tag("\\begin{itemize}\\setlength{\\itemsep}{0pt}\\setlength{\\parsep}{0pt}\n")
	for i, x := range c.Items {
		letter := Letter(i) + "."
		if x.Right {
			l.tag("\\item[\\textbf{" + letter + "}] \\textbf{\\boldmath ")
			l.inline(x.Text)
			l.text(" (" + rightSaid + ")")
			l.tag("}\n")
		} else {
			l.tag("\\item[" + letter + "] ")
			l.inline(x.Text)
			l.tag("\n")
		}
		if x.Note != nil {
			l.tag("\\par\\nopagebreak{\\small ")
			l.inline(x.Note)
			l.tag("\\par}\n")
		}
	}
	l.tag("\\end{itemize}\n")
}

// space writes rules, the first behind the label where that leaves room.
func (l *latexWriter) space(s Space) {
	lines := max(s.Lines, 1)
	long := inlineWidth(s.Label) > l.line/2
	if long {
		l.inline(s.Label)
		l.tag("\\par\\nopagebreak\n")
	}
	l.tag("\\begin{halvesspace}\n")
	if len(s.Label) > 0 && !long {
		l.tag("\\mbox{}")
		l.inline(s.Label)
		l.tag("\\halvesrule\\par\n")
		lines--
	}
	for range lines {
		l.tag("\\halvesline\n")
	}
	l.tag("\\end{halvesspace}\n")
}

// fields writes labels with rules behind them, on as few lines as have room.
func (l *latexWriter) fields(f Fields) {
	const least = 500 // of a rule, in hundredths of an em
	used := 0
	for i, label := range f.Labels {
		w := textWidth(label) + least
		switch {
		case i == 0:
		case used+w > l.line:
			l.tag("\\par\n")
			used = 0
		default:
			l.tag("\\quad\n")
		}
		l.tag("\\mbox{}")
		l.text(strings.TrimSpace(label))
		if i == 0 {
			l.tag("\\enspace\\hrulefill\\hrulefill\\null") // a name is longer than a code
		} else {
			l.tag("\\halvesrule")
		}
		used += w + 100
	}
	if len(f.Labels) > 0 {
		l.tag("\\par\\vskip4pt\n")
	}
}

// fresh writes what was just revealed in bold letters.
func (l *latexWriter) fresh(bold bool, write func()) {
	if !bold {
		write()
		return
	}
	l.tag("\\boldsymbol{{}")
	write()
	l.tag("}")
}
