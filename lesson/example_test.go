package lesson_test

import (
	"fmt"
	"testing"

	"halves/lesson"
	"halves/redox"
)

func ExampleNewTrack() {
	s, err := redox.Work("Cu + HNO3 -> Cu(NO3)2 + NO + H2O", redox.Unstated, redox.Conventions{})
	if err != nil {
		fmt.Println(err)
		return
	}
	track := lesson.NewTrack(s, lesson.Full)
	fmt.Println(track.Title, "-", lesson.About(track.Seconds()))
	for _, c := range track.Cues {
		if c.Step >= 0 && s.Steps[c.Step].Rule == redox.Oxygen && s.Steps[c.Step].Done {
			fmt.Println(c.Heading)
			for _, sentence := range c.Say {
				fmt.Println(sentence)
			}
		}
	}
	// Output:
	// Copper plus nitric acid give copper two nitrate plus nitrogen monoxide plus water - about 10 minutes
	// Reduction: balance oxygen with water
	// Count the oxygen: three on the left, one on the right.
	// So we add two water molecules on the right.
	// We are in water, so water is always there to use.
	// So we have: one nitrate ion gives nitrogen monoxide plus two water.
	// That makes three oxygen atoms on each side.
	// Hydrogen and the charge are not equal yet.
}

func ExampleNewTrack_brief() {
	s, err := redox.Work("MnO4^- + H2C2O4 -> Mn^2+ + CO2, in acid", redox.Unstated, redox.Conventions{})
	if err != nil {
		fmt.Println(err)
		return
	}
	track := lesson.NewTrack(s, lesson.Brief)
	for _, c := range track.Cues[len(track.Cues)-2:] {
		for _, sentence := range c.Say {
			fmt.Println(sentence)
		}
	}
	// Output:
	// The check: on each side we have two manganese, twenty-eight oxygen, sixteen hydrogen and ten carbon.
	// The charge is plus four on each side: not zero, but equal.
	// So the answer is: two permanganate ions plus five oxalic acid plus six hydrogen ions give two manganese two ions plus ten carbon dioxide plus eight water.
	// Oxalic acid is oxidized, so it is the reducing agent.
	// Permanganate ions are reduced, so they are the oxidizing agent.
	// In this equation ten electrons are transferred.
}

func BenchmarkNewTrack(b *testing.B) {
	for _, bm := range []struct{ name, question string }{
		{"species=4", "MnO4^- + H2C2O4 -> Mn^2+ + CO2, in acid"},
		{"species=7", "KMnO4 + FeSO4 + H2SO4 -> MnSO4 + Fe2(SO4)3 + K2SO4 + H2O"},
	} {
		s, err := redox.Work(bm.question, redox.Unstated, redox.Conventions{})
		if err != nil {
			b.Fatal(err)
		}
		for _, l := range []lesson.Length{lesson.Full, lesson.Brief} {
			b.Run(bm.name+"/length="+l.String(), func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					lesson.NewTrack(s, l)
				}
			})
		}
	}
}
