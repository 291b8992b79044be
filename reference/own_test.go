package reference_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"halves/balance"
	"halves/chem"
	"halves/reference"
)

func TestReadCouples(t *testing.T) {
	for _, c := range []struct {
		name, text string
		half       string // of the last row, with phases
		volts      float64
		medium     string
	}{
		{"tabs", "half_reaction\tvolts\nCu^2+ + 2 e^- -> Cu\t0.34\n", "Cu^2+(aq) + 2 e^- -> Cu(s)", 0.34, "any"},
		{"commas, columns in another order, capitals", "Volts,Half reaction\r\n0.34,Cu^2+ + 2 e^- -> Cu\r\n", "Cu^2+(aq) + 2 e^- -> Cu(s)", 0.34, "any"},
		{"semicolons and decimal commas", "half_reaction;volts\nCu^2+ + 2 e^- -> Cu;0,34\n", "Cu^2+(aq) + 2 e^- -> Cu(s)", 0.34, "any"},
		{"a true minus sign", "half_reaction\tvolts\nZn^2+ + 2 e^- -> Zn\t−0.76\n", "Zn^2+(aq) + 2 e^- -> Zn(s)", -0.76, "any"},
		{"a quoted field", "half_reaction,volts,note\n\"Cu^2+ + 2 e^- -> Cu\",0.34,\"1 mol/L, \"\"my\"\" cell\"\n", "Cu^2+(aq) + 2 e^- -> Cu(s)", 0.34, "any"},
		{"charges without carets", "half_reaction\tvolts\nMnO4- + 8H+ + 5e- -> Mn2+ + 4H2O\t1.51\n", "MnO4^-(aq) + 8 H^+(aq) + 5 e^- -> Mn^2+(aq) + 4 H2O(l)", 1.51, "acidic"},
		{"halves of a molecule", "half_reaction\tvolts\n1/2 O2(g) + H2O + 2 e^- -> 2 OH^-\t0.40\n", "O2(g) + 2 H2O(l) + 4 e^- -> 4 OH^-(aq)", 0.40, "basic"},
		{"phases given", "half_reaction\tvolts\nBr2(aq) + 2 e^- -> 2 Br^-\t1.09\n", "Br2(aq) + 2 e^- -> 2 Br^-(aq)", 1.09, "any"},
		{"usual phases", "half_reaction\tvolts\nBr2 + 2 e^- -> 2 Br^-\t1.07\n", "Br2(l) + 2 e^- -> 2 Br^-(aq)", 1.07, "any"},
		{"a medium said", "half_reaction\tvolts\tmedium\nAg(CN)2^- + e^- -> Ag + 2 CN^-\t-0.31\tbasic\n", "Ag(CN)2^-(aq) + e^- -> Ag(s) + 2 CN^-(aq)", -0.31, "basic"},
		{"empty lines, remarks, fields left out", "# our own cells\n\nhalf_reaction\tvolts\tsource\n\nCu^2+ + 2 e^- -> Cu\t0.34\n\t\t\n", "Cu^2+(aq) + 2 e^- -> Cu(s)", 0.34, "any"},
		{"a mark of byte order", "\ufeffhalf_reaction\tvolts\nCu^2+ + 2 e^- -> Cu\t0.34\n", "Cu^2+(aq) + 2 e^- -> Cu(s)", 0.34, "any"},
	} {
		all, err := reference.ReadCouples("mine.tsv", c.text)
		if err != nil || len(all) != 1 {
			t.Errorf("%s: %v, %v", c.name, all, err)
			continue
		}
		got := all[0]
		text := fmt.Sprint(chem.PlainText(got.Half.Runs(chem.Style{Phases: true})))
		if text != c.half || got.Volts != c.volts || got.Medium != c.medium || !got.Own || !got.Preferred || got.Confidence != "own" {
			t.Errorf("%s: %s, %+v, want %s", c.name, text, got, c.half)
		}
	}
	if all, err := reference.ReadCouples("mine.tsv", "half_reaction\tvolts\n"); err != nil || len(all) != 0 {
		t.Errorf("a table without rows: %v, %v", all, err)
	}
}

