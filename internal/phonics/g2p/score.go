package g2p

import "slices"

// Score measures a model on words with all their accepted pronunciations. A
// word is right when the guess is one of them; its errors in phones are counted
// against the nearest, as is usual for this task.
type Score struct {
	Words, Wrong   int
	Phones, Errors int
}

// WER is the share of words with any error.
func (s Score) WER() float64 { return float64(s.Wrong) / float64(max(s.Words, 1)) }

// PER is the share of phones in error.
func (s Score) PER() float64 { return float64(s.Errors) / float64(max(s.Phones, 1)) }

// Add counts one word.
func (s *Score) Add(guess []string, accepted [][]string) {
	s.Words++
	best, size := -1, 0
	for _, ref := range accepted {
		if d := distance(guess, ref); best < 0 || d < best {
			best, size = d, len(ref)
		}
	}
	if best != 0 {
		s.Wrong++
	}
	s.Errors += best
	s.Phones += size
}

// distance is Levenshtein's.
func distance(a, b []string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range a {
		diagonal := row[0]
		row[0] = i + 1
		for j := range b {
			change := diagonal
			if a[i] != b[j] {
				change++
			}
			diagonal = row[j+1]
			row[j+1] = min(change, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}

// Group gathers the pronunciations of each word, in the order of the words'
// first appearance.
func Group(examples []Example) (words []string, accepted map[string][][]string) {
	accepted = map[string][][]string{}
	for _, e := range examples {
		if _, ok := accepted[e.Word]; !ok {
			words = append(words, e.Word)
		}
		if !slices.ContainsFunc(accepted[e.Word], func(p []string) bool { return slices.Equal(p, e.Phones) }) {
			accepted[e.Word] = append(accepted[e.Word], e.Phones)
		}
	}
	return words, accepted
}
