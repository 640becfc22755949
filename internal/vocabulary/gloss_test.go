package vocabulary

import (
	"context"
	"slices"
	"strings"
	"testing"

	"bookstead/internal/lang/english"
	"bookstead/internal/lexicon"
)

// glossOf glosses a word of a text.
func glossOf(t testing.TB, text, word string) (Gloss, *Glosser, bool) {
	t.Helper()
	lex, err := lexicon.Open()
	if err != nil {
		t.Fatal(err)
	}
	d, err := english.Cut(context.Background(), text, nil, english.Options{Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	if err := english.Understand(context.Background(), d, english.Options{}); err != nil {
		t.Fatal(err)
	}
	g := NewGlosser(lex, d)
	for i := range d.Tokens {
		if d.Tokens[i].Form == word {
			gl, ok := g.At(i)
			return gl, g, ok
		}
	}
	t.Fatalf("no %q in %q", word, text)
	return Gloss{}, nil, false
}

// Glosses that any teacher would take; one of them must be told.
func TestGloss(t *testing.T) {
	for _, c := range []struct{ text, word, meanings string }{
		{"He spoke in a low husky voice, for he had a cold in his throat.", "husky", "hoarse"},
		{"“Who is there?” she inquired from behind the door.", "inquired", "asked"},
		{"He seldom came to the village now.", "seldom", "rarely|not often"},
		{"The bird vanished behind the trees.", "vanished", "disappeared|went away"},
		{"“Only a mouse!” cried the little animal indignantly.", "indignantly", "in an angry way"},
		{"She was a tidy woman who kept her cottage clean.", "tidy", "neat|orderly"},
		{"They set out for the village before dawn.", "set", "started|left|took the first step|started out|set off"},
	} {
		g, _, ok := glossOf(t, c.text, c.word)
		if !ok || !slices.Contains(strings.Split(c.meanings, "|"), g.Meaning) && !slices.Contains(strings.Split(c.meanings, "|"), g.Synonym) {
			t.Errorf("%q: %s is “%s” (%s), want %s", c.text, c.word, g.Meaning, g.Synonym, c.meanings)
		}
	}
}

const wordy = "The melancholy gentleman hastened across the desolate moor, clutching a tattered parchment. " +
	"His countenance was grave and his raiment shabby; the bewildered children scampered behind the hedge and gazed at him in astonishment. " +
	"Presently he resumed his journey, muttering indignantly about the wretched weather and the insolent ostler at the tavern. " +
	"A gloomy procession of peasants trudged along the furrows, lamenting the drought that had ruined their harvest."

// Whatever is told of a word is easier than it, short, of another family, and
// fit for a child's page; the next choices too.
func TestGlossLaws(t *testing.T) {
	_, g, _ := glossOf(t, wordy, "melancholy")
	told, synonyms := 0, 0
	for i := range g.d.Tokens {
		gl, ok := g.At(i)
		if !ok {
			continue
		}
		told++
		most := g.measure.Sense(gl.Sense)
		texts := []string{gl.Meaning}
		if gl.Synonym != "" {
			synonyms++
			texts = append(texts, gl.Synonym)
		}
		if len(gl.Next) > 2 {
			t.Errorf("%s: %d more choices", gl.Unit.Lemma, len(gl.Next))
		}
		for _, n := range gl.Next {
			if n.Meaning == gl.Meaning {
				t.Errorf("%s: the next choice is the same", gl.Unit.Lemma)
			}
			if n.Sense.Synset == gl.Sense.Synset {
				texts = append(texts, n.Meaning)
			}
		}
		for _, m := range texts {
			if n := len(strings.Fields(m)); n == 0 || n > mostWords {
				t.Errorf("%s: “%s” has %d words", gl.Unit.Lemma, m, n)
			}
			if h := g.hardest(m); h >= most {
				t.Errorf("%s (%.1f): “%s” is as hard (%.1f)", gl.Unit.Lemma, most, m, h)
			}
			if g.circular(m, gl.Unit.Lemma) {
				t.Errorf("%s: “%s” is circular", gl.Unit.Lemma, m)
			}
			if w := g.lex.Warning(m); w != "" {
				t.Errorf("%s: “%s”: %s", gl.Unit.Lemma, m, w)
			}
		}
		if gl.Why == "" || gl.Sure <= 0 || gl.Sure > 1 {
			t.Errorf("%s: why %q, sure %v", gl.Unit.Lemma, gl.Why, gl.Sure)
		}
	}
	if told < 15 || synonyms < 5 {
		t.Errorf("%d words told, %d with a synonym", told, synonyms)
	}
}

// A synonym has the form of the word, where the word has one.
func TestLikeIn(t *testing.T) {
	for _, c := range []struct {
		lemma, tag string
		pos        lexicon.POS
		want       string
	}{
		{"hurry", "VBD", lexicon.Verb, "hurried"}, {"stream", "NNS", lexicon.Noun, "streams"}, {"troubled", "VBN", lexicon.Adjective, "troubled"},
		{"sad", "JJR", lexicon.Adjective, "sadder"}, {"people", "NNS", lexicon.Noun, "people"}, {"set off", "VBG", lexicon.Verb, "setting off"}, {"glad", "JJ", lexicon.Adjective, "glad"},
	} {
		if got := likeIn(c.lemma, c.tag, c.pos); got != c.want {
			t.Errorf("likeIn(%q, %s) = %q, want %q", c.lemma, c.tag, got, c.want)
		}
	}
}

func TestCircular(t *testing.T) {
	_, g, _ := glossOf(t, "A dog.", "dog")
	for _, c := range []struct {
		text, lemma string
		want        bool
	}{
		{"full of sorrow", "sorrowful", true}, {"sad", "sorrowful", false}, {"to ask", "inquire", false}, {"enquire", "inquire", true},
		{"take away quickly", "whisk away", false}, {"a person who tends a garden", "gardener", true}, {"in a cheerful way", "cheerfully", true},
		{"make aware", "awaken", false}, {"conquering", "conquest", true}, {"complete", "compel", false}, {"rough", "hilly", false},
	} {
		if got := g.circular(c.text, c.lemma); got != c.want {
			t.Errorf("circular(%q, %q) = %v", c.text, c.lemma, got)
		}
	}
}

// Definitions of WordNet, in its own words, and what may be left of them.
func TestCuts(t *testing.T) {
	for _, c := range []struct {
		clause string
		pos    lexicon.POS
		want   string // one of what is left, "" for nothing
		never  string
	}{
		{"a field where grass or alfalfa are grown to be made into hay", lexicon.Noun, "a field", "a field where grass or alfalfa are"},
		{"long coarse hair growing from the crest of the animal's neck", lexicon.Noun, "long coarse hair", "long coarse hair growing"},
		{"make a small hole into, as with a needle or a thorn", lexicon.Verb, "make a small hole into", ""},
		{"disturb", lexicon.Verb, "disturb", ""},
	} {
		var got []string
		for _, d := range cuts(c.clause, c.pos) {
			got = append(got, d.text)
		}
		if c.want != "" && !slices.Contains(got, c.want) || slices.Contains(got, c.never) {
			t.Errorf("cuts(%q) = %q, want %q and not %q", c.clause, got, c.want, c.never)
		}
	}
	for _, bad := range []string{"", "a person who", "the act of", "a field where", "being very", "native to \"Asia", "one of 12 months", "of the genus Rhus"} {
		if complete(bad) {
			t.Errorf("complete(%q)", bad)
		}
	}
	for text, want := range map[string]string{
		"of or relating to the moon": "to do with the moon", "in a severe manner": "in a severe way", "the quality of being kind": "being kind", "lacking money": "without money", "a land lacking rain": "a land without rain",
	} {
		if got := plainer(text); got != want {
			t.Errorf("plainer(%q) = %q, want %q", text, got, want)
		}
	}
}

// Nothing that a child should not read is told of a word that has such a meaning.
func TestGlossGuard(t *testing.T) {
	for _, word := range []string{"queer", "gay", "ass"} {
		_, g, _ := glossOf(t, "It was a queer old house, the children were gay, and an ass stood in the yard.", word)
		for i, tk := range g.d.Tokens {
			if tk.Form != word {
				continue
			}
			u, ok := g.Unit(i)
			if !ok {
				t.Fatalf("no unit %q", word)
			}
			for _, e := range g.Explain(u) {
				if e.Offensive && (e.Meaning != "" || e.Synonym != "") {
					t.Errorf("%s: %q is told for %s", word, e.Meaning, e.Key)
				}
			}
		}
	}
}

func BenchmarkGloss(b *testing.B) {
	_, g, _ := glossOf(b, wordy, "melancholy")
	var tokens []int
	for i := range g.d.Tokens {
		if _, ok := g.At(i); ok {
			tokens = append(tokens, i)
		}
	}
	for i := 0; b.Loop(); i++ {
		NewGlosser(g.lex, g.d).At(tokens[i%len(tokens)])
	}
}
