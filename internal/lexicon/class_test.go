package lexicon

import "testing"

// The classes are WordNet's lexicographer files, lexnames(5WN).
func TestClass(t *testing.T) {
	l, err := Open()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		lemma string
		pos   POS
		want  string
	}{
		{"run", Verb, "verb.motion"}, {"say", Verb, "verb.communication"}, {"Give", Verb, "verb.possession"},
		{"garden", Noun, "noun.artifact"}, {"morning", Noun, "noun.time"}, {"joy", Noun, "noun.feeling"},
		{"garden", Adverb, ""}, {"xyzzy", Noun, ""},
	} {
		if got := l.Class(c.lemma, c.pos); got != c.want {
			t.Errorf("class of %s (%s): %q, want %q", c.lemma, c.pos, got, c.want)
		}
	}
}

func TestIsA(t *testing.T) {
	l, err := Open()
	if err != nil {
		t.Fatal(err)
	}
	person := l.Senses("person", Noun)[0].Synset
	animal := l.Senses("animal", Noun)[0].Synset
	for _, c := range []struct {
		lemma string
		want  bool
	}{{"girl", true}, {"robin", true}, {"dog", true}, {"person", true}, {"table", false}, {"wind", false}} {
		if got := l.IsA(c.lemma, Noun, 1, person, animal); got != c.want {
			t.Errorf("%s is a person or an animal: %v, want %v", c.lemma, got, c.want)
		}
	}
}
