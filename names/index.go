package names

import (
	"strings"
	"sync"

	"halves/chem"
	"halves/reference"
)

// An index finds the rows of the table of species by name. A key is a name
// after squash.
type index struct {
	neutral, anions, cations map[string]int
	stock                    map[string]int // oxoanions by Stock name: "manganate(vii)"
	acids                    map[string]int // oxoacids by Stock name: "nitric(v)acid"
	oxo                      map[oxoKey]int // oxoanions with one centre by its symbol and their charge, -1 for several
	all                      []indexed      // every name once, for suggestions
}

// An oxoKey is what a name such as manganate(1-) tells.
type oxoKey struct {
	symbol string
	charge int64
}

type indexed struct {
	key, name string
	ion       bool
}

var names = sync.OnceValue(buildIndex)

func buildIndex() *index {
	t := reference.Species()
	x := &index{neutral: make(map[string]int, 2*t.Len()), anions: make(map[string]int, 1024), cations: make(map[string]int, 512), stock: map[string]int{}, acids: map[string]int{}, oxo: map[oxoKey]int{}}
	x.all = make([]indexed, 0, 2*t.Len())
	enter := func(of map[string]int, row int, name string, ion bool) {
		name = strings.TrimSuffix(strings.TrimSuffix(name, " ion"), " cation")
		key := squash(strings.ToLower(name))
		if _, taken := of[key]; !taken {
			of[key] = row
			x.all = append(x.all, indexed{key, name, ion})
		}
	}
	type remarked struct {
		of   map[string]int
		row  int
		name string
		ion  bool
	}
	var later []remarked // a name without its remark yields to one that has none
	row := 0
	for formula, list := range t.Names {
		of, ion := x.neutral, false
		if strings.HasSuffix(formula, "-") {
			of, ion = x.anions, true
		} else if strings.HasSuffix(formula, "+") {
			of, ion = x.cations, true
		}
		for name := range strings.SplitSeq(list, "|") {
			if bare := withoutRemark(name); bare != name {
				later = append(later, remarked{of, row, bare, ion})
			} else {
				enter(of, row, name, ion)
			}
		}
		if ion {
			x.enterOxo(row, formula)
			x.enterStock(t, row, list)
		} else if strings.Contains(list, "ic acid") || strings.Contains(list, "ous acid") {
			x.enterAcid(t, row, list)
		}
		row++
	}
	for _, r := range later {
		enter(r.of, r.row, r.name, r.ion)
	}
	return x
}

// enterOxo enters an oxoanion such as MnO4^-, which is seen in its text.
func (x *index) enterOxo(row int, formula string) {
	atoms, charge, ok := strings.Cut(formula, "^")
	if !ok || !strings.HasSuffix(charge, "-") || len(charge) > 2 {
		return
	}
	symbol, count, ok := strings.Cut(atoms, "O")
	if _, known := chem.ElementBySymbol(symbol); !ok || !known || strings.Trim(count, "0123456789") != "" {
		return
	}
	k := oxoKey{symbol, -1}
	if len(charge) == 2 {
		k.charge = -int64(charge[0] - '0')
	}
	if _, taken := x.oxo[k]; taken {
		row = -1
	}
	x.oxo[k] = row
}

func (x *index) enterStock(t *reference.SpeciesTable, row int, list string) {
	if !strings.Contains(list, "ate") && !strings.Contains(list, "ite") {
		return
	}
	for name := range strings.SplitSeq(list, "|") {
		o, ok := oxoanionNamed(strings.TrimSuffix(name, " ion"))
		if !ok || o.hydrogens > 0 {
			continue
		}
		if state, ok := o.state(t.At(row)); ok {
			key := o.stock(state, "ate")
			key = squash(strings.ToLower(key))
			if _, taken := x.stock[key]; !taken {
				x.stock[key] = row
			}
		}
		return
	}
}

func (x *index) enterAcid(t *reference.SpeciesTable, row int, list string) {
	for name := range strings.SplitSeq(list, "|") {
		if a, ok := oxoacidNamed(name); ok {
			if state, ok := a.state(t.At(row)); ok {
				key := squash(strings.ToLower(a.stock(state, "ic") + " acid"))
				if _, taken := x.acids[key]; !taken {
					x.acids[key] = row
				}
			}
			return
		}
	}
}

// withoutRemark cuts a remark in brackets off the end of a name of the table:
// "sulfur (written per atom)".
func withoutRemark(name string) string {
	if i := strings.Index(name, " ("); i > 0 && strings.HasSuffix(name, ")") {
		return name[:i]
	}
	return name
}

// species returns the species of a row.
func species(row int) *chem.Species { return reference.Species().At(row).Species }

// squash takes out of a lower-case name what makes no difference: spaces,
// hyphens but for the sign of a charge (3-), and how sulf-, aluminium, caesium
// and tetroxide are spelled.
func squash(name string) string {
	if !strings.ContainsAny(name, " -") {
		return spelling(name)
	}
	b := make([]byte, 0, len(name))
	for i := range len(name) {
		if c := name[i]; c != ' ' && (c != '-' || i+1 < len(name) && name[i+1] == ')') {
			b = append(b, c)
		}
	}
	return spelling(string(b))
}

func spelling(key string) string {
	if strings.Contains(key, "ph") {
		key = strings.ReplaceAll(key, "sulph", "sulf")
	}
	if strings.Contains(key, "aluminum") {
		key = strings.ReplaceAll(key, "aluminum", "aluminium")
	}
	if strings.Contains(key, "cesium") {
		key = strings.ReplaceAll(key, "cesium", "caesium")
		key = strings.ReplaceAll(key, "caaesium", "caesium")
	}
	if strings.Contains(key, "aoxid") {
		key = strings.ReplaceAll(key, "aoxid", "oxid")
	}
	return key
}
