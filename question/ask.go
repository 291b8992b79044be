package question

import (
	"slices"
	"strings"
)

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

// askWords say them to a teacher, by their order.
var askWords = []string{
	"balance the equation", "write the two half-reactions", "name what is oxidized and what is reduced", "give the oxidation states",
	"complete and balance", "find the first wrong line", "count the electrons", "say whether it goes",
}

// Words says what is asked: "balance the equation".
func (a Ask) Words() string {
	if i := slices.Index(Asks, a); i >= 0 {
		return askWords[i]
	}
	return string(a)
}

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
