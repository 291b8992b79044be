package diagram_test

import (
	"strings"
	"testing"

	"halves/chem"
	"halves/energetics"
)

// The samples are plausible numbers for drawing, from memory; nothing checks
// them against a table, and no page shows them.

func species(t testing.TB, text string) *chem.Species {
	t.Helper()
	phase := chem.Aqueous
	for suffix, p := range map[string]chem.Phase{"(s)": chem.Solid, "(g)": chem.Gas, "(l)": chem.Liquid} {
		if rest, ok := strings.CutSuffix(text, suffix); ok {
			text, phase = rest, p
		}
	}
	r, err := chem.ReadSpecies(text, nil)
	if err != nil {
		t.Fatal(err)
	}
	return r[0].Species.WithPhase(phase)
}

func equation(t testing.TB, text string) chem.Equation {
	t.Helper()
	r, err := chem.ReadEquation(text, nil)
	if err != nil {
		t.Fatal(err)
	}
	return r.All[0].Equation
}

func ladderSample(t testing.TB) energetics.Ladder {
	l := energetics.Ladder{Title: "Couples of a titration", Oxidizing: 0, Reducing: 4}
	for _, r := range []struct {
		volts float64
		half  string
	}{
		{1.507, "MnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O"},
		{1.36, "Cl2 + 2 e^- -> 2 Cl^-"},
		{1.229, "O2 + 4 H^+ + 4 e^- -> 2 H2O"},
		{0.799, "Ag^+ + e^- -> Ag"},
		{0.771, "Fe^3+ + e^- -> Fe^2+"},
		{0.695, "O2 + 2 H^+ + 2 e^- -> H2O2"},
		{0.342, "Cu^2+ + 2 e^- -> Cu"},
		{0.151, "Sn^4+ + 2 e^- -> Sn^2+"},
		{0, "2 H^+ + 2 e^- -> H2"},
		{-0.762, "Zn^2+ + 2 e^- -> Zn"},
	} {
		l.Rungs = append(l.Rungs, energetics.Rung{Half: equation(t, r.half), Volts: r.volts, From: "A sample.", Source: "memory"})
	}
	return l
}

func stations(t testing.TB, all ...string) []energetics.Station {
	var out []energetics.Station
	for i := 0; i < len(all); i += 2 {
		n := int64(0)
		sign := int64(1)
		for _, c := range all[i+1] {
			if c == '-' {
				sign = -1
			} else if c >= '0' && c <= '9' {
				n = 10*n + int64(c-'0')
			}
		}
		out = append(out, energetics.Station{Species: species(t, all[i]), State: chem.Whole(sign * n)})
	}
	return out
}

func latimerSample(t testing.TB) energetics.Latimer {
	l := energetics.Latimer{Medium: "acidic", Stations: stations(t, "MnO4^-", "7", "HMnO4^-", "6", "MnO2(s)", "4", "Mn^3+", "3", "Mn^2+", "2", "Mn(s)", "0")}
	l.Element, _ = chem.ElementBySymbol("Mn")
	add := func(from, to int, volts float64) {
		n := l.Stations[from].State.Sub(l.Stations[to].State)
		l.Links = append(l.Links, energetics.Link{From: from, To: to, Volts: volts, Electrons: n, Source: "A sample."})
	}
	for i, v := range []float64{0.90, 2.09, 0.95, 1.54, -1.18} {
		add(i, i+1, v)
	}
	add(0, 4, 1.51)
	add(0, 2, 1.69)
	add(2, 4, 1.23)
	return l
}

