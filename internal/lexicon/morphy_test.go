package lexicon

import (
	"slices"
	"strings"
	"testing"
)

func TestLemmas(t *testing.T) {
	l := opened(t)
	for _, c := range []struct {
		form string
		pos  POS
		want string
	}{
		// From the manual page morphy(7WN) and the WordNet pages of the NLTK book.
		{"boxesful", Noun, "boxful"},
		{"attorneys general", Noun, "attorney general"},
		{"customs duties", Noun, "customs duty"},
		{"asked for", Verb, "ask for"},
		{"dogs", Noun, "dog"},
		{"churches", Noun, "church"},
		{"aardwolves", Noun, "aardwolf"},
		{"abaci", Noun, "abacus"},
		{"denied", Verb, "deny"},
		{"hardrock", Adverb, ""},
		{"axes", Noun, "ax,axis"},
		{"axes", Verb, "axe,ax"},
		// Ours.
		{"Mice", Noun, "mouse"},
		{"went", Verb, "go"},
		{"went out", Verb, "go out"},
		{"hits the sack", Verb, "hit the sack"},
		{"better", Adjective, "better,good,well"},
		{"happier", Adjective, "happy"},
		{"hurried", Verb, "hurry"},
		{"whinnies", Verb, "whinny"},
		{"ponies", Noun, "pony"},
		{"running", Verb, "run"},
		{"women", Noun, "woman"},
		{"glass", Noun, "glass"},
		{"christmas_trees", Noun, "christmas tree"},
		{"quickly", Adverb, "quickly"},
		{"zzz", Noun, ""},
		{"", Noun, ""},
		{"-", Verb, ""},
		{"a b c d e f g h", Verb, ""},
	} {
		if got := strings.Join(l.Lemmas(c.form, c.pos), ","); got != c.want {
			t.Errorf("Lemmas(%q, %s) = %q, want %q", c.form, c.pos, got, c.want)
		}
	}
}

func TestMultiword(t *testing.T) {
	l := opened(t)
	for first, want := range map[string]string{"set": "set out", "by": "by and by", "Christmas": "christmas tree"} {
		got := l.Multiword(first)
		if !slices.Contains(got, want) || !slices.IsSorted(got) {
			t.Errorf("Multiword(%q) = %q", first, got)
		}
	}
	for _, m := range l.Multiword("set") {
		if !strings.HasPrefix(m, "set ") {
			t.Errorf("Multiword(set) has %q", m)
		}
	}
	if got := l.Multiword("zzz"); got != nil {
		t.Errorf("Multiword(zzz) = %q", got)
	}
}
