package reference

import (
	"strings"
	"sync"
	"testing"

	"halves/chem"
)

// Mistakes that an editor of a table could make are told with their row.
func TestBrokenTables(t *testing.T) {
	couple := strings.Join(coupleColumns, "\t") + "\n"
	goodCouple := "zn\tZn^2+(aq) + 2 e^- -> Zn(s)\tacidic\t-0.76\t2\tbard85\tmemory\tyes\tno\t\t\t\t\n"
	formation := strings.Join(formationColumns, "\t") + "\n"
	goodFormation := "CO2\tg\t-394.359\t-393.509\t213.74\tnbs1982\tsource-read\t\n"
	equilibrium := strings.Join(equilibriumColumns, "\t") + "\n"
	goodEquilibrium := "Ksp\tAgCl\tAgCl(s) -> Ag^+(aq) + Cl^-(aq)\t1.6e-10\t-9.80\topenstax-ksp\tsource-read\t\n"
	readCouples := func(text string) error {
		table, err := loadCouples(text)
		for i := range table.rows {
			if err == nil {
				_, err = readCouple(i, table.rows[i].line)
			}
		}
		return err
	}
	readFormations := func(text string) error {
		table, err := loadFormations(text)
		for i := range table.rows {
			if err == nil {
				_, err = readFormation(i, table.rows[i].line)
			}
		}
		return err
	}
	readEquilibria := func(text string) error { _, err := loadEquilibria(text); return err }
	readFacts := func(text string) error { _, err := loadTitrationFacts(text); return err }
	readSources := func(text string) error { _, err := loadSources(text); return err }
	readDoubts := func(text string) error {
		_, err := loadSuspicions(strings.Join(suspectColumns, "\t")+"\n"+text, strings.Join(differenceColumns, "\t")+"\n")
		return err
	}
	readDifferences := func(text string) error {
		_, err := loadSuspicions(strings.Join(suspectColumns, "\t")+"\n", strings.Join(differenceColumns, "\t")+"\n"+text)
		return err
	}
	for _, good := range []struct {
		read func(string) error
		text string
	}{{readCouples, couple + goodCouple}, {readFormations, formation + goodFormation}, {readEquilibria, equilibrium + goodEquilibrium}} {
		if err := good.read(good.text); err != nil {
			t.Errorf("a sound table gives %v", err)
		}
	}
	for _, c := range []struct {
		read             func(string) error
		text, want, also string
	}{
		{readCouples, "id\n" + goodCouple, "couples.tsv, row 1", "columns"},
		{readCouples, couple + goodCouple + "zn\n", "couples.tsv, row 3", "1 columns"},
		{readCouples, couple + strings.Replace(goodCouple, "-0.76", "-0,76", 1), "row 2", `column "E0_V"`},
		{readCouples, couple + strings.Replace(goodCouple, "\t2\t", "\ttwo\t", 1), "row 2", `column "n"`},
		{readCouples, couple + strings.Replace(goodCouple, "yes", "maybe", 1), "row 2", `column "preferred"`},
		{readCouples, couple + strings.Replace(goodCouple, "\tno\t", "\t\t", 1), "row 2", `column "textbook"`},
		{readCouples, couple + strings.Replace(goodCouple, "Zn(s)", "Zn", 1), "row 2", "needs its phase"},
		{readCouples, couple + strings.Replace(goodCouple, "Zn(s)", "Zn(x)", 1), "row 2", `column "half_reaction"`},
		{readCouples, couple + strings.Replace(goodCouple, "2 e^-", "e^-(aq)", 1), "row 2", "needs its phase"},
		{readCouples, couple + strings.Replace(goodCouple, "2 e^-", "x e^-", 1), "row 2", "whole number"},
		{readCouples, couple + strings.Replace(goodCouple, " -> ", " = ", 1), "row 2", "arrow"},
		{readFormations, formation + strings.Replace(goodFormation, "\tg\t", "\tgas\t", 1), "formation.tsv, row 2", `column "phase"`},
		{readFormations, formation + strings.Replace(goodFormation, "-394.359", "", 1), "row 2", `column "dGf_kJ_mol"`},
		{readFormations, formation + strings.Replace(goodFormation, "-393.509", "1e3", 1), "row 2", `column "dHf_kJ_mol"`},
		{readFormations, formation + strings.Replace(goodFormation, "213.74", "x", 1), "row 2", `column "S_J_molK"`},
		{readFormations, formation + strings.Replace(goodFormation, "CO2", "co2", 1), "row 2", `column "formula"`},
		{readEquilibria, equilibrium + strings.Replace(goodEquilibrium, "\tAgCl\t", "\tAgBr\t", 1), "equilibria.tsv, row 2", "not in the reaction"},
		{readEquilibria, equilibrium + strings.Replace(goodEquilibrium, "-9.80", "?", 1), "row 2", `column "log10K"`},
		{readEquilibria, equilibrium + strings.Replace(goodEquilibrium, "Cl^-(aq)", "Cl^-", 1), "row 2", "needs its phase"},
		{readFacts, strings.Join(titrationColumns, "\t") + "\nx\n", "titration_facts.tsv, row 2", "1 columns"},
		{readSources, strings.Join(sourceColumns, "\t") + "\na\tb\tc\td\na\tb\tc\td\n", "sources.tsv, row 3", "earlier row"},
		{readDoubts, "S1\ts\tcouples.tsv\tzn\t\t\told\twhy\t\nS2\ts\tcouples.tsv\tzn\t\t\told\twhy\t\n", "suspect.tsv, row 3", "earlier row"},
		{readDifferences, "zn\t1\t2\tboth\tWhy.\nzn\t1\t2\tboth\tWhy.\n", "differences.tsv, row 3", "earlier row"},
	} {
		err := c.read(c.text)
		if err == nil || !strings.Contains(err.Error(), c.want) || !strings.Contains(err.Error(), c.also) {
			t.Errorf("a broken table gives %v, want an error with %q and %q", err, c.want, c.also)
		}
	}
}

