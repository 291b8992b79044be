package question

import "strings"

// An Ask is what is asked of a question.
type Ask string

// What can be asked.
const (
	Balance   Ask = "balance"   // the whole equation
	Split     Ask = "split"     // the two half-reactions
	Agents    Ask = "agents"    // what is oxidized, what reduced, and by what
	States    Ask = "states"    // the oxidation states
	Complete  Ask = "complete"  // the products too, given the couples
	FindError Ask = "error"     // the first wrong line of a working
	Electrons Ask = "electrons" // how many are transferred
	WillItGo  Ask = "will-it-go"
)

// Asks lists them.
var Asks = []Ask{Balance, Split, Agents, States, Complete, FindError, Electrons, WillItGo}

func askNames() []string { return texts(Asks) }

// ParseAsk reads the name of what is asked. The error is a *WordError.
func ParseAsk(s string) (Ask, error) {
	for _, a := range Asks {
		if strings.EqualFold(string(a), s) {
			return a, nil
		}
	}
	return "", unknownWord("thing to ask", s, askNames())
}
