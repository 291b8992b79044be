package document

// Joined puts documents one after the other into one: the first keeps its
// title, those of the others become headings above theirs. One document is
// returned as it is.
func Joined(docs ...*Document) *Document {
	if len(docs) == 1 {
		return docs[0]
	}
	out := &Document{}
	for i, d := range docs {
		if i == 0 {
			out.Title, out.Language = d.Title, d.Language
			out.add(d.Blocks...)
			continue
		}
		if d.Title != nil {
			out.add(Heading{Level: 1, Text: d.Title})
		}
		for _, b := range d.Blocks {
			if h, ok := b.(Heading); ok {
				h.Level++
				b = h
			}
			out.add(b)
		}
	}
	return out
}