// Each mistake is told with its row and column, and with a way out.
func TestMistakesInOwnTables(t *testing.T) {
	couples := func(text string) error { _, err := reference.ReadCouples("mine.tsv", text); return err }
	energies := func(text string) error { _, err := reference.ReadFormations("mine.tsv", text); return err }
	species := func(text string) error { _, err := reference.ReadSpeciesTable("mine.tsv", text); return err }
	for _, c := range []struct {
		read   func(string) error
		text   string
		row    int
		column string
		want   string
	}{
		{couples, "", 0, "", "empty"},
		{couples, "# nothing\n", 0, "", "empty"},
		{couples, "half_reaction\n", 1, "", `"volts" is missing`},
		{couples, "half_reaction\tvolts\tvolts\n", 1, "", "second column"},
		{couples, "half_reaction\tvolts\tE0\n", 1, "", `"E0" is no column`},
		{couples, "half_reaction\tvolts\nCu^2+ + 2 e^- -> Cu\t0.34\t9\n", 2, "", "header names 2 columns"},
		{couples, "half_reaction\tvolts\nCu^2+ + 2 e^- -> Cu\n", 2, "volts", "is empty"},
		{couples, "half_reaction\tvolts\n\tvolts\n", 2, "half_reaction", "is empty"},
		{couples, "half_reaction\tvolts\nCu^2+ + 2 e^- -> Cu\tabc\n", 2, "volts", "not a decimal number"},
		{couples, "half_reaction\tvolts\nCu^2+ + 2 e^- -> Cu\tNaN\n", 2, "volts", "not a decimal number"},
		{couples, "half_reaction\tvolts\nCu^2+ + 2 e^- -> Cu\t0x1\n", 2, "volts", "not a decimal number"},
		{couples, "half_reaction\tvolts\nCu^2+ + 2 e^- -> Cu\t340\n", 2, "volts", "beyond 6 V"},
		{couples, "half_reaction\tvolts\nCu -> Cu^2+ + 2 e^-\t-0.34\n", 2, "half_reaction", "turn it round"},
		{couples, "half_reaction\tvolts\nCu^2+ + 3 e^- -> Cu + e^-\t0.34\n", 2, "half_reaction", "both sides"},
		{couples, "half_reaction\tvolts\nAg^+ + Cl^- -> AgCl\t0.34\n", 2, "half_reaction", "no electrons"},
		{couples, "half_reaction\tvolts\n2 e^- -> 2 e^-\t0.34\n", 2, "half_reaction", "both sides"},
		{couples, "half_reaction\tvolts\nCu^2+ + e^- -> Cu\t0.34\n", 2, "half_reaction", "charge +1 on the left, +0 on the right"},
		{couples, "half_reaction\tvolts\nMnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 3 H2O\t1.5\n", 2, "half_reaction", "8 H on the left, 6 on the right"},
		{couples, "half_reaction\tvolts\nCu^2+ + 2 e^- Cu\t0.34\n", 2, "half_reaction", "cannot be read"},
		{couples, "half_reaction\tvolts\nXq + e^- -> Xq^-\t0.34\n", 2, "half_reaction", `no element has the symbol "Xq"`},
		{couples, "half_reaction\tvolts\nXeBr9 + e^- -> XeBr9^-\t0.34\n", 2, "half_reaction", "phase of XeBr9"},
		{couples, "half_reaction\tvolts\tmedium\nCu^2+ + 2 e^- -> Cu\t0.34\tneutral\n", 2, "medium", "acidic, basic or any"},
		{couples, "half_reaction\tvolts\nCu^2+ + 2 e^- -> Cu\t0.34\n# again\n2 Cu^2+ + 4 e^- = 2 Cu\t0.35\n", 4, "half_reaction", "row 2 too"},
		{couples, "half_reaction,volts,note\nCu^2+ + 2 e^- -> Cu,0.34,\"open\n", 2, "", "quotation marks"},
		{couples, "half_reaction,volts,note\nCu^2+ + 2 e^- -> Cu,0.34,an \"old\" cell\n", 2, "", "quotation marks"},
		{couples, "half_reaction\tvolts\n" + strings.Repeat("x", reference.MaxOwnLine) + "\n", 2, "", "longer than 4096 bytes"},
		{couples, "half_reaction\tvolts\n" + strings.Repeat("\n", reference.MaxOwnRows), 10_001, "", "10000 lines"},
		{couples, "half_reaction\tvolts\nCu\xff\t0.34\n", 2, "", "UTF-8"},
		{couples, "half_reaction\tvolts\n1/999983 Cu^2+ + 2/999979 e^- -> 1/999961 Cu\t0.34\n", 2, "half_reaction", "too large"},
		{energies, "species\tG_kJ_mol\nCO2(g)\tx\n", 2, "g_kj_mol", "not a decimal number"},
		{energies, "species\tG_kJ_mol\nCO2(g)\t-394359\n", 2, "g_kj_mol", "the unit is kJ/mol"},
		{energies, "species\tG_kJ_mol\nCO2(g)\t-394\nCO2\t-394\n", 3, "species", "row 2 too"}, // gas is usual
		{energies, "species\tG_kJ_mol\te\ne^-\t0\n", 1, "", "no column"},
		{energies, "species\tG_kJ_mol\ne^-\t0\n", 2, "species", "electron"},
		{energies, "species\tG_kJ_mol\nXeBr9\t0\n", 2, "species", "no phase"},
		{energies, "species\tG_kJ_mol\nco2\t0\n", 2, "species", "cannot be read"},
		{energies, "species\tG_kJ_mol\tS_J_mol_K\nCO2\t0\tx\n", 2, "s_j_mol_k", "not a decimal number"},
		{species, "formula\nNa^+\n", 1, "", `"names" is missing`},
		{species, "formula\tnames\nNa^+\tsodium ion\nNa^+\tsodium\n", 3, "formula", "row 2 too"},
		{species, "formula\tnames\nNa^+\tsodium ion\nK^+\tSodium Ion\n", 3, "names", "row 2 too"},
		{species, "formula\tnames\ne^-\telectron\n", 2, "formula", "electron"},
		{species, "formula\tnames\tother_formulas\nNa^+\tsodium ion\tK^+\n", 2, "other_formulas", "other atoms"},
		{species, "formula\tnames\nXeBr9\tno such thing\n", 2, "phase", "s, l, g or aq"},
		{species, "formula\tnames\tphase\nNa\tsodium\tx\n", 2, "phase", "not s, l, g or aq"},
		{species, "formula\tnames\tsoluble_in_water\nNaCl\tsalt\tmaybe\n", 2, "soluble_in_water", "yes, no or slight"},
		{species, "formula\tnames\tions\nNaCl\tsalt\tNa^+ + 2 Cl^-\n", 2, "ions", "do not add up"},
		{species, "formula\tnames\tions\nNaCl\tsalt\tNa + Cl\n", 2, "ions", "no charge"},
		{species, "formula\tnames\tions\nNaCl\tsalt\t0 Na^+ + Cl^-\n", 2, "ions", "number of ions"},
		{species, "formula\tnames\tions\nNa^+\tsodium ion\tNa^+\n", 2, "ions", "an ion itself"},
		{species, "formula\tnames\tions\nNaXeBr9\tsalt\tNa^+ + XeBr9^-\n", 2, "phase", "is empty"},
		{species, "formula\tnames\tphase\tions\nNaXeBr9\tsalt\ts\tNa^+ + XeBr9^-\n", 2, "ions", "no table has"},
		{species, "formula\tnames\toxidation_states\nNa^+\tsodium ion\tNa:1\n", 2, "oxidation_states", "+3, -1/3 or +3*2"},
		{species, "formula\tnames\toxidation_states\nNa^+\tsodium ion\tNa:+2\n", 2, "oxidation_states", "add up to +2"},
		{species, "formula\tnames\toxidation_states\nNaCl\tsalt\tNa:+1\n", 2, "oxidation_states", "each element"},
		{species, "formula\tnames\toxidation_states\nNaCl\tsalt\tNa:+1;Cl:-1;O:-2\n", 2, "oxidation_states", "does not hold"},
		{species, "formula\tnames\toxidation_states\nFe3O4\tmagnetite\tFe:+2*1,+3*1;O:-2\n", 2, "oxidation_states", "as many atoms"},
		{species, "formula\tnames\toxidation_states\nFe3O4\tmagnetite\tFe:+2,+3*2;O:-2\n", 2, "oxidation_states", "how many atoms"},
		{species, "formula\tnames\toxidation_states\nFe3O4\tmagnetite\tFe:+9223372036854775807/9223372036854775806;O:-2\n", 2, "oxidation_states", "is not a state"},
		{species, "formula\tnames\toxidation_states\nFe3O4\tmagnetite\tFe:-9223372036854775808;O:-2\n", 2, "oxidation_states", "is not a state"},
		{species, "formula\tnames\tphase\toxidation_states\nC1000000O\tchain\ts\tC:+999983/999979*1,+999961/999959*1,+999953/999931*1,+999907/999917*1,0*999996;O:-2\n", 2, "oxidation_states", "too large"},
	} {
		err := c.read(c.text)
		var table *reference.TableError
		if !errors.As(err, &table) {
			t.Errorf("%.80q gives %v, want a TableError", c.text, err)
			continue
		}
		if table.Table != "mine.tsv" || table.Row != c.row || table.Column != c.column || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%.80q gives row %d, column %q: %v\nwant row %d, column %q, %q", c.text, table.Row, table.Column, err, c.row, c.column, c.want)
		}
		if len(err.Error()) > 400 {
			t.Errorf("%.80q gives a message of %d bytes", c.text, len(err.Error()))
		}
	}
}

