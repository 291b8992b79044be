package names

import "strings"

// leadWords are the words of a lead-in such as "Balance the following equation:".
const leadWords = " please balance complete write the this these a each following given skeleton ionic net chemical word redox half half-reaction half-reactions equation equations reaction reactions question and for of "

// leadWidth returns the bytes of the lead-in at the start of a text, with the
// spaces after it: words of leadWords before a colon, or after "balance".
func leadWidth(text string) int {
	at, words, balance := 0, 0, false
	for {
		for at < len(text) && text[at] == ' ' {
			at++
		}
		end := at
		for end < len(text) && (isLetter(text[end]) || text[end] == '-' && end > at && end+1 < len(text) && isLetter(text[end+1])) {
			end++
		}
		word := strings.ToLower(text[at:end])
		apart := end == len(text) || text[end] == ' ' || text[end] == ':'
		if word == "" || !apart || !strings.Contains(leadWords, " "+word+" ") {
			break
		}
		words++
		balance = balance || word == "balance"
		at = end
	}
	switch {
	case words == 0:
		return 0
	case at < len(text) && text[at] == ':':
		at++
		for at < len(text) && text[at] == ' ' {
			at++
		}
		return at
	case balance && at < len(text) && arrowWidth(text[at:]) == 0:
		return at
	}
	return 0
}
