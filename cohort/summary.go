package cohort

// MaxMarks is the most that a script may be out of: sums of marks then fit an
// int64 for any number of scripts that fits a memory.
const MaxMarks = 1_000_000_000

// A Script is what one student handed in for one question, after marking.
// Texts are compared as they stand: case and spaces count.
type Script struct {
	Student, Question string
	Earned, OutOf     int    // marks
	Slip              string // kind of the first slip; "" for none
	Step              string // step of the method that the first slip belongs to; "" for none
	Answer            string // the final line in a normal form; "" for none
	Provisional       bool   // a person has yet to look at the marks
}

// marked reports whether the marks of s can be used: 0 to OutOf, of 1 to
// MaxMarks.
func (s *Script) marked() bool {
	return 0 <= s.Earned && s.Earned <= s.OutOf && 0 < s.OutOf && s.OutOf <= MaxMarks
}

// A Summary is what a class did with its questions. Provisional scripts are
// counted like the others.
type Summary struct {
	Scripts     int // those that count: one for each student and question
	Replaced    int // earlier scripts that a later one stands for; in no other figure
	Students    int
	Provisional int
	Unmarked    int // scripts whose marks are not 0 to OutOf, of 1 to MaxMarks; in no figure made of marks
	Slipped     int // scripts with a slip

	Kinds []Tally // first slips by kind, commonest first, then by name
	Steps []Tally // first slips by step, likewise; a slip without a step is in none of them

	Items []Item // one for each question, by name
	Alpha Alpha
}

// A Tally is how many scripts have a slip of one kind, or at one step.
type Tally struct {
	Name  string
	Count int
	Share float64 // of all scripts, with and without a slip; above 0, at most 1
}

// A Figure is a statistic, or the reason why there is none.
type Figure struct {
	Value  float64 // 0 where there is a Reason
	Reason string  // why there is no value, no capital, no full stop; "" where there is one
}

// Known reports whether there is a value.
func (f Figure) Known() bool { return f.Reason == "" }

// An Item is what the class did with one question.
type Item struct {
	Question    string
	Scripts     int
	Provisional int
	Unmarked    int

	Difficulty     Figure // mean share of the marked scripts, 0 to 1; larger is easier
	Discrimination Discrimination

	Answers    []Group // identical answers, commonest first, then by text; nil if nobody gave one
	Unanswered int     // scripts without an answer; in no group
}

// A Discrimination is the correlation (Pearson's, -1 to 1) of the marks of one
// question with the total of the other questions of the same student.
//
// A question that a student has no marks for adds nothing to the total, as in
// a test where it was left blank.
type Discrimination struct {
	Figure
	Students int // those with marks for this question and for another
	Partial  int // those of them who lack marks for some question
}

// A Group is the students who gave the same answer to a question.
type Group struct {
	Answer    string
	Students  []string // by name
	Count     int      // length of Students
	MeanShare Figure   // of the marked scripts of the group, 0 to 1
}

// An Alpha is Cronbach's coefficient for the questions with marks, from the
// students who have marks for all of them. It is at most 1 and may be below 0.
type Alpha struct {
	Figure
	Questions int // with marks
	Students  int // with marks for all of those questions
	LeftOut   int // students who lack marks for one of them or more
}
