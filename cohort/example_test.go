package cohort_test

import (
	"fmt"

	"halves/cohort"
)

// Three students of section B, two questions; B-02 handed in the second one
// again. In the answer that two of them gave the atoms balance and the charge
// does not. By hand: variances 25/3 and 4, of the totals 67/3, so alpha is
// 2(1 - 37/67) = 60/67; the covariance is 5, so both discriminations are
// 5/√(100/3).
func ExampleSummarize() {
	sum := cohort.Summarize([]cohort.Script{
		{Student: "B-01", Question: "oxalic acid", Earned: 8, OutOf: 8, Answer: "2 MnO4^- + 5 H2C2O4 + 6 H^+ -> 2 Mn^2+ + 10 CO2 + 8 H2O"},
		{Student: "B-02", Question: "oxalic acid", Earned: 3, OutOf: 8, Answer: "MnO4^- + H2C2O4 + 6 H^+ -> Mn^2+ + 2 CO2 + 4 H2O", Slip: "electrons", Step: "combine"},
		{Student: "B-03", Question: "oxalic acid", Earned: 3, OutOf: 8, Answer: "MnO4^- + H2C2O4 + 6 H^+ -> Mn^2+ + 2 CO2 + 4 H2O", Slip: "electrons", Step: "combine"},
		{Student: "B-01", Question: "copper", Earned: 6, OutOf: 6},
		{Student: "B-02", Question: "copper", Earned: 0, OutOf: 6, Slip: "water", Step: "oxygen"},
		{Student: "B-02", Question: "copper", Earned: 4, OutOf: 6, Slip: "electrons", Step: "charge"},
		{Student: "B-03", Question: "copper", Earned: 2, OutOf: 6, Slip: "water", Step: "oxygen"},
	})
	fmt.Println(sum.Scripts, "scripts of", sum.Students, "students;", sum.Replaced, "replaced")
	for _, k := range sum.Kinds {
		fmt.Printf("%s: %d (%.0f %%)\n", k.Name, k.Count, 100*k.Share)
	}
	for _, it := range sum.Items {
		fmt.Printf("%s: difficulty %.2f, discrimination %.2f\n", it.Question, it.Difficulty.Value, it.Discrimination.Value)
	}
	g := sum.Items[1].Answers[0]
	fmt.Printf("%v: %s\n", g.Students, g.Answer)
	fmt.Printf("alpha %.2f\n", sum.Alpha.Value)
	// Output:
	// 6 scripts of 3 students; 1 replaced
	// electrons: 3 (50 %)
	// water: 1 (17 %)
	// copper: difficulty 0.67, discrimination 0.87
	// oxalic acid: difficulty 0.58, discrimination 0.87
	// [B-02 B-03]: MnO4^- + H2C2O4 + 6 H^+ -> Mn^2+ + 2 CO2 + 4 H2O
	// alpha 0.90
}
