package inflect

import "testing"

// The forms are those of any school grammar and of the dictionaries (common
// knowledge of English, no single source).
func TestLike(t *testing.T) {
	for _, c := range []struct{ lemma, tag, want string }{
		{"hurry", "VBD", "hurried"}, {"stop", "VBD", "stopped"}, {"open", "VBD", "opened"}, {"refer", "VBD", "referred"}, {"go", "VBD", "went"},
		{"overtake", "VBN", "overtaken"}, {"behave", "VBD", "behaved"}, {"understand", "VBD", "understood"}, {"panic", "VBD", "panicked"},
		{"lie", "VBG", "lying"}, {"make", "VBG", "making"}, {"see", "VBG", "seeing"}, {"sit", "VBG", "sitting"}, {"look", "VBG", "looking"}, {"quit", "VBG", "quitting"},
		{"watch", "VBZ", "watches"}, {"cry", "VBZ", "cries"}, {"play", "VBZ", "plays"}, {"go", "VBZ", "goes"},
		{"set out", "VBD", "set out"}, {"give up", "VBG", "giving up"},
		{"fox", "NNS", "foxes"}, {"lady", "NNS", "ladies"}, {"gentleman", "NNS", "gentlemen"}, {"leaf", "NNS", "leaves"}, {"boy", "NNS", "boys"}, {"coal mine", "NNS", "coal mines"},
		{"happy", "JJR", "happier"}, {"big", "JJS", "biggest"}, {"beautiful", "JJR", "more beautiful"}, {"nice", "JJR", "nicer"}, {"good", "JJS", "best"}, {"gentle", "JJR", "gentler"},
		{"stone", "NN", "stone"},
	} {
		if got := Like(c.lemma, c.tag); got != c.want {
			t.Errorf("Like(%q, %s) = %q, want %q", c.lemma, c.tag, got, c.want)
		}
	}
}
