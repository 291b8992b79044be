package course

import (
	"time"

	"halves/redox"
)

// A DemoCourse is what a first start shows: enough to look at, to print and to show
// to a class. The college is invented.
type DemoCourse struct {
	Settings  Settings
	Questions []Question // not kept yet: without IDs
	Wishes    []string   // of the sets, as a file of a wish has them
}

// Demo returns the demo course. Its questions are dated a minute apart, the first
// in the list last, so that a list of the newest first has their order.
func Demo(now time.Time) DemoCourse {
	d := DemoCourse{
		Settings: Settings{Course: "Tarn Hollow College, General Chemistry II", Section: "B"},
		Questions: []Question{
			{Text: "MnO4^- + H2C2O4 -> Mn^2+ + CO2", Medium: redox.Acidic,
				Note: "A coefficient before the carbon first, then five against two electrons. Slow to begin with: the manganese that forms speeds it up."},
			{Text: "H2O2 + Cr(OH)4^- -> CrO4^2-", Medium: redox.Basic,
				Note: "Base, and a product that is not written: the peroxide becomes water or hydroxide. Ask the class what the green solution turns into."},
			{Text: "Cl2 -> Cl^- + ClO3^-", Medium: redox.Basic,
				Note: "Disproportionation in hot base: write chlorine twice, once in each half. A common factor is left at the end."},
			{Text: "Cu + HNO3 -> Cu(NO3)2 + NO + H2O", Medium: redox.None,
				Note: "A molecular equation with dilute acid: nitrate is oxidizing agent and spectator at once."},
			{Text: "As2S3 + NO3^- -> H3AsO4 + SO4^2- + NO", Medium: redox.Acidic,
				Note: "Two elements oxidized at once, 28 electrons from one formula unit. For the end of the week."},
		},
		Wishes: []string{
			`title: "Week 3: the first half-reactions"
questions: 6
from: library
media: [acidic, neutral]
want: [water, multiply]
avoid: [complex, comproportionation, average-state]
difficulty: 1-3.5
seed: 2
`,
			`title: "Common exam: redox equations"
questions: 8
versions: 4
media: [acidic, basic]
want: [water-twice, base]
avoid: [complex]
difficulty: 2-6
rows: 5
columns: 6
seed: 5
`,
			`title: "Quiz: electrons and agents"
questions: 8
from: library
ask: [agents, electrons, balance]
choices: 4
avoid: [complex, average-state]
difficulty: 1-4
seed: 5
`,
		},
	}
	for i := range d.Questions {
		d.Questions[i].Created = now.UTC().Add(-time.Duration(i+1) * time.Minute).Truncate(time.Millisecond)
	}
	return d
}
