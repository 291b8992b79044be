package redox_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"halves/chem"
	"halves/redox"
)

func ExampleWork() {
	s, err := redox.Work("MnO4^- + H2C2O4 -> Mn^2+ + CO2, in acid", redox.Unstated, redox.Conventions{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, h := range s.Halves {
		fmt.Println(h.Role, h.Equation, "times", h.Multiplier)
	}
	fmt.Println(s.Equation)
	fmt.Println(*s.Electrons, "electrons")
	// Output:
	// oxidation H2C2O4 -> 2 CO2 + 2 H^+ + 2 e^- times 5
	// reduction MnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O times 2
	// 2 MnO4^- + 5 H2C2O4 + 6 H^+ -> 2 Mn^2+ + 10 CO2 + 8 H2O
	// 10 electrons
}

// Questions as a textbook or a class states them, with the answer.
var questions = []struct {
	source, question, want string
}{
	// OpenStax, Chemistry 2e, "Classifying Chemical Reactions" (m68710),
	// example fs-idm53644080.
	{"OpenStax", "Cr2O7^2- + Fe^2+ -> Cr^3+ + Fe^3+, in acidic solution", "Cr2O7^2- + 6 Fe^2+ + 14 H^+ -> 2 Cr^3+ + 6 Fe^3+ + 7 H2O"},
	// OpenStax, Chemistry 2e, "Review of Redox Chemistry" (m68821), example
	// fs-idm246102992.
	{"OpenStax", "MnO4^- + Cr(OH)3 -> MnO2 + CrO4^2-, in base", "MnO4^- + Cr(OH)3 + OH^- -> MnO2 + CrO4^2- + 2 H2O"},
	// The set pieces of every course, common practice; each answer follows by
	// counting atoms and charge.
	{"peroxide", "MnO4^- + H2O2 -> Mn^2+ + O2, in acid", "2 MnO4^- + 5 H2O2 + 6 H^+ -> 2 Mn^2+ + 5 O2 + 8 H2O"},
	{"ozone", "O3 + I^- -> O2 + I2, in acid", "O3 + 2 I^- + 2 H^+ -> O2 + I2 + H2O"},
	{"two states of chlorine", "ClO3^- + Cl^- -> ClO2 + Cl2, in acid", "2 ClO3^- + 2 Cl^- + 4 H^+ -> 2 ClO2 + Cl2 + 2 H2O"},
	{"disproportionation", "Cl2 -> Cl^- + ClO3^-, in hot base", "3 Cl2 + 6 OH^- -> 5 Cl^- + ClO3^- + 3 H2O"},
	{"water reduced in base", "Al + OH- -> Al(OH)4- + H2", "2 Al + 6 H2O + 2 OH^- -> 2 Al(OH)4^- + 3 H2"},
	{"ligand", "Au + CN^- + O2 -> Au(CN)2^-, in base", "4 Au + 8 CN^- + O2 + 2 H2O -> 4 Au(CN)2^- + 4 OH^-"},
	{"ligand passed on", "Ag(CN)2^- + Zn -> Ag + Zn(CN)4^2-, in base", "2 Ag(CN)2^- + Zn -> 2 Ag + Zn(CN)4^2-"},
	{"two jobs", "Cu^2+ + I^- -> CuI + I2", "2 Cu^2+ + 4 I^- -> 2 CuI + I2"},
	{"one species, two changes", "SCN^- + MnO4^- -> SO4^2- + HCN + Mn^2+, in acid", "5 SCN^- + 6 MnO4^- + 13 H^+ -> 5 SO4^2- + 5 HCN + 6 Mn^2+ + 4 H2O"},
	{"arsenic sulfide", "As2S3 + NO3^- -> H3AsO4 + SO4^2- + NO, in acid", "3 As2S3 + 28 NO3^- + 4 H2O + 10 H^+ -> 6 H3AsO4 + 9 SO4^2- + 28 NO"},
	{"chromium in base", "H2O2 + Cr(OH)4^- -> CrO4^2-, in base", "3 H2O2 + 2 Cr(OH)4^- + 2 OH^- -> 2 CrO4^2- + 8 H2O"},
	{"dilute nitric acid", "Cu + NO3^- -> Cu^2+ + NO, in acid", "3 Cu + 2 NO3^- + 8 H^+ -> 3 Cu^2+ + 2 NO + 4 H2O"},
	{"acid that oxidizes", "Cu + HNO3 -> Cu(NO3)2 + NO + H2O", "3 Cu + 8 HNO3 -> 3 Cu(NO3)2 + 2 NO + 4 H2O"},
	{"acid left out", "KMnO4 + FeSO4 -> MnSO4 + Fe2(SO4)3 + K2SO4, in acid", "2 KMnO4 + 10 FeSO4 + 8 H2SO4 -> 2 MnSO4 + 5 Fe2(SO4)3 + K2SO4 + 8 H2O"},
	{"acid left out, peroxide", "KMnO4 + H2O2 -> MnSO4 + O2 + K2SO4, in acid", "2 KMnO4 + 5 H2O2 + 3 H2SO4 -> 2 MnSO4 + 5 O2 + K2SO4 + 8 H2O"},
	{"base left out", "Cr(OH)3 + NaClO -> Na2CrO4 + NaCl, in base", "2 Cr(OH)3 + 3 NaClO + 4 NaOH -> 2 Na2CrO4 + 3 NaCl + 5 H2O"},
	{"two reductions tied", "Ag2S + O2 -> Ag + SO2", "Ag2S + O2 -> 2 Ag + SO2"},
	{"neutral, hydroxide forms", "MnO4^- + SO3^2- -> MnO2 + SO4^2-, in neutral solution", "2 MnO4^- + 3 SO3^2- + H2O -> 2 MnO2 + 3 SO4^2- + 2 OH^-"},
	{"two halves", "MnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O; Fe^3+ + e^- -> Fe^2+", "MnO4^- + 5 Fe^2+ + 8 H^+ -> Mn^2+ + 5 Fe^3+ + 4 H2O"},
	{"two halves, and", "Fe^3+ -> Fe^2+ and Sn^2+ -> Sn^4+", "2 Fe^3+ + Sn^2+ -> 2 Fe^2+ + Sn^4+"},
	{"hydronium typed", "Zn + H3O^+ -> Zn^2+ + H2 + H2O", "Zn + 2 H3O^+ -> Zn^2+ + H2 + 2 H2O"},
	{"superscripts lost", "SO42- + Zn -> SO2 + Zn2+, in acid", "SO4^2- + Zn + 4 H^+ -> SO2 + Zn^2+ + 2 H2O"},
	{"read by what balances", "O2- + H+ -> H2O2 + O2", "2 O2^- + 2 H^+ -> H2O2 + O2"},
	{"superoxide", "KO2 + H2O -> KOH + H2O2 + O2", "2 KO2 + 2 H2O -> 2 KOH + H2O2 + O2"},
	{"water on the wrong side", "Cu + HNO3 + H2O -> Cu(NO3)2 + NO", "3 Cu + 8 HNO3 -> 3 Cu(NO3)2 + 2 NO + 4 H2O"},
	{"complexes that differ in charge", "Fe^2+ + Fe(CN)6^3- -> Fe^3+ + Fe(CN)6^4-", "Fe^2+ + Fe(CN)6^3- -> Fe^3+ + Fe(CN)6^4-"},
}

func TestQuestions(t *testing.T) {
	for _, q := range questions {
		s, err := redox.Work(q.question, redox.Unstated, redox.Conventions{})
		if err != nil {
			t.Errorf("%s: Work(%s) = %v", q.source, q.question, err)
			continue
		}
		mustBalance(t, s)
		if got := s.Equation.String(); got != q.want {
			t.Errorf("%s: Work(%s) = %s, want %s", q.source, q.question, got, q.want)
		}
		if !s.Redox() {
			t.Errorf("%s: Work(%s) finds no change of state", q.source, q.question)
		}
	}
}

// What a note must say, by kind.
func TestNotes(t *testing.T) {
	for _, c := range []struct {
		question string
		kind     redox.NoteKind
		part     string
	}{
		{"SO42- + Zn -> SO2 + Zn2+, in acid", redox.NoteReading, "Read SO42- as SO4^2-."},
		{"MnO4^- + H2O2 -> Mn^2+ + O2, in acid", redox.NoteAssumption, "all the O2 comes from H2O2"},
		{"MnO4^- + H2O2 -> Mn^2+ + O2, in acid", redox.NoteAssumption, "2 H2O2 -> O2 + 2 H2O"},
		{"Zn + H+ -> Zn2+ + H2", redox.NoteMedium, "worked in acid"},
		{"HCl + NaOH -> NaCl + H2O", redox.NoteNotRedox, "not a redox reaction"},
		{"Fe2O3 + CO -> Fe + CO2", redox.NoteRoute, "followed by oxidation states"},
		{"Cu + HNO3 -> Cu(NO3)2 + NO + H2O", redox.NoteRoute, "HNO3 is a strong acid"},
		{"KMnO4 + FeSO4 -> MnSO4 + Fe2(SO4)3 + K2SO4, in acid", redox.NoteAcid, "H2SO4 was taken"},
		{"2 H2 + O2 -> 2 H2O", redox.NoteBalanced, "balanced as it stands"},
		{"MnO4^- + SO3^2- -> MnO2 + SO4^2-, in neutral solution", redox.NotePH, "its pH rises"},
		{"MnO4^- + Fe^2+ + SO4^2- -> Mn^2+ + Fe^3+ + SO4^2-, in acid", redox.NoteSpectators, "SO4^2- stands on both sides"},
		{"Cu + HNO3 + H2O -> Cu(NO3)2 + NO", redox.NoteMedium, "H2O was typed on the other side"},
		{"MnO4^- + Fe^2+ + OH^- -> Mn^2+ + Fe^3+, in acid", redox.NoteMedium, "OH^- was typed, but the medium is stated as acidic"},
		{"Zn + CuSO4.5H2O -> ZnSO4.7H2O + Cu", redox.NoteMedium, "water alone was missing"},
		{"KMnO4 + FeSO4 + H2SO4 -> Fe2(SO4)3 + MnSO4 + K2SO4 + H2O, in base", redox.NoteMedium, "H2SO4 stands in the equation, but"},
		{"KMnO4 + FeSO4 + H2SO4 -> Fe2(SO4)3 + MnSO4 + K2SO4 + H2O", redox.NoteDissolved, "KMnO4, FeSO4"},
		{"Cu + HNO3 -> Cu(NO3)2 + NO + H2O", redox.NoteSpectators, "of 8, 2 are reduced, and in the other 6 N stays +5"},
		{"PbO2 + HCl -> PbCl2 + Cl2 + H2O", redox.NoteSpectators, "HCl has two jobs: of 4, 2 are oxidized"},
		{"Cu^2+ + I^- -> CuI + I2", redox.NoteSpectators, "I^- has two jobs: of 4, 2 are oxidized"},
		{"Cu + H2SO4 -> CuSO4 + SO2 + H2O", redox.NoteRoute, "hot and concentrated"},
		{"Na + H2O -> NaOH + H2", redox.NoteRoute, "Water reacts and NaOH dissolves"},
		{"MnO2 + KOH + O2 -> K2MnO4 + H2O", redox.NoteRoute, "is a melt"},
		{"Ag2S + O2 -> Ag + SO2", redox.NoteTie, "ratio is fixed by the formulas"},
	} {
		s, err := redox.Work(c.question, redox.Unstated, redox.Conventions{})
		if err != nil {
			t.Errorf("Work(%s) = %v", c.question, err)
			continue
		}
		found := false
		for _, n := range s.Notes {
			found = found || n.Kind == c.kind && strings.Contains(n.Text, c.part)
		}
		if !found {
			t.Errorf("Work(%s) has no %s note with %q: %v", c.question, c.kind, c.part, s.Notes)
		}
	}
}

// Refusals, each with the kind that programs see and a word of the message.
var refusals = []struct {
	question string
	medium   redox.Medium
	kind     redox.ErrorKind
	part     string
}{
	{"MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+", redox.Unstated, redox.KindMediumNeeded, "medium"},
	{"KClO3 -> KCl", redox.None, redox.KindNoAnswer, "O stands on the left only"},
	{"Zn^2+ + OH^- -> ZnOH", redox.None, redox.KindNoAnswer, "charge"},
	{"CO + O2 + H2O -> H2", redox.None, redox.KindNoAnswer, "C stands on the left only"},
	{"Mn^2+ -> MnO4^-", redox.Acidic, redox.KindOnlyOxidation, "nothing is reduced"},
	{"MnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O", redox.Unstated, redox.KindOnlyReduction, "nothing is oxidized"},
	{"O2 -> H2O2", redox.Acidic, redox.KindOnlyReduction, "nothing is oxidized"},
	{"Fe^2+ + Sn^2+ -> Fe^3+ + Sn^4+", redox.Acidic, redox.KindOnlyOxidation, "nothing is reduced"},
	{"I2 -> I^- + IO^- + IO3^-", redox.Basic, redox.KindManyAnswers, "ratio"},
	{"FeC2O4 -> Fe + FeO + CO + CO2", redox.None, redox.KindManyAnswers, "ratio"},
	{"MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in acid, in base", redox.Unstated, redox.KindUnreadable, "two media"},
	{"MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in water", redox.Unstated, redox.KindUnreadable, "acidic, basic or neutral"},
	{"Zn + Cu^2+ -> Zn^2+ + Cu; Fe + Ag^+ -> Fe^2+ + Ag", redox.Unstated, redox.KindUnreadable, "not a half-reaction"},
	{"e- + Fe^3+ -> Fe^2+ + e-", redox.Unstated, redox.KindUnreadable, "both sides"},
	{"1000001 Fe + O2 -> FeO", redox.None, redox.KindTooLarge, "numbers up to"},
}

func TestRefusals(t *testing.T) {
	for _, c := range refusals {
		s, err := redox.Work(c.question, c.medium, redox.Conventions{})
		if err == nil {
			t.Errorf("Work(%s, %s) = %s, want an error of kind %s", c.question, c.medium, s.Equation, c.kind)
			continue
		}
		r := redox.NewReport(err)
		if r.Kind != c.kind || !strings.Contains(r.Message, c.part) {
			t.Errorf("Work(%s, %s) = %s: %s; want %s with %q", c.question, c.medium, r.Kind, r.Message, c.kind, c.part)
		}
		if (r.Kind == redox.KindOnlyOxidation || r.Kind == redox.KindOnlyReduction) && len(r.Halves) == 0 {
			t.Errorf("Work(%s) gives no worked half", c.question)
		}
		for _, h := range r.Halves {
			if bad := unbalanced(h.Equation.String()); bad != "" {
				t.Errorf("Work(%s): the half %s does not conserve %s", c.question, h.Equation, bad)
			}
		}
		for _, e := range r.Answers {
			if bad := unbalanced(e.String()); bad != "" {
				t.Errorf("Work(%s): %s does not conserve %s", c.question, e, bad)
			}
		}
	}
}

// The medium in the question's own words.
func TestMediumPhrases(t *testing.T) {
	for phrase, want := range map[string]redox.Medium{
		", in acid": redox.Acidic, ", in acidic solution": redox.Acidic, " (acidic)": redox.Acidic, " in acid": redox.Acidic, "; in an acidic medium.": redox.Acidic,
		", in base": redox.Basic, ", in hot alkaline solution": redox.Basic, ", basic": redox.Basic,
		", in neutral solution": redox.Neutral, ", nothing added": redox.None, ", IN ACID": redox.Acidic, "": redox.Unstated,
	} {
		q, err := redox.ReadQuestion("MnO4^- + SO3^2- -> MnO2 + SO4^2-" + phrase)
		if err != nil || q.Medium != want {
			t.Errorf("ReadQuestion(...%q) = %q, %v; want %q", phrase, q.Medium, err, want)
		}
	}
	// A place in the equation is still right when a phrase was cut.
	_, err := redox.ReadQuestion("MnO4^- + H2C2O4 -> Mn^2+ + co2, in acid")
	var syntax *chem.SyntaxError
	if !errors.As(err, &syntax) || syntax.Column() != 28 || !strings.HasSuffix(syntax.Text, "in acid") {
		t.Errorf("wrong case with a medium: %v", err)
	}
}

// The lines of the worked example that fixes the level of detail: the rules
// in their order, nothing left out.
func TestLinesOfTheWorkedExample(t *testing.T) {
	s, err := redox.Work("MnO4^- + H2C2O4 -> Mn^2+ + CO2", redox.Acidic, redox.Conventions{})
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, st := range s.Steps {
		done := ""
		if !st.Done {
			done = " (nothing to do)"
		}
		got = append(got, fmt.Sprintf("%s: %s%s", st.Rule, st.After, done))
	}
	want := strings.Split(strings.TrimSpace(`
split into halves: H2C2O4 -> CO2
balance the other atoms: H2C2O4 -> 2 CO2
balance oxygen with water: H2C2O4 -> 2 CO2 (nothing to do)
balance hydrogen with hydrogen ions: H2C2O4 -> 2 CO2 + 2 H^+
balance charge with electrons: H2C2O4 -> 2 CO2 + 2 H^+ + 2 e^-
split into halves: MnO4^- -> Mn^2+
balance the other atoms: MnO4^- -> Mn^2+ (nothing to do)
balance oxygen with water: MnO4^- -> Mn^2+ + 4 H2O
balance hydrogen with hydrogen ions: MnO4^- + 8 H^+ -> Mn^2+ + 4 H2O
balance charge with electrons: MnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O
equalize the electrons: 5 H2C2O4 -> 10 CO2 + 10 H^+ + 10 e^-
equalize the electrons: 2 MnO4^- + 16 H^+ + 10 e^- -> 2 Mn^2+ + 8 H2O
add the halves: 2 MnO4^- + 5 H2C2O4 + 16 H^+ + 10 e^- -> 2 Mn^2+ + 10 CO2 + 8 H2O + 10 H^+ + 10 e^-
cancel what stands on both sides: 2 MnO4^- + 5 H2C2O4 + 6 H^+ -> 2 Mn^2+ + 10 CO2 + 8 H2O
divide by the common factor: 2 MnO4^- + 5 H2C2O4 + 6 H^+ -> 2 Mn^2+ + 10 CO2 + 8 H2O (nothing to do)
check: 2 MnO4^- + 5 H2C2O4 + 6 H^+ -> 2 Mn^2+ + 10 CO2 + 8 H2O`), "\n")
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("lines:\n%s\nwant:\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

func TestJSONAgainstSchema(t *testing.T) {
	doc, err := jsonschema.UnmarshalJSON(strings.NewReader(string(redox.Schema)))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("solution.schema.json", doc); err != nil {
		t.Fatal(err)
	}
	schema, err := c.Compile("solution.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	validate := func(name string, v any) {
		t.Helper()
		data, err := json.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		x, err := jsonschema.UnmarshalJSON(strings.NewReader(string(data)))
		if err != nil {
			t.Fatal(err)
		}
		if err := schema.Validate(x); err != nil {
			t.Errorf("%s: %v\n%s", name, err, data)
		}
	}
	for _, q := range questions {
		s, err := redox.Work(q.question, redox.Unstated, redox.Conventions{})
		if err == nil {
			validate(q.question, s)
		}
	}
	for _, q := range refusals {
		if _, err := redox.Work(q.question, q.medium, redox.Conventions{}); err != nil {
			validate(q.question, redox.NewReport(err))
		}
	}
	// The schema must be able to say no.
	bad, _ := jsonschema.UnmarshalJSON(strings.NewReader(`{"error":{"kind":"surprise","message":"x","offset":null,"hint":""}}`))
	if schema.Validate(bad) == nil {
		t.Error("the schema accepts an unknown kind of error")
	}
}

// Hard cases, each with what must come out beside the equation. By the rules of
// method and common practice; each equation follows by counting.
func TestHardCases(t *testing.T) {
	for _, c := range []struct {
		question, want string
		electrons      int64
		oxidized       string
		reduced        string
	}{
		{"C6H5CHO -> C6H5COO^- + C6H5CH2OH, in base", "2 C6H5CHO + OH^- -> C6H5COO^- + C6H5CH2OH", 2, "C6H5CHO", "C6H5CHO"},
		{"Na2S2O3 + H2SO4 -> Na2SO4 + SO2 + S + H2O", "Na2S2O3 + H2SO4 -> Na2SO4 + SO2 + S + H2O", 2, "Na2S2O3", "Na2S2O3"},
		{"K2S + KMnO4 + H2SO4 -> S + MnSO4 + K2SO4 + H2O", "5 K2S + 2 KMnO4 + 8 H2SO4 -> 5 S + 2 MnSO4 + 6 K2SO4 + 8 H2O", 10, "K2S", "KMnO4"},
		{"KClO3 + HCl -> KCl + ClO2 + Cl2 + H2O", "2 KClO3 + 4 HCl -> 2 KCl + 2 ClO2 + Cl2 + 2 H2O", 2, "HCl", "KClO3"},
		{"KI + KIO4 + H2O -> I2 + KIO3 + KOH", "2 KI + KIO4 + H2O -> I2 + KIO3 + 2 KOH", 2, "KI", "KIO4"},
		{"Mn3O4 + H2O2 -> Mn^2+ + O2, in acid", "Mn3O4 + H2O2 + 6 H^+ -> 3 Mn^2+ + O2 + 4 H2O", 2, "H2O2", "Mn3O4"},
		{"CuFeS2 + Fe^3+ -> Cu^2+ + Fe^2+ + S, in acid", "CuFeS2 + 4 Fe^3+ -> Cu^2+ + 5 Fe^2+ + 2 S", 4, "CuFeS2", "Fe^3+"},
		{"H2O2 + O3 -> O2 + H2O", "H2O2 + O3 -> 2 O2 + H2O", 2, "H2O2", "O3"},
		{"MnO2 + H2SO4 -> MnSO4 + O2 + H2O", "2 MnO2 + 2 H2SO4 -> 2 MnSO4 + O2 + 2 H2O", 4, "MnO2", "MnO2"},
		{"Al + NaOH + H2O -> NaAlO2 + H2", "2 Al + 2 NaOH + 2 H2O -> 2 NaAlO2 + 3 H2", 6, "Al", "H2O"},
		{"CH4 + H2O -> CO + H2", "CH4 + H2O -> CO + 3 H2", 6, "CH4", "CH4 H2O"},
		{"Al + H3O^+ -> Al^3+ + H2", "2 Al + 6 H3O^+ -> 2 Al^3+ + 3 H2 + 6 H2O", 6, "Al", "H3O^+"},
		{"CuSCN + KIO3 + HCl -> CuSO4 + KCl + HCN + ICl + H2O", "4 CuSCN + 7 KIO3 + 14 HCl -> 4 CuSO4 + 7 KCl + 4 HCN + 7 ICl + 5 H2O", 28, "CuSCN", "KIO3"},
		{"CH3COOC2H5 + H2O -> CH3COOH + C2H5OH", "CH3COOC2H5 + H2O -> CH3COOH + C2H5OH", 0, "", ""},
		{"H3O^+ + OH^- -> H2O, in neutral solution", "H3O^+ + OH^- -> 2 H2O", 0, "", ""},
	} {
		s, err := redox.Work(c.question, redox.Unstated, redox.Conventions{})
		if err != nil {
			t.Errorf("Work(%s) = %v", c.question, err)
			continue
		}
		mustBalance(t, s)
		if s.Equation.String() != c.want || s.Electrons == nil || *s.Electrons != c.electrons {
			t.Errorf("Work(%s) = %s, electrons %v; want %s, %d", c.question, s.Equation, s.Electrons, c.want, c.electrons)
		}
		if got := strings.Join(sortedNames(s.Oxidized), " "); got != c.oxidized {
			t.Errorf("Work(%s) oxidized = %s, want %s", c.question, got, c.oxidized)
		}
		if got := strings.Join(sortedNames(s.Reduced), " "); got != c.reduced {
			t.Errorf("Work(%s) reduced = %s, want %s", c.question, got, c.reduced)
		}
	}
}
