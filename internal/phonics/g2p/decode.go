package g2p

import (
	"math"
	"slices"
	"strings"
)

// Guess is a predicted pronunciation.
type Guess struct {
	Phones []string // ARPAbet without stress
	Score  float64  // share of the probability of all guesses, 0 to 1
}

// beam is how many beginnings are kept at each letter. More changes hardly any
// first guess.
const beam = 120

// unlikely is the log probability at which the net's word is no longer heard: a
// chunk that it finds less likely is tried only when there is no other.
const unlikely = -9

// hypothesis is a beginning of the word with its chunks.
type hypothesis struct {
	ids   []uint16
	score float64
}

// Predict guesses how a word in lower case, a to z and apostrophes, is said:
// the best guesses first, most at the most. The probabilities of different
// divisions into chunks that sound alike are added. Letters that the model does
// not know are silent. When there is a net, each chunk counts with the product of
// what the rows and the net say. It returns nil for a word without a known letter.
func (m *Model) Predict(word string, most int) []Guess {
	var letters []byte
	for i := range len(word) {
		if m.starts[word[i:i+1]] != nil {
			letters = append(letters, word[i])
		}
	}
	if len(letters) == 0 {
		return nil
	}
	word = string(letters)
	var said [][]float32
	if m.net != nil {
		said = m.net.Letters(word)
	}
	stacks := make([][]hypothesis, len(word)+1)
	stacks[0] = []hypothesis{{ids: []uint16{start}}}
	for i := range word {
		cut(&stacks[i])
		for _, h := range stacks[i] {
			for n := 1; n <= 2 && i+n <= len(word); n++ {
				for _, id := range m.starts[word[i:i+n]] {
					score := h.score
					if m.net != nil {
						p := float64(unlikely)
						if k := m.label[id]; k >= 0 {
							p = max(p, float64(said[i][k]))
						}
						if p <= unlikely && n == 1 && len(stacks[i+n]) > 0 {
							continue
						}
						score += p
					}
					ids := append(h.ids[:len(h.ids):len(h.ids)], id)
					stacks[i+n] = append(stacks[i+n], hypothesis{ids, score + m.step(h.ids, id)})
				}
			}
		}
	}
	last := stacks[len(word)]
	for i := range last {
		last[i].score += m.step(last[i].ids, end)
	}
	cut(&last)
	return m.guesses(last, most)
}

// cut keeps the best.
func cut(s *[]hypothesis) {
	slices.SortStableFunc(*s, func(a, b hypothesis) int {
		switch {
		case a.score > b.score:
			return -1
		case a.score < b.score:
			return 1
		}
		return slices.Compare(a.ids, b.ids)
	})
	if len(*s) > beam {
		*s = (*s)[:beam]
	}
}

// guesses adds up what sounds alike. A word of letters is said somehow: the
// empty guess is dropped when there is another.
func (m *Model) guesses(hs []hypothesis, most int) []Guess {
	at := map[string]int{}
	var out []Guess
	total := 0.0
	for _, h := range hs {
		var phones []string
		for _, id := range h.ids[1:] {
			phones = append(phones, strings.Fields(m.chunks[id-first].phones)...)
		}
		if len(phones) == 0 {
			continue
		}
		p := math.Exp(h.score - hs[0].score)
		total += p
		key := strings.Join(phones, " ")
		if i, ok := at[key]; ok {
			out[i].Score += p
			continue
		}
		at[key] = len(out)
		out = append(out, Guess{phones, p})
	}
	for i := range out {
		out[i].Score /= total
	}
	slices.SortFunc(out, compareGuess)
	return out[:min(most, len(out))]
}
