package document

// Joined puts documents one after the other into one: the first keeps its
// title, and its head and foot are those of all; the titles of the others become
// headings above theirs. One document is returned as it is.
func Joined(docs ...*Document) *Document {
	if len(docs) == 1 {
		return docs[0]
	}
	out := &Document{}
	for i, d := range docs {
		if i == 0 {
			out.Title, out.Language, out.Running = d.Title, d.Language, d.Running
			out.add(d.Blocks...)
			continue
		}
		if d.Title != nil {
			out.add(Heading{Level: 1, Text: d.Title})
		}
		out.add(deeper(d.Blocks)...)
	}
	return out
}
