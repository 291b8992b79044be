package pdf

import (
	"strings"

	"halves/balance"
	"halves/document"
)

// ledgerWidths are the widths of the entries of several ledgers that stand one
// under the other.
type ledgerWidths map[balance.Law]float64

// entryText is what a ledger says of one law: "O 4 = 4", "charge −1 ≠ +2".
func entryText(e balance.Entry) string {
	left, right := e.Left.String(), e.Right.String()
	if e.Law == balance.Charge {
		left, right = e.Left.Signed(), e.Right.Signed()
	}
	sign := " = "
	if !e.Closed() {
		sign = " ≠ "
	}
	return e.Law.String() + " " + strings.ReplaceAll(left+sign+right, "-", "−")
}

// entryStyle sets what is still to do in bold.
func entryStyle(e balance.Entry, st style) style {
	if !e.Closed() {
		st.face, st.colour = bold, ink
	}
	return st
}

// ledgerColumns measures the entries of a group of lines.
func ledgerColumns(all []document.Block, size float64) ledgerWidths {
	out := ledgerWidths{}
	for _, b := range all {
		for _, e := range b.(document.Equation).Ledger {
			var w word
			w.add(entryText(e), entryStyle(e, style{size: size}), 0)
			out[e.Law] = max(out[e.Law], w.width)
		}
	}
	return out
}

// ledger sets the entries of a ledger, each as wide as the widest of its law.
func (s *setter) ledger(l balance.Ledger, st style, at, room float64, columns ledgerWidths) ([]mark, float64) {
	gap := 1.5 * st.size
	var out []mark
	x, y := 0.0, 0.0
	for i, e := range l {
		var w word
		w.add(entryText(e), entryStyle(e, st), 0)
		if i+1 < len(l) {
			w.space = gap
		}
		for _, w := range fitted([]word{w}, room) {
			if x > 0 && x+w.width > room+slack {
				x, y = 0, y+1.25*st.size
			}
			out = draw(out, []word{w}, at+x, y+baseLine(st.size, 1.25))
			x += max(w.width, columns[e.Law]) + gap
		}
	}
	return out, y + 1.25*st.size
}