// longLatimer has eight species, so that it takes two lines, with spans within
// a line and across.
func longLatimer(t testing.TB) energetics.Latimer {
	l := energetics.Latimer{Medium: "acidic", Stations: stations(t, "NO3^-", "5", "N2O4(g)", "4", "HNO2", "3", "NO(g)", "2", "N2O(g)", "1", "N2(g)", "0", "NH3OH^+", "-1", "NH4^+", "-3")}
	l.Element, _ = chem.ElementBySymbol("N")
	add := func(from, to int, volts float64) {
		n := l.Stations[from].State.Sub(l.Stations[to].State)
		l.Links = append(l.Links, energetics.Link{From: from, To: to, Volts: volts, Electrons: n, Source: "A sample."})
	}
	for i, v := range []float64{0.803, 1.07, 0.996, 1.59, 1.77, -1.87, 1.35} {
		add(i, i+1, v)
	}
	add(0, 2, 0.94)
	add(0, 3, 0.957)
	add(0, 5, 1.25)
	add(2, 4, 1.297)
	add(5, 7, 0.275)
	add(1, 3, 1.03)
	return l
}

func frostSample(t testing.TB) energetics.Frost {
	var f energetics.Frost
	f.Element, _ = chem.ElementBySymbol("Mn")
	curve := func(medium string, heights []float64, s ...string) energetics.Curve {
		c := energetics.Curve{Medium: medium}
		for i, st := range stations(t, s...) {
			c.Points = append(c.Points, energetics.Point{Station: st, Height: heights[i]})
		}
		return c
	}
	acid := curve("acidic", []float64{0, -2.36, -0.82, 0.13, 4.31, 5.21}, "Mn(s)", "0", "Mn^2+", "2", "Mn^3+", "3", "MnO2(s)", "4", "HMnO4^-", "6", "MnO4^-", "7")
	acid.Unstable = []energetics.Disproportionation{{Point: 2, Lower: 1, Upper: 3}, {Point: 4, Lower: 3, Upper: 5}}
	base := curve("basic", []float64{0, -3.12, -3.27, -3.12, -2.27, -1.94, -1.38}, "Mn(s)", "0", "Mn(OH)2(s)", "2", "Mn2O3(s)", "3", "MnO2(s)", "4", "MnO4^3-", "5", "MnO4^2-", "6", "MnO4^-", "7")
	base.Unstable = []energetics.Disproportionation{{Point: 4, Lower: 3, Upper: 5}}
	f.Curves = []energetics.Curve{acid, base}
	return f
}

func corners(v ...float64) []energetics.Vertex {
	var out []energetics.Vertex
	for i := 0; i < len(v); i += 2 {
		out = append(out, energetics.Vertex{PH: v[i], Volts: v[i+1]})
	}
	return out
}

func mapSample(t testing.TB) energetics.PHMap {
	m := energetics.PHMap{Concentration: 0.01, PH: [2]float64{0, 14}, Volts: [2]float64{-1.2, 1.6}}
	m.Element, _ = chem.ElementBySymbol("Fe")
	m.Oxygen = [2]energetics.Vertex{{PH: 0, Volts: 1.229}, {PH: 14, Volts: 0.401}}
	m.Hydrogen = [2]energetics.Vertex{{PH: 0, Volts: 0}, {PH: 14, Volts: -0.829}}
	m.Regions = []energetics.Region{
		{Species: species(t, "Fe^3+"), Corners: corners(0, 1.6, 0.43, 1.6, 0.43, 0.771, 0, 0.771)},
		{Species: species(t, "Fe^2+"), Corners: corners(0, 0.771, 0.43, 0.771, 5.288, -0.0915, 7.005, -0.499, 0, -0.499)},
		{Species: species(t, "Fe2O3(s)"), Corners: corners(0.43, 1.6, 14, 1.6, 14, -0.606, 5.288, -0.0915, 0.43, 0.771)},
		{Species: species(t, "Fe3O4(s)"), Corners: corners(5.288, -0.0915, 14, -0.606, 14, -0.912, 7.005, -0.499)},
		{Species: species(t, "Fe(s)"), Corners: corners(0, -0.499, 7.005, -0.499, 14, -0.912, 14, -1.2, 0, -1.2)},
	}
	return m
}
