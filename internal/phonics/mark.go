package phonics

import "strings"

// Marked writes a word with brackets around the letters of the links that pick
// chooses: "tr[ai]n", "m[a]k[e]". Links that touch are marked as one.
func Marked(word string, a Alignment, pick func(Link) bool) string {
	on := make([]bool, len(word)+1)
	for _, l := range a {
		if !pick(l) {
			continue
		}
		for i := l.Start; i < l.End && i < len(word); i++ {
			on[i] = true
		}
		if l.E >= 0 && l.E < len(word) {
			on[l.E] = true
		}
	}
	var b strings.Builder
	for i := range len(word) {
		if on[i] && (i == 0 || !on[i-1]) {
			b.WriteByte('[')
		}
		b.WriteByte(word[i])
		if on[i] && !on[i+1] {
			b.WriteByte(']')
		}
	}
	return b.String()
}

// Shows marks the letters of a word that are an example of what is taught.
func (s *Sequence) Shows(word string, r Reading, t Taught) string {
	return Marked(word, r.Links, func(l Link) bool { return s.shown(l) == t.Correspondence })
}

// Irregular marks the letters of a word that no step teaches.
func (s *Sequence) Irregular(word string, r Reading) string {
	return Marked(word, r.Links, func(l Link) bool {
		for _, c := range r.Never {
			if s.shown(l) == c {
				return true
			}
		}
		return false
	})
}

// Needs are the correspondences that some step teaches, each once, in the order
// of the word.
func (r Reading) Needs() []Correspondence { return r.needs }