// Every row of the tables of doubt speaks of a row that there is, and has what
// it needs to be read.
func TestDoubtsSpeakOfRows(t *testing.T) {
	couples := map[string]*Couple{}
	for _, c := range Couples().All() {
		couples[c.ID] = c
	}
	n := 0
	for id := range suspicions() {
		if couples[id] == nil {
			t.Errorf("a doubt of the couple %q, which is not in the table", id)
		}
		n++
	}
	if n < 90 {
		t.Errorf("%d doubts, want 90 at least", n)
	}
	err := eachRow("differences.tsv", differencesTSV, differenceColumns, func(line string) error {
		f, err := fieldsOf(line, differenceColumns)
		if err == nil && couples[f[0]] != nil && couples[f[0]].Text != f[1] {
			t.Errorf("differences.tsv has %s V for %s, couples.tsv %s V", f[1], f[0], couples[f[0]].Text)
		}
		return err
	})
	if err != nil {
		t.Error(err)
	}
	tables := map[string]string{"couples.tsv": couplesTSV, "formation.tsv": formationTSV, "equilibria.tsv": equilibriaTSV, "elements.tsv": elementsTSV, "": ""}
	err = eachRow("suspect.tsv", suspectTSV, suspectColumns, func(line string) error {
		f, err := fieldsOf(line, suspectColumns)
		if err != nil {
			return err
		}
		if _, ok := tables[f[2]]; !ok {
			t.Errorf("%s: no table %q", f[0], f[2])
		}
		if _, ok := SourceOf(f[1]); !ok {
			t.Errorf("%s: no source %q", f[0], f[1])
		}
		if f[4] == "" || f[6] == "" || f[7] == "" {
			t.Errorf("%s lacks its item, its kind or its reason", f[0])
		}
		return nil
	})
	if err != nil {
		t.Error(err)
	}
}

// Several may ask at once.
func TestTablesTogether(t *testing.T) {
	couples, err := loadCouples(couplesTSV)
	if err != nil {
		t.Fatal(err)
	}
	formations, err := loadFormations(formationTSV)
	if err != nil {
		t.Fatal(err)
	}
	own, err := ReadCouples("mine.tsv", "half_reaction\tvolts\nMnO4^- + e^- -> MnO4^2-\t0.5\n")
	if err != nil {
		t.Fatal(err)
	}
	permanganate := read(t, "MnO4^-")
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			if len(couples.Holding(permanganate)) == 0 || formations.Find(permanganate) == nil || len(formations.Of(chem.O)) == 0 {
				t.Errorf("MnO4^- was not found")
			}
			if c := couples.With(own).Holding(permanganate)[0]; !c.Own {
				t.Errorf("the user's row does not stand first, but %v", c)
			}
			if Species().With([]*Entry{{Species: permanganate, Names: []string{"mine"}}}).Find(permanganate).Names[0] != "mine" {
				t.Errorf("the user's species does not win")
			}
		})
	}
	all.Wait()
}
