package main

import (
	"fmt"
	"runtime/debug"
	"strings"

	"github.com/spf13/cobra"

	"halves/reference"
)

const (
	groupWork      = "work"
	groupChemistry = "chemistry"
	groupMore      = "more"
)

// command makes the tree of commands.
func (a *app) command() *cobra.Command {
	o := &deskOptions{open: true}
	root := &cobra.Command{
		Use:   "halves",
		Short: "Work redox equations by half-reactions, line by line",
		Long: `Halves works an oxidation-reduction equation by half-reactions and shows each
line with its reason and its ledger of atoms and charge. Every line has been
counted by separate code before it is shown.

Without a command it opens the desk, the app in the browser; halves serve does so
without opening one.

` + quoting + `
` + statuses("worked, balanced, read", "chemistry says no; not balanced"),
		Example: `  halves
  halves work 'MnO4^- + H2C2O4 -> Mn^2+ + CO2, in acid'
  halves work --each questions.txt -o answers.jsonl
  halves check '2 Fe^3+ + Sn^2+ -> 2 Fe^2+ + Sn^4+'
  halves species 'S4O6^2-' 'oxalic acid'
  halves cell 'Zn + Cu^2+ -> Zn^2+ + Cu'
  halves diagram frost Mn -o manganese.svg`,
		Version:           version(),
		SilenceErrors:     true,
		SilenceUsage:      true,
		Args:              cobra.ArbitraryArgs,
		DisableAutoGenTag: true,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return a.desk(cmd.Context(), o)
			}
			return unknownCommand(cmd, args)
		},
	}
	o.addFlags(root)
	root.SuggestionsMinimumDistance = 2
	root.SetVersionTemplate("{{.Version}}\n")
	root.SetFlagErrorFunc(flagError)
	root.AddGroup(&cobra.Group{ID: groupWork, Title: "Commands:"}, &cobra.Group{ID: groupChemistry, Title: "Is it real chemistry:"}, &cobra.Group{ID: groupMore, Title: "Beside these:"})
	root.AddCommand(a.workCommand(), a.talkCommand(), a.checkCommand(), a.markCommand(), a.setCommand(), a.speciesCommand(), a.conventionsCommand(), a.cellCommand(), a.coupleCommand(), a.diagramCommand(), a.serveCommand(), a.manCommand())
	root.SetHelpCommandGroupID(groupMore)
	root.SetCompletionCommandGroupID(groupMore)
	return root
}

// quoting is part of the help of every command that takes formulas.
const quoting = `Put the question in quotes: for a shell, > names a file and ^ may mean something
too.
  sh, bash, zsh, fish    'MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in acid'
  PowerShell             'MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in acid'
  Windows cmd            "MnO4^- + Fe^2+ -> Mn^2+ + Fe^3+, in acid"

Or keep it out of the shell: give - and type it, or give it on standard input.
`

func unknownCommand(cmd *cobra.Command, args []string) error {
	e := &usageError{msg: fmt.Sprintf("there is no command %q", args[0])}
	if near := cmd.SuggestionsFor(args[0]); len(near) > 0 {
		e.hint = "did you mean halves " + near[0] + "?"
	} else if strings.ContainsAny(args[0], "0123456789^+>=") {
		e.hint = "to work an equation: halves work '...'"
	} else {
		e.hint = "halves --help lists the commands"
	}
	return e
}

// version names the build and the state of the tables.
func version() string {
	v := "unknown"
	if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" {
		v = info.Main.Version
	}
	return fmt.Sprintf("halves %s, tables of %s", v, reference.Edition)
}