func TestReadSpeciesTable(t *testing.T) {
	own, err := reference.ReadSpeciesTable("mine.csv", `formula,names,other_formulas,phase,soluble_in_water,ions,colour,oxidation_states,note
X^-,,,,,,,,
`)
	if own != nil || err == nil {
		t.Errorf("X is read: %v, %v", own, err)
	}
	own, err = reference.ReadSpeciesTable("mine.csv", `formula,names,other_formulas,phase,soluble_in_water,ions,colour,oxidation_states,note
HSnO3^-,hydrogenstannate,,,yes,,,,not in the table of the program
NaHSnO3,sodium hydrogenstannate,HSnO3Na,s,yes,Na^+ + HSnO3^-,white,,
KMnO4,potash of violets|potassium permanganate,,,yes,K^+ + MnO4^-,violet,K:+1;Mn:+7;O:-2,
S4O6^2-,tetrathionate,,,,,,"S:0*2,+5*2;O:-2",
`)
	if err != nil {
		t.Fatal(err)
	}
	base := reference.Species()
	table := base.With(own)
	if got, want := table.Len(), base.Len()+2; got != want {
		t.Errorf("%d rows, want %d", got, want)
	}
	for i, e := range table.All() {
		if e.Row != i || e.Own != (i < 4) || table.At(i) != e {
			t.Errorf("row %d is %+v", i, e)
		}
		if got := table.Find(e.Species); got != e {
			t.Errorf("Find(%s) = %v", e.Species, got)
		}
		if n, ok := table.Rank(e.Species); n != i || !ok {
			t.Errorf("Rank(%s) = %d, %v, want %d", e.Species, n, ok, i)
		}
	}
	i := 0
	for formula, names := range table.Names {
		if e := table.At(i); formula != e.Species.String() || names != strings.Join(e.Names, "|") {
			t.Errorf("row %d of Names is %s, %s", i, formula, names)
		}
		i++
	}
	if e := table.Find(species(t, "KMnO4")); !e.Own || e.Names[0] != "potash of violets" || e.Phase != chem.Solid {
		t.Errorf("Find(KMnO4) = %+v, want the user's row", e)
	}
	if e := table.Find(species(t, "HSnO3Na")); e == nil || len(e.Ions) != 2 || e.States != nil {
		t.Errorf("Find(HSnO3Na) = %+v", e)
	}
	if e := table.Find(species(t, "S4O6^2-")); len(e.States[0].Sites) != 2 {
		t.Errorf("Find(S4O6^2-) = %+v", e)
	}
	if same := table.Isomers(species(t, "KMnO4").Composition(), 0); len(same) != 1 || !same[0].Own {
		t.Errorf("Isomers of KMnO4: %v", same)
	}
	if e := base.Find(species(t, "KMnO4")); e.Own || base.Find(species(t, "HSnO3^-")) != nil {
		t.Errorf("With changed the table of the program")
	}
	more, err := reference.ReadSpeciesTable("more.csv", "formula,names\nKMnO4,permanganate of potash\n")
	if err != nil {
		t.Fatal(err)
	}
	// States that the user leaves out are those of the program.
	if len(more[0].States) != 3 {
		t.Errorf("states of KMnO4 are %v", more[0].States)
	}
	again := table.With(more)
	if e := again.Find(species(t, "KMnO4")); e.Names[0] != "permanganate of potash" || again.Len() != table.Len() {
		t.Errorf("of two tables of the user, the last does not win: %+v", e)
	}
	fourth, err := reference.ReadSpeciesTable("fourth.csv", "formula,names\nNa^+,sodium ion\n")
	if err != nil {
		t.Fatal(err)
	}
	again = again.With(fourth)
	for i, e := range again.All() {
		if e.Row != i || again.Find(e.Species) != e || e.Own != (i < 5) {
			t.Errorf("row %d of the fourth table is %+v", i, e)
		}
	}
}

