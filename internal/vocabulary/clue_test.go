package vocabulary

import (
	"strings"
	"testing"

	"bookstead/internal/kit"
	"bookstead/internal/sense"
)

// clueOf looks for the clue to a word of a text.
func clueOf(t *testing.T, text, word string) clue {
	t.Helper()
	d := understood(t, text)
	e := newEngine(opened(t), split(text, d, 1, 4), Options{})
	for i := range d.Tokens {
		if fold(d.Tokens[i].Form) != word {
			continue
		}
		pos, ok := sense.POSOf(d.Tokens[i].UPOS)
		if !ok {
			t.Fatalf("%s is tagged %s in %q", word, d.Tokens[i].UPOS, text)
		}
		return e.clueAt(e.passages[0], d.SentenceAt(d.Tokens[i].Start), i, e.kin(fold(d.Tokens[i].Lemma), pos))
	}
	t.Fatalf("%q has no %s", text, word)
	return clue{}
}

func TestCluesAreFound(t *testing.T) {
	for _, c := range []struct{ text, word, want string }{
		{"The room was gloomy and dark.", "gloomy", "“dark”"},
		{"He was not timid; he was a bold boy.", "timid", "“bold”"},
		{"She saw a fakir, a holy man who owns nothing.", "fakir", "a holy man"},
		{"They heard a terrible wail. It was the cry of a hungry child.", "wail", "the next sentence tells more of it: “It was the cry of a hungry child”"},
		{"Her hands were so feeble that she could not hold the cup.", "feeble", "what comes of it follows"},
		{"The old woman had a stick called a distaff in her hand.", "distaff", "called so"},
		{"The soup was hideous like a bad dream.", "hideous", "a comparison follows: “like a bad dream”"},
	} {
		if got := clueOf(t, c.text, c.word); !strings.Contains(got.note, c.want) || got.score < 0.2 {
			t.Errorf("%q: %+v, want %q", c.text, got, c.want)
		}
	}
}

// A sentence that gives a word away scores higher than one that does not.
func TestCluesOrderSentences(t *testing.T) {
	for _, c := range []struct{ word, helps, leaves string }{
		{"gloomy", "The room was gloomy and dark.", "I saw the gloomy room on Monday."},
		{"feeble", "He was so feeble that he could not stand.", "They spoke of the feeble man."},
		{"wail", "We heard the wail. It was the cry of a child.", "We heard the wail. Then we went home."},
		{"peril", "The ship was in peril, in great danger.", "He told us of the peril on the way."},
	} {
		if a, b := clueOf(t, c.helps, c.word).score, clueOf(t, c.leaves, c.word).score; a <= b {
			t.Errorf("%s: %q scores %.2f, %q %.2f", c.word, c.helps, a, c.leaves, b)
		}
	}
}

func TestCluesThatAreNone(t *testing.T) {
	for _, c := range []struct{ text, word string }{
		{"There was snow, or sleet, or rain almost every day.", "sleet"},
		{"She had to wash the poodle, or read aloud.", "poodle"},
		{"He called a groom to take the horse away.", "groom"},
		{"I was dreadfully afraid, but he walked off.", "dreadfully"},
	} {
		if got := clueOf(t, c.text, c.word); got.note != "" && !strings.Contains(got.note, "show what it has to do with") {
			t.Errorf("%q: %q", c.text, got.note)
		}
	}
}

// Of each pair of words a child could or could not say which meaning is whose.
func TestClash(t *testing.T) {
	lex := opened(t)
	content := func(key, meaning, synonym string) kit.Content {
		s, ok := lex.SenseByKey(key)
		if !ok {
			t.Fatalf("no sense %s", key)
		}
		return kit.Content{Lemma: s.Lemma, Sense: key, Meaning: meaning, Synonym: synonym}
	}
	sad := content("doleful%5:00:00:sad:00", "filled with sadness", "")
	mournful := content("mournful%5:00:00:sad:00", "full of sorrow", "")
	gloomy := content("gloomy%5:00:00:dejected:00", "without hope", "")
	terror := content("terror%1:12:00::", "great fear", "fear")
	fear := content("fear%1:12:00::", "a feeling of danger", "")
	house := content("cottage%1:06:00::", "a small house", "")
	for _, c := range []struct {
		a, b kit.Content
		want bool
	}{
		{sad, mournful, true}, {terror, fear, true}, {sad, house, false}, {gloomy, house, false}, {terror, house, false},
		{kit.Content{Lemma: "a", Meaning: "very tired"}, kit.Content{Lemma: "b", Meaning: "very tired"}, true},
		{kit.Content{Lemma: "a", Meaning: "fear"}, kit.Content{Lemma: "b", Synonym: "fear", Meaning: "a bad feeling"}, true},
		{kit.Content{Lemma: "a", Meaning: "to run"}, kit.Content{Lemma: "b", Meaning: "to sing"}, false},
	} {
		if got := Clash(lex, c.a, c.b); got != c.want || Clash(lex, c.b, c.a) != c.want {
			t.Errorf("Clash(%s, %s) = %v", c.a.Lemma, c.b.Lemma, got)
		}
	}
}
