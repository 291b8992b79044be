package main

import (
	"slices"

	"github.com/spf13/cobra"

	"halves/chem"
	"halves/document"
	"halves/lesson"
	"halves/redox"
)

type talkOptions struct {
	workOptions
	brief bool
}

func (a *app) talkCommand() *cobra.Command {
	o := &talkOptions{}
	cmd := &cobra.Command{
		Use:   "talk QUESTION...",
		Short: "Write what to say at the board, line by line",
		Long: `Work a question as halves work does, and write the talk track: for each line what
to say while it goes up on the board, and about how long that takes. Formulas are
said by name, or spelled where they have none. A question is given as to halves
work.

` + quoting + `
` + statuses("worked", `chemistry says no: no answer, many answers, one half only, or the medium is
     needed and not given`),
		Example: `  halves talk 'MnO4^- + H2C2O4 -> Mn^2+ + CO2, in acid'
  halves talk 'Cl2 -> Cl^- + ClO3^-, in base' --brief -o track.md`,
		GroupID:           groupWork,
		ValidArgsFunction: noFiles,
		RunE:              func(cmd *cobra.Command, args []string) error { return a.talk(cmd, o, args) },
	}
	o.display.addFlags(cmd)
	o.class.addFlags(cmd)
	f := cmd.Flags()
	f.Var(mediumValue(&o.medium), "medium", "what may be added, where the question does not say")
	f.BoolVar(&o.brief, "brief", false, "a sentence or two for each line, and none where there is nothing to do")
	complete(cmd, "medium", mediumWords())
	return cmd
}

func (a *app) talk(cmd *cobra.Command, o *talkOptions, args []string) error {
	if err := a.settle(cmd, &o.workOptions); err != nil {
		return err
	}
	question, err := a.question(args, "no question was given", "halves talk 'MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in acid'")
	if err == nil {
		var sol *redox.Solution
		if sol, err = redox.Work(question, o.medium, o.conventions); err == nil {
			length := lesson.Full
			if o.brief {
				length = lesson.Brief
			}
			track := lesson.NewTrack(sol, length)
			if o.format == "json" {
				return a.showJSON(o.display, newTrackJSON(track, sol))
			}
			return a.show(o.display, document.FromTrack(track, sol))
		}
	}
	if o.format == "json" {
		return a.refuse(&o.workOptions, quoteHint(err, args))
	}
	return quoteHint(err, args) // what refuse shows beside it is a page, not a talk
}

// The JSON of a talk track.
type trackJSON struct {
	Title    string    `json:"title"`
	Equation string    `json:"equation"` // the final equation, canonical plain text
	Seconds  int       `json:"seconds"`
	Cues     []cueJSON `json:"cues"`
}

type cueJSON struct {
	Steps   []int    `json:"steps"` // indexes into the steps of the solution; none for the opening and the close
	Heading string   `json:"heading"`
	Line    string   `json:"line,omitempty"` // what goes up on the board, canonical plain text
	Say     []string `json:"say"`
	Seconds int      `json:"seconds"`
}

func newTrackJSON(t lesson.Track, s *redox.Solution) trackJSON {
	j := trackJSON{Title: t.Title, Equation: s.Equation.String(), Seconds: t.Seconds(), Cues: []cueJSON{}}
	for _, c := range t.Cues {
		cue := cueJSON{Steps: []int{}, Heading: c.Heading, Say: c.Say, Seconds: c.Seconds}
		if c.Step >= 0 {
			cue.Steps = slices.Concat([]int{c.Step}, c.With)
			if st := s.Steps[cue.Steps[len(cue.Steps)-1]]; len(st.After.Left) > 0 {
				cue.Line = st.After.String()
			} else if st.Written != nil {
				cue.Line = chem.PlainText(st.Written)
			}
		}
		j.Cues = append(j.Cues, cue)
	}
	return j
}
