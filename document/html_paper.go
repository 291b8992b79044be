package document

import (
	"fmt"
	"strconv"
	"strings"
)

// deckStyle is what a page of slides has besides: each begins a screen that is
// wide enough to be projected from, and grows with it.
const deckStyle = "@page{size:landscape}@media screen and (min-width:60rem) and (min-height:30rem){html{scroll-snap-type:y proximity}.halves{max-width:none;padding:1rem 5vw}.halves .slide{min-height:calc(100vh - 10rem);padding:2.5vw 0;font-size:clamp(1.35rem,2.4vw,3.5rem)}.halves .slide+.slide{scroll-snap-align:start;min-height:100vh}}"

// margins writes the style that puts head, foot and numbers into the margins of
// printed pages (CSS Paged Media 3). The first page has its head in the text.
func (h *htmlWriter) margins(r Running) {
	if r == (Running{}) {
		return
	}
	box := func(name, content string) {
		h.tag("@" + name + "{content:" + content + "}")
	}
	h.tag("@page{font:9pt Charter,\"Bitstream Charter\",\"Sitka Text\",Cambria,\"Noto Serif\",serif;")
	box("top-left", cssString(r.Left))
	box("top-right", cssString(r.Right))
	box("bottom-left", cssString(r.Foot))
	box("bottom-right", `counter(page) " of " counter(pages)`)
	h.tag("}@page:first{@top-left{content:none}@top-right{content:none}}")
}

// cssString writes a string of CSS that no character can end: all but letters,
// digits and spaces stand by their numbers (CSS Syntax 3, 4.3.7).
func cssString(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r >= '0' && r <= '9' || r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r == ' ':
			b.WriteRune(r)
		case isControl(r):
			b.WriteString(`\fffd `)
		default:
			fmt.Fprintf(&b, `\%x `, r)
		}
	}
	b.WriteByte('"')
	return b.String()
}

// head writes what stands at the head of the pages, once.
func (h *htmlWriter) head(r Running) {
	if r.Left+r.Right == "" {
		return
	}
	h.tag("<header class=\"running\">\n")
	for _, s := range [...]string{r.Left, r.Right} {
		if s != "" {
			h.element("p", "", Plain(s))
		}
	}
	h.tag("</header>\n")
}

// foot writes what stands at the foot of the pages, once: not all browsers print
// into the margins.
func (h *htmlWriter) foot(r Running) {
	if r.Foot == "" {
		return
	}
	h.tag("<footer class=\"running\">\n")
	h.element("p", "", Plain(r.Foot))
	h.tag("</footer>\n")
}

// asked writes the line that an exercise begins with. Its number is a heading, so
// that one can go from exercise to exercise; the question is not, since it may be
// long.
func (h *htmlWriter) asked(e Exercise) {
	level := strconv.Itoa(min(max(h.base+1, 1), 6))
	h.tag(`<div class="asked"><h` + level + `><span class="said">Question </span>` + strconv.Itoa(e.Number) + `.</h` + level + ">\n")
	h.element("p", "", e.Text)
	if e.Marks != "" {
		h.element("p", "marks", Plain(e.Marks))
	}
	h.tag("</div>\n")
}

// choices writes a list whose letters are its own, so that they are heard too.
func (h *htmlWriter) choices(c Choices) {
	h.tag("<ol class=\"choices\" type=\"A\">\n")
	for _, x := range c.Items {
		if x.Right {
			h.tag(`<li class="key">`)
		} else {
			h.tag("<li>")
		}
		h.inline(x.Text)
		if x.Right {
			h.tag(" <strong>(" + rightSaid + ")</strong>")
		}
		if x.Note != nil {
			h.tag("\n")
			h.element("p", "note", x.Note)
		}
		h.tag("</li>\n")
	}
	h.tag("</ol>\n")
}

// space writes ruled lines: borders, which are printed where backgrounds are
// not.
func (h *htmlWriter) space(s Space) {
	h.tag("<div class=\"room\">\n<p class=\"ruled\">")
	if s.Label != nil {
		h.tag("<span>")
		h.inline(s.Label)
		h.tag("</span>")
	}
	h.tag(`<span class="said"> (` + s.saySpace() + ")</span></p>\n")
	for range s.Lines - 1 {
		h.tag("<div class=\"ruled\"></div>\n")
	}
	h.tag("</div>\n")
}

func (h *htmlWriter) fields(f Fields) {
	h.tag(`<p class="fields">`)
	for i, label := range f.Labels {
		if i > 0 {
			h.tag(" ")
		}
		h.tag(`<span class="field">`)
		h.text(label)
		h.tag(`<span class="said"> ` + blankSaid + `</span></span>`)
	}
	h.tag("</p>\n")
}

// slide opens a slide. What is said on it stands at its end and is folded until
// it is asked for: on a screen that a class sees it stays so, and it is printed
// where it is open.
func (h *htmlWriter) slide(s Slide) {
	h.section("slide", true)
	h.heading(h.base+1, s.Title)
	if len(s.Notes) == 0 {
		return
	}
	body := &htmlWriter{}
	body.tag(`<details class="notes"><summary>` + notesSaid + "</summary>\n")
	for _, note := range s.Notes {
		body.element("p", "", note)
	}
	body.tag("</details>\n")
	h.sections = append(h.sections, string(body.b))
}
