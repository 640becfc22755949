package score

// pair is a gold word and the system's word for the same characters.
type pair struct{ gold, system *word }

// align pairs words that stand for the same characters. Outside multiword
// tokens these are words of the same span. A stretch that holds a multiword
// token on either side, and out of which none sticks, is matched by the
// longest common subsequence of its forms.
func align(gold, system []*word) []pair {
	var out []pair
	for g, s := 0, 0; g < len(gold) && s < len(system); {
		a, b := gold[g], system[s]
		switch {
		case a.multi || b.multi:
			gFrom, sFrom, gTo, sTo := stretch(gold, system, g, s)
			out = append(out, common(gold[gFrom:gTo], system[sFrom:sTo])...)
			g, s = gTo, sTo
		case a.start == b.start && a.end == b.end:
			out = append(out, pair{a, b})
			g, s = g+1, s+1
		case a.start <= b.start:
			g++
		default:
			s++
		}
	}
	return out
}

// stretch returns the smallest ranges of words around a multiword token at g or
// s such that every multiword token of either side lies wholly in or out.
func stretch(gold, system []*word, g, s int) (gFrom, sFrom, gTo, sTo int) {
	var end int
	if gold[g].multi {
		end = gold[g].end
		if !system[s].multi && system[s].start < gold[g].start {
			s++
		}
	} else {
		end = system[s].end
		if !gold[g].multi && gold[g].start < system[s].start {
			g++
		}
	}
	gFrom, sFrom = g, s
	for !beyond(gold, g, end) || !beyond(system, s, end) {
		var w *word
		if g < len(gold) && (s >= len(system) || gold[g].start <= system[s].start) {
			w, g = gold[g], g+1
		} else {
			w, s = system[s], s+1
		}
		if w.multi {
			end = max(end, w.end)
		}
	}
	return gFrom, sFrom, g, s
}

func beyond(words []*word, i, end int) bool {
	switch {
	case i >= len(words):
		return true
	case words[i].multi:
		return words[i].start >= end
	}
	return words[i].end > end
}

// common pairs the words of a longest common subsequence of forms.
func common(gold, system []*word) []pair {
	width := len(system) + 1
	best := make([]int, (len(gold)+1)*width)
	for g := len(gold) - 1; g >= 0; g-- {
		for s := len(system) - 1; s >= 0; s-- {
			n := max(best[(g+1)*width+s], best[g*width+s+1])
			if gold[g].form == system[s].form {
				n = max(n, 1+best[(g+1)*width+s+1])
			}
			best[g*width+s] = n
		}
	}
	var out []pair
	for g, s := 0, 0; g < len(gold) && s < len(system); {
		switch {
		case gold[g].form == system[s].form:
			out = append(out, pair{gold[g], system[s]})
			g, s = g+1, s+1
		case best[g*width+s] == best[(g+1)*width+s]:
			g++
		default:
			s++
		}
	}
	return out
}
