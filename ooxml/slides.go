package ooxml

import (
	"strconv"

	"halves/document"
)

// A slide is what goes on one slide, so far as it has room there.
type slide struct {
	title  document.Inline
	blocks []document.Block
	notes  []document.Inline
}

// slidesOf parts a document into slides. In a deck each begins with a Slide. Any
// other document has one for each section and each question: a teacher who asks
// for slides of a worked question is better served by these than by a refusal,
// and each section of a working is about as much as a slide holds.
func slidesOf(d *document.Document) []slide {
	deck := d.IsDeck()
	var out []slide
	now := slide{title: d.Title}
	goesOn := false // it began by a break, and may stay empty
	begin := func(next slide) {
		if len(now.blocks) > 0 || !goesOn && len(now.title)+len(now.notes) > 0 {
			out = append(out, now)
		}
		now, goesOn = next, false
	}
	if deck {
		now = slide{} // the title names the file
	}
	for _, b := range d.Blocks {
		switch b := b.(type) {
		case document.Slide:
			begin(slide{title: b.Title, notes: b.Notes})
		case document.Break:
			if len(now.blocks) > 0 {
				begin(slide{title: now.title})
				goesOn = true
			}
		case document.Heading:
			if deck || b.Level > 1 {
				now.blocks = append(now.blocks, b)
			} else {
				begin(slide{title: b.Text})
			}
		case document.Exercise:
			if deck {
				now.blocks = append(now.blocks, b)
				break
			}
			title := "Question" + noBreak + strconv.Itoa(b.Number)
			if b.Marks != "" {
				title += " (" + whole(b.Marks) + ")"
			}
			begin(slide{title: document.Inline{{Prose: title}}, blocks: []document.Block{document.Paragraph{Text: b.Text}}})
		case document.Figure:
			if _, err := encodeEMF(b.Drawn.Picture); err == nil {
				now.blocks = append(now.blocks, b)
				break
			}
			now.blocks = append(now.blocks, document.Paragraph{Text: document.Inline{{Prose: b.Drawn.Description}}}, tableOf(b))
		default:
			now.blocks = append(now.blocks, b)
		}
	}
	if begin(slide{}); len(out) == 0 {
		out = append(out, slide{title: d.Title})
	}
	for i := range out {
		if plain(out[i].title) == "" { // a slide without a title cannot be found by its name
			out[i].title = document.Inline{{Prose: nameOf(d)}}
		}
		out[i].notes = append(out[i].notes[:len(out[i].notes):len(out[i].notes)], figureNotes(out[i].blocks)...)
	}
	return out
}

// figureNotes are the numbers of the pictures of a slide, which has no room for
// them.
func figureNotes(blocks []document.Block) []document.Inline {
	var out []document.Inline
	for _, b := range blocks {
		f, ok := b.(document.Figure)
		if !ok {
			continue
		}
		out = append(out, document.Inline{{Prose: f.Drawn.Description}})
		t := tableOf(f)
		for _, row := range t.Rows {
			var line document.Inline
			for k, c := range row {
				if k > 0 {
					line = append(line, document.Span{Prose: ", "})
				}
				line = append(line, c...)
			}
			out = append(out, line)
		}
	}
	return out
}
