package pdf

import (
	"bytes"
	"compress/zlib"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode/utf16"
)

// finish writes the file. Package fpdf makes the contents of the pages and the
// fonts; the rest of what it makes (a table of objects, pages, a catalogue) is left
// out. In its place stand the pages with their structure, its tree, an outline that
// knows the height of each page, and a catalogue of these (ISO 32000-1).
func (w *writer) finish(out io.Writer) error {
	var made bytes.Buffer
	if err := w.file.Output(&made); err != nil {
		return err
	}
	body, where, err := objects(made.Bytes())
	if err != nil {
		return err
	}
	for i := range w.sheets {
		where[pageObject(i)] = place{}
	}
	// fpdf's root of the pages, what it says of the file, its catalogue.
	for _, number := range []int{1, len(where) - 2, len(where) - 1} {
		where[number] = place{}
	}
	copy(body, "%PDF-1.7")
	o := &objectWriter{out: out, where: where}
	o.write(body)
	w.catalogue(o)
	return o.finish()
}

// objects parts a file with a table of objects (7.5.4) into what stands before the
// table, and where each object is.
func objects(file []byte) (body []byte, where []place, err error) {
	wrong := errors.New("the file that the pages were written to does not end as it should")
	_, after, found := bytes.Cut(file[max(0, len(file)-64):], []byte("startxref\n"))
	if !found {
		return nil, nil, wrong
	}
	line, _, _ := bytes.Cut(after, []byte("\n"))
	at, err := strconv.Atoi(string(line))
	if err != nil || at < 8 || at > len(file) {
		return nil, nil, wrong
	}
	var n int
	table := file[at:]
	if _, err := fmt.Sscanf(string(table[:min(40, len(table))]), "xref\n0 %d\n", &n); err != nil || n < 5 {
		return nil, nil, wrong
	}
	table = table[len(fmt.Sprintf("xref\n0 %d\n", n)):]
	const entry = 20 // bytes
	if len(table) < entry*n {
		return nil, nil, wrong
	}
	where = make([]place, n)
	for i := 1; i < n; i++ {
		offset, err := strconv.ParseInt(string(table[entry*i:entry*i+10]), 10, 64)
		if err != nil {
			return nil, nil, wrong
		}
		where[i] = place{direct, offset, 0}
	}
	return file[:at], where, nil
}

// An objectWriter writes objects, most of them in compressed streams of many
// (7.5.7), and at the end a stream that says where they are (7.5.8).
type objectWriter struct {
	out    io.Writer
	n      int64   // bytes so far
	where  []place // of each object
	inside []inside
	body   []byte
	root   int
	info   int
	err    error
}

// A place is where an object is: nowhere, at an offset, or in a stream at an index.
type place struct {
	kind       byte
	at, within int64
}

const (
	direct   = 1
	streamed = 2
)

// An inside object is in the stream that is being filled.
type inside struct{ number, offset int }

// reserve returns numbers for n objects, the first of them.
func (o *objectWriter) reserve(n int) int {
	first := len(o.where)
	o.where = append(o.where, make([]place, n)...)
	return first
}

// perStream is how many objects a stream holds.
const perStream = 200

// object writes an object that is no stream.
func (o *objectWriter) object(number int, write func(b []byte) []byte) {
	o.inside = append(o.inside, inside{number, len(o.body)})
	o.body = write(o.body)
	o.body = append(o.body, '\n')
	if len(o.inside) == perStream {
		o.flush()
	}
}

// flush writes the stream that is being filled.
func (o *objectWriter) flush() {
	if len(o.inside) == 0 {
		return
	}
	number := o.reserve(1)
	var head []byte
	for i, x := range o.inside {
		head = fmt.Appendf(head, "%d %d ", x.number, x.offset)
		o.where[x.number] = place{streamed, int64(number), int64(i)}
	}
	o.stream(number, fmt.Sprintf("/Type/ObjStm/N %d/First %d", len(o.inside), len(head)), append(head, o.body...), true)
	o.inside, o.body = o.inside[:0], o.body[:0]
}

// stream writes a stream.
func (o *objectWriter) stream(number int, entries string, data []byte, compressed bool) {
	o.where[number] = place{direct, o.n, 0}
	if compressed {
		var b bytes.Buffer
		z := zlib.NewWriter(&b)
		_, _ = z.Write(data) // writing to memory cannot fail
		_ = z.Close()
		data = b.Bytes()
		entries += "/Filter/FlateDecode"
	}
	o.write(fmt.Appendf(nil, "%d 0 obj\n<<%s/Length %d>>\nstream\n", number, entries, len(data)))
	o.write(data)
	o.write([]byte("\nendstream\nendobj\n"))
}

func (o *objectWriter) write(b []byte) {
	if o.err == nil {
		_, o.err = o.out.Write(b)
		o.n += int64(len(b))
	}
}

// finish writes where the objects are, and the end of the file.
func (o *objectWriter) finish() error {
	o.flush()
	number := o.reserve(1)
	at := o.n
	o.where[number] = place{direct, at, 0}
	var data []byte
	for i, p := range o.where {
		if i == 0 {
			p.within = 0xffff // the head of the list of what is free
		}
		data = append(data, p.kind)
		for shift := 32; shift >= 0; shift -= 8 {
			data = append(data, byte(p.at>>shift))
		}
		data = append(data, byte(p.within>>8), byte(p.within))
	}
	o.stream(number, fmt.Sprintf("/Type/XRef/Size %d/W[1 5 2]/Root %d 0 R/Info %d 0 R", len(o.where), o.root, o.info), data, true)
	o.write(fmt.Appendf(nil, "startxref\n%d\n%%%%EOF\n", at))
	return o.err
}

// textString writes a text string (7.9.2.2).
func textString(s string) string {
	plain := true
	for i := range len(s) {
		plain = plain && s[i] >= ' ' && s[i] <= '~'
	}
	if plain {
		return "(" + strings.NewReplacer(`\`, `\\`, "(", `\(`, ")", `\)`).Replace(s) + ")"
	}
	b := []byte("<FEFF")
	for _, c := range utf16.Encode([]rune(s)) {
		b = fmt.Appendf(b, "%04X", c)
	}
	return string(append(b, '>'))
}

// number writes a number with two decimals at most.
func number(x float64) string {
	s := strconv.FormatFloat(x, 'f', 2, 64)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}
