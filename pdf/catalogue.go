package pdf

import (
	"fmt"
	"strings"
)

// pageObject is the number of the object that package fpdf makes of a page, from
// 0; its contents have the next number.
func pageObject(page int) int { return 3 + 2*page }

// resources is the number of the object with the fonts.
const resources = 2

// catalogue writes what the file is: its pages, their structure, the outline.
func (w *writer) catalogue(o *objectWriter) {
	pages := o.reserve(1)
	page := o.reserve(len(w.sheets))
	tree := o.reserve(1)
	parents := o.reserve(1)
	numbers := w.number(o)

	var kids []byte
	for i, s := range w.sheets {
		kids = fmt.Appendf(kids, "%d 0 R ", page+i)
		o.object(page+i, func(b []byte) []byte {
			return fmt.Appendf(b, "<</Type/Page/Parent %d 0 R/MediaBox[0 0 %s %s]/Resources %d 0 R/Contents %d 0 R/StructParents %d/Tabs/S>>",
				pages, number(s.width), number(s.height), resources, pageObject(i)+1, i)
		})
	}
	o.object(pages, func(b []byte) []byte {
		return fmt.Appendf(b, "<</Type/Pages/Count %d/Kids[%s]>>", len(w.sheets), kids)
	})
	w.structure(o, tree, page, numbers)
	o.object(tree, func(b []byte) []byte {
		return fmt.Appendf(b, "<</Type/StructTreeRoot/K %d 0 R/ParentTree %d 0 R/ParentTreeNextKey %d>>", numbers[w.root], parents, len(w.sheets))
	})
	o.object(parents, func(b []byte) []byte {
		b = append(b, "<</Nums["...)
		for i, elements := range w.tags.pages {
			b = fmt.Appendf(b, "%d[", i)
			for _, e := range elements {
				b = fmt.Appendf(b, "%d 0 R ", numbers[e])
			}
			b = append(b, ']')
		}
		return append(b, "]>>"...)
	})
	outlines := w.outlines(o, page)

	o.info = o.reserve(1)
	o.object(o.info, func(b []byte) []byte {
		return fmt.Appendf(b, "<</Title %s/Producer(Halves)>>", textString(w.Title))
	})
	metadata := o.reserve(1)
	o.stream(metadata, "/Type/Metadata/Subtype/XML", []byte(w.metadata()), false)
	o.root = o.reserve(1)
	o.object(o.root, func(b []byte) []byte {
		b = fmt.Appendf(b, "<</Type/Catalog/Pages %d 0 R/StructTreeRoot %d 0 R/MarkInfo<</Marked true>>/Lang %s/Metadata %d 0 R/ViewerPreferences<</DisplayDocTitle true>>",
			pages, tree, textString(w.language), metadata)
		if outlines > 0 {
			b = fmt.Appendf(b, "/Outlines %d 0 R/PageMode/UseOutlines", outlines)
		}
		return append(b, ">>"...)
	})
}

// number gives each element of the tree a number; those that are not in the tree
// have none.
func (w *writer) number(o *objectWriter) []int {
	w.tags.attach(w.root)
	out := make([]int, len(w.tags.all))
	n := 0
	for _, x := range w.tags.all {
		if x.drawn {
			n++
		}
	}
	next := o.reserve(n)
	for i, x := range w.tags.all {
		if x.drawn {
			out[i] = next
			next++
		}
	}
	return out
}

// structure writes the elements.
func (w *writer) structure(o *objectWriter, tree, page int, numbers []int) {
	for i := range w.tags.all {
		x := &w.tags.all[i]
		if !x.drawn {
			continue
		}
		o.object(numbers[i], func(b []byte) []byte {
			parent := tree
			if x.parent != artifact {
				parent = numbers[x.parent]
			}
			b = fmt.Appendf(b, "<</Type/StructElem/S/%s/P %d 0 R", tagNames[x.tag], parent)
			if x.alt != "" {
				b = append(b, "/Alt "...)
				b = append(b, textString(x.alt)...)
			}
			b = append(b, x.more...)
			on := int32(-1) // the page of the first thing that is drawn
			for _, k := range x.kids {
				if k.element == artifact && on < 0 {
					on = k.page
					b = fmt.Appendf(b, "/Pg %d 0 R", page+int(on))
				}
			}
			if len(x.kids) > 0 {
				b = append(b, "/K["...)
				for _, k := range x.kids {
					switch {
					case k.element != artifact:
						b = fmt.Appendf(b, "%d 0 R ", numbers[k.element])
					case k.page == on:
						b = fmt.Appendf(b, "%d ", k.number)
					default:
						b = fmt.Appendf(b, "<</Type/MCR/Pg %d 0 R/MCID %d>>", page+int(k.page), k.number)
					}
				}
				b = append(b, ']')
			}
			return append(b, ">>"...)
		})
	}
}

// outlines writes the outline and returns the number of its root, 0 for none.
func (w *writer) outlines(o *objectWriter, page int) int {
	entries := w.entries
	if w.documents == 1 {
		entries = entries[1:] // its headings are the outer entries
	}
	if len(entries) == 0 {
		return 0
	}
	tree := outline(entries)
	root := o.reserve(len(tree))
	for i, x := range tree {
		o.object(root+i, func(b []byte) []byte {
			if i == 0 {
				return fmt.Appendf(b, "<</Type/Outlines/First %d 0 R/Last %d 0 R/Count %d>>", root+x.first, root+x.last, x.count)
			}
			e := entries[i-1]
			b = fmt.Appendf(b, "<</Title %s/Parent %d 0 R/Dest[%d 0 R/XYZ 0 %s null]", textString(shortened(e.title)), root+x.parent, page+e.page, number(w.sheets[e.page].height-e.top))
			for _, link := range [...]struct {
				name string
				to   int
			}{{"Prev", x.before}, {"Next", x.after}, {"First", x.first}, {"Last", x.last}} {
				if link.to > 0 {
					b = fmt.Appendf(b, "/%s %d 0 R", link.name, root+link.to)
				}
			}
			if x.count > 0 {
				b = fmt.Appendf(b, "/Count %d", -x.count) // closed
			}
			return append(b, ">>"...)
		})
	}
	return root
}

// metadata is what the file says of itself in XMP.
func (w *writer) metadata() string {
	escape := strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;")
	title := escape.Replace(xmlText(w.Title))
	return `<?xpacket begin="` + "\ufeff" + `" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:pdf="http://ns.adobe.com/pdf/1.3/">
<dc:format>application/pdf</dc:format>
<dc:title><rdf:Alt><rdf:li xml:lang="x-default">` + title + `</rdf:li></rdf:Alt></dc:title>
<dc:language><rdf:Bag><rdf:li>` + escape.Replace(xmlText(w.language)) + `</rdf:li></rdf:Bag></dc:language>
<pdf:Producer>Halves</pdf:Producer>
</rdf:Description></rdf:RDF></x:xmpmeta>
<?xpacket end="w"?>
`
}

// xmlText leaves out what XML has no place for.
func xmlText(s string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' || r == 0xfffe || r == 0xffff {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(s, "\ufffd"))
}