// What is read balances, whatever the text, and no text makes a reader panic.
func FuzzReadCouples(f *testing.F) {
	f.Add("half_reaction\tvolts\nCu^2+ + 2 e^- -> Cu\t0.34\n")
	f.Add("half_reaction,volts,medium,source,slow,note\n\"1/2 O2 + 2H+ + 2e- = H2O\",1.23,acidic,mine,,x\n")
	f.Add("half_reaction;volts\nMnO4- + 8H+ + 5e- -> Mn2+ + 4H2O;1,51\n# x\n")
	f.Fuzz(func(t *testing.T, text string) {
		all, err := reference.ReadCouples("fuzz", text)
		checkTableError(t, err)
		for _, c := range all {
			ledger, err := balance.NewLedger(c.Half)
			if err != nil || !ledger.Closed() || c.Electrons < 1 || math.IsNaN(c.Volts) || math.Abs(c.Volts) > 6 {
				t.Errorf("%q is read as %+v: %v", text, c, err)
			}
		}
		table := reference.Couples().With(all)
		for _, c := range all {
			if !table.Holding(c.Half.Left[0].Species)[0].Own {
				t.Errorf("%q: the user's row does not stand first", text)
			}
		}
	})
}

func FuzzReadFormations(f *testing.F) {
	f.Add("species\tG_kJ_mol\nCO2(g)\t-394.4\n")
	f.Add("species,G_kJ_mol,H_kJ_mol,S_J_mol_K,source,note\nFe^2+,-90.5,1,2,\"a, b\",c\n")
	f.Fuzz(func(t *testing.T, text string) {
		all, err := reference.ReadFormations("fuzz", text)
		checkTableError(t, err)
		table := reference.Formations().With(all)
		for _, x := range all {
			if got := table.Find(x.Species); got == nil || !got.Own || got.G != x.G || x.Species.Phase() == chem.NoPhase {
				t.Errorf("%q: Find(%s) = %+v", text, x.Species, got)
			}
		}
	})
}

func FuzzReadSpeciesTable(f *testing.F) {
	f.Add("formula\tnames\nNa^+\tsodium ion\n")
	f.Add("formula,names,other_formulas,phase,soluble_in_water,ions,colour,oxidation_states,source,note\nNa2SO4.10H2O,salt|cake,,s,yes,2 Na^+ + SO4^2-,white,\"Na:+1;S:+6;O:-2;H:+1\",,\n")
	f.Fuzz(func(t *testing.T, text string) {
		all, err := reference.ReadSpeciesTable("fuzz", text)
		checkTableError(t, err)
		if len(all) == 0 {
			return
		}
		table := reference.Species().With(all)
		for _, e := range all {
			if got := table.Find(e.Species); got == nil || !got.Own || got.Row != e.Row {
				t.Errorf("%q: Find(%s) = %+v", text, e.Species, got)
			}
		}
	})
}

func checkTableError(t *testing.T, err error) {
	t.Helper()
	var table *reference.TableError
	if err != nil && (!errors.As(err, &table) || table.Table != "fuzz" || table.Msg == "") {
		t.Errorf("%v is no TableError", err)
	}
}
