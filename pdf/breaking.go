package pdf

import "math"

// A lineOf is which words stand on a line: those from from up to to.
type lineOf struct{ from, to int }

// manyWords is how many words are broken one line after the other, without
// looking ahead.
const manyWords = 4000

// breakLines breaks words into as few lines as there can be, and so that they
// are about equally long: of all ways it takes the one with the least sum of the
// squares of what is empty at their ends and of how badly they end. first is how
// wide the first line is, room the others. No word is wider than room; one that is
// wider than first may stand on the first line by itself.
func breakLines(words []word, first, room float64) []lineOf {
	n := len(words)
	if n == 0 {
		return nil
	}
	if n > manyWords {
		return greedy(words, first, room)
	}
	const (
		line  = 1e4 // what one more line costs
		least = 0.2 // of the room that the last line fills
	)
	best, from := make([]float64, n+1), make([]int, n+1)
	for j := 1; j <= n; j++ {
		best[j] = math.Inf(1)
		width := 0.0
		for i := j - 1; i >= 0; i-- {
			width += words[i].width
			if i+1 < j {
				width += words[i].space
			}
			space := room
			if i == 0 {
				space = first
			}
			if width > room+slack && width > space+slack && i+1 < j {
				break
			}
			cost := line
			switch empty := 1 - width/space; {
			case width > space+slack:
				cost = 100 * line // the first line alone is too short for its word
				if i+1 < j {
					continue
				}
			case j < n:
				cost += 100*empty*empty + words[j-1].worse
			case 1-empty < least && i > 0:
				cost += 400 * (least - 1 + empty) * (least - 1 + empty)
			}
			if total := best[i] + cost; total < best[j] {
				best[j], from[j] = total, i
			}
		}
	}
	var out []lineOf
	for j := n; j > 0; j = from[j] {
		out = append(out, lineOf{from[j], j})
	}
	for i, k := 0, len(out)-1; i < k; i, k = i+1, k-1 {
		out[i], out[k] = out[k], out[i]
	}
	return out
}

// slack is what rounding may add to a length, in points.
const slack = 0.01

func greedy(words []word, first, room float64) []lineOf {
	var out []lineOf
	from, used, space := 0, 0.0, first
	for i, w := range words {
		if i > from && used+w.width > space+slack {
			out = append(out, lineOf{from, i})
			from, used, space = i, 0, room
		}
		used += w.width + w.space
	}
	return append(out, lineOf{from, len(words)})
}
