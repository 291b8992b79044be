package main

import (
	"errors"

	"github.com/spf13/cobra"

	"halves/balance"
	"halves/chem"
	"halves/document"
	"halves/redox"
)

func (a *app) checkCommand() *cobra.Command {
	o := &workOptions{}
	cmd := &cobra.Command{
		Use:   "check EQUATION...",
		Short: "Say whether an equation is balanced as it stands",
		Long: `Count the atoms and the charge on both sides of an equation as it was typed, and
say whether they agree, whether the numbers are the lowest whole ones, and
whether the reaction is redox. Half-reactions with their electrons are checked
too. - reads the equation from standard input.

` + quoting + `
` + statuses("balanced", "not balanced"),
		Example: `  halves check '2 Fe^3+ + Sn^2+ -> 2 Fe^2+ + Sn^4+'
  halves check 'MnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O'`,
		GroupID:           groupWork,
		ValidArgsFunction: noFiles,
		RunE:              func(cmd *cobra.Command, args []string) error { return a.check(cmd, o, args) },
	}
	o.display.addFlags(cmd)
	o.class.addFlags(cmd, "phases", "ones", "equals", "names", "sulph")
	return cmd
}

func (a *app) check(cmd *cobra.Command, o *workOptions, args []string) error {
	if err := a.settle(cmd, o); err != nil {
		return err
	}
	text, err := a.question(args, "no equation was given", "halves check '2 Fe^3+ + Sn^2+ -> 2 Fe^2+ + Sn^4+'")
	if err == nil {
		var c document.Check
		if c, err = checked(text); err == nil {
			c.Conventions = o.conventions
			if o.format == "json" {
				err = a.showJSON(o.display, newCheckJSON(c))
			} else {
				err = a.show(o.display, document.FromCheck(c))
			}
			if err == nil && !c.Balanced() {
				err = &shownError{kindNotBalanced}
			}
			return err
		}
	}
	return a.refuse(o, quoteHint(err, args))
}

// checked reads an equation and counts it. Of several readings the first that
// balances is taken, else the likeliest.
func checked(text string) (document.Check, error) {
	q, err := redox.ReadQuestion(text)
	if err != nil {
		return document.Check{}, err
	}
	if q.Halves {
		return document.Check{}, &chem.SyntaxError{Text: text, Width: len(text), Msg: "two equations stand on the line", Hint: "check one at a time"}
	}
	var c document.Check
	for i, r := range q.Readings {
		l, err := balance.NewLedger(r.Equation)
		if err != nil {
			return document.Check{}, err
		}
		if i == 0 || l.Closed() {
			c = document.Check{Equation: r.Equation, Assumptions: r.Assumptions, Ledger: l, Factor: factor(r.Equation)}
		}
		if l.Closed() {
			break
		}
	}
	c.Redox, c.Half = isRedox(c.Equation.String(), q.Medium)
	return c, nil
}

// factor returns the common factor of the coefficients, 0 where one is not
// whole.
func factor(e chem.Equation) int64 {
	g := int64(0)
	for _, t := range e.Terms {
		if !t.Coefficient.IsWhole() {
			return 0
		}
		g = chem.GCD(g, t.Coefficient.Num())
	}
	return g
}

// isRedox asks package redox whether an oxidation state changes, and names the
// half where only one is there.
func isRedox(equation string, m redox.Medium) (v document.Verdict, half string) {
	if m == redox.Unstated {
		m = redox.None
	}
	sol, err := redox.Work(equation, m, redox.Conventions{})
	var missing *redox.HalfMissingError
	switch {
	case errors.As(err, &missing):
		return document.Yes, string(missing.Present)
	case err != nil:
		return document.Unknown, ""
	case sol.Redox():
		return document.Yes, ""
	}
	for _, s := range sol.Species {
		if len(s.Open) > 0 {
			return document.Unknown, ""
		}
	}
	return document.No, ""
}

// The JSON of a check.
type checkJSON struct {
	Equation string      `json:"equation"` // canonical plain text, coefficients as typed
	Read     []readJSON  `json:"read"`     // what allows another reading
	Balanced bool        `json:"balanced"`
	Lowest   bool        `json:"lowest"` // whole numbers without a common factor
	Redox    *bool       `json:"redox"`  // null where it is not known
	Half     string      `json:"half,omitempty"`
	Ledger   []entryJSON `json:"ledger"`
}

type readJSON struct {
	Typed   string `json:"typed"`
	Formula string `json:"formula"`
}

type entryJSON struct {
	Law   string `json:"law"` // symbol of an element, or "charge"
	Left  string `json:"left"`
	Right string `json:"right"`
}

func newCheckJSON(c document.Check) checkJSON {
	j := checkJSON{Equation: c.Equation.String(), Read: []readJSON{}, Balanced: c.Balanced(), Lowest: c.Lowest(), Half: c.Half, Ledger: []entryJSON{}}
	for _, a := range c.Assumptions {
		j.Read = append(j.Read, readJSON{a.Typed, a.Read.String()})
	}
	if c.Redox != document.Unknown {
		yes := c.Redox == document.Yes
		j.Redox = &yes
	}
	for _, e := range c.Ledger {
		j.Ledger = append(j.Ledger, entryJSON{e.Law.String(), e.Left.String(), e.Right.String()})
	}
	return j
}
