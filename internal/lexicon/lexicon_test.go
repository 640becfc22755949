package lexicon

import (
	"slices"
	"strings"
	"testing"

	"bookstead/internal/lexicon/pack"
)

// opened is the embedded lexicon; without it no test can run.
func opened(t testing.TB) *Lexicon {
	t.Helper()
	l, err := Open()
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func TestPackIsWhole(t *testing.T) {
	data, err := packed.ReadFile("packed/pack.bin")
	if err != nil {
		t.Fatal(err)
	}
	f, err := pack.Open(data)
	if err != nil {
		t.Fatal(err)
	}
	if err := f.Verify(); err != nil {
		t.Error(err)
	}
	if most := 16 << 20; len(data) > most {
		t.Errorf("the pack has %d bytes, more than %d", len(data), most)
	}
	for n := range 200 {
		if _, err := Read(data[:n*7]); err == nil {
			t.Errorf("%d bytes were taken for a lexicon", n*7)
		}
	}
}

func TestPronunciations(t *testing.T) {
	l := opened(t)
	// From the CMU Pronouncing Dictionary as its readme and pages print it.
	for _, c := range []struct{ word, want string }{
		{"cat", "K AE1 T"},
		{"Aachen", "AA1 K AH0 N"},
		{"read", "R EH1 D / R IY1 D"},
		{"wind", "W AY1 N D / W IH1 N D"},
		{"unnecessarily", "AH0 N N EH1 S AH0 S EH2 R AH0 L IY0"},
		{"doleful", "D OW1 L F AH0 L"},
		{"unnaturally", "AH0 N N AE1 CH ER0 AH0 L IY0 / AH0 N N AE1 CH ER0 L IY0 / AH0 N AE1 CH ER0 L IY0 / AH0 N N AE1 CH R AH0 L IY0"},
		{"zzyzzx", ""},
	} {
		var got []string
		for _, p := range l.Pronunciations(c.word) {
			got = append(got, p.String())
		}
		if s := strings.Join(got, " / "); s != c.want {
			t.Errorf("Pronunciations(%q) = %q, want %q", c.word, s, c.want)
		}
	}
	p := l.Pronunciations("doleful")[0]
	if p.Syllables() != 2 || p.Plain().String() != "D OW L F AH L" {
		t.Errorf("%v has %d syllables and is plainly %v", p, p.Syllables(), p.Plain())
	}
}

func TestSenses(t *testing.T) {
	l := opened(t)
	doleful := l.Senses("Doleful", Adjective)
	if len(doleful) != 1 {
		t.Fatalf("doleful has %d senses", len(doleful))
	}
	s := doleful[0]
	if s.Key != "doleful%5:00:00:sad:00" || s.Number != 1 || s.Lexname != "adj.all" || s.Gloss != "filled with or evoking sadness" ||
		len(s.Synonyms) != 1 || s.Synonyms[0].Lemma != "mournful" || s.Offensive {
		t.Errorf("doleful = %+v", s)
	}
	if want := []string{"the child's doleful expression", "stared with mournful eyes", "mournful news"}; !slices.Equal(s.Examples, want) {
		t.Errorf("examples of doleful: %q", s.Examples)
	}
	var keys []string
	for _, s := range l.Senses("coil", Noun) {
		keys = append(keys, s.Key)
	}
	if want := "coil%1:06:00:: coil%1:25:00:: coil%1:06:04:: coil%1:06:03:: coil%1:06:02:: coil%1:06:01::"; strings.Join(keys, " ") != want {
		t.Errorf("coil: %q", keys)
	}
	if s := l.Senses("coil", Verb); len(s) != 3 || s[0].Synonyms[0].Lemma != "gyrate" || s[0].Synonyms[0].Count != 1 || s[0].Count != 2 {
		t.Errorf("coil as a verb: %+v", s)
	}
	if s := l.Senses("christmas tree", Noun); len(s) == 0 || s[0].Lemma != "Christmas tree" {
		t.Errorf("capitals are lost: %+v", s)
	}
	for _, c := range []struct {
		word string
		pos  POS
	}{{"doleful", Noun}, {"mice", Noun}, {"", Verb}, {"coil", 'x'}} {
		if s := l.Senses(c.word, c.pos); s != nil {
			t.Errorf("Senses(%q, %c) = %+v", c.word, c.pos, s)
		}
	}
}

// Every lemma of every part of speech gives senses that are found again by key,
// number and synset. It walks a seventh of all 155,000.
func TestKeysFindTheirSenses(t *testing.T) {
	l := opened(t)
	senses := 0
	for i := 0; i < l.lemmas.Len(); i += 7 {
		lemma, _ := l.lemmas.At(i)
		for _, p := range PartsOfSpeech() {
			for n, s := range l.Senses(lemma, p) {
				senses++
				again, ok := l.SenseByKey(s.Key)
				if !ok || again.Number != n+1 || again.Synset != s.Synset || normal(s.Lemma) != lemma {
					t.Fatalf("%s: %+v comes back as %+v", lemma, s, again)
				}
				set, ok := l.Synset(s.Synset)
				if !ok || set.Gloss != s.Gloss || set.Gloss == "" || set.POS != p {
					t.Fatalf("%s: synset %v = %+v", lemma, s.Synset, set)
				}
			}
		}
	}
	if senses < 25000 {
		t.Errorf("only %d senses were seen", senses)
	}
}

func TestSynsetID(t *testing.T) {
	l := opened(t)
	s := l.Senses("dog", Noun)[0]
	if got := s.Synset.String(); got != "02086723-n" { // WordNet 3.1
		t.Errorf("dog is %s", got)
	}
	for _, id := range []SynsetID{0, 1, s.Synset + 1, 1 << 31} {
		if _, ok := l.Synset(id); ok {
			t.Errorf("there is a synset %d", id)
		}
	}
}

func TestRelations(t *testing.T) {
	l := opened(t)
	first := func(word string, pos POS) Sense { return l.Senses(word, pos)[0] }
	names := func(ids []SynsetID) string {
		var out []string
		for _, id := range ids {
			s, _ := l.Synset(id)
			out = append(out, s.Lemmas[0].Lemma)
		}
		return strings.Join(out, " ")
	}
	lemmas := func(senses []Sense) string {
		var out []string
		for _, s := range senses {
			out = append(out, s.Lemma)
		}
		slices.Sort(out)
		return strings.Join(slices.Compact(out), " ")
	}
	for _, c := range []struct{ what, got, has string }{
		{"kinds above dog", names(l.Hypernyms(first("dog", Noun).Synset)), "canine"},
		{"kinds of dog", names(l.Hyponyms(first("dog", Noun).Synset)), "puppy"},
		{"like wet", names(l.Similar(first("wet", Adjective).Synset)), "damp"},
		{"opposite of wet", lemmas(l.Antonyms(first("wet", Adjective))), "dry"},
		{"opposite of tiny, by way of its head", lemmas(l.Antonyms(first("tiny", Adjective))), "large"},
		{"opposite of rise", lemmas(l.Antonyms(first("rise", Verb))), "fall"},
		{"made from happy", lemmas(l.Derivations(first("happy", Adjective))), "happiness"},
		{"what quickly is made from", lemmas(l.Derivations(first("quickly", Adverb))), "quick"},
		{"parts of a wheel's whole", names(l.Parts(first("bicycle", Noun).Synset)), "pedal"},
		{"what snoring needs", names(l.Entails(first("snore", Verb).Synset)), "sleep"},
		{"what killing causes", names(l.Entails(first("kill", Verb).Synset)), "die"},
	} {
		if !slices.Contains(strings.Fields(c.got), c.has) {
			t.Errorf("%s: %q lacks %q", c.what, c.got, c.has)
		}
	}
	if l.Hypernyms(0) != nil || l.Antonyms(Sense{}) != nil {
		t.Error("a synset that is not there has relations")
	}
	// Above dog stands, in the end, entity.
	id := first("dog", Noun).Synset
	for steps := 0; ; steps++ {
		up := l.Hypernyms(id)
		if len(up) == 0 {
			break
		}
		if id = up[0]; steps > 30 {
			t.Fatal("the hypernyms go round in a circle")
		}
	}
	if s, _ := l.Synset(id); s.Lemmas[0].Lemma != "entity" {
		t.Errorf("above dog stands %+v", s)
	}
}

func TestKey30(t *testing.T) {
	l := opened(t)
	// "dreadful" changed its head between WordNet 3.0 and 3.1; "dog" did not.
	for key, want := range map[string]string{
		"dreadful%5:00:00:disagreeable:00": "dreadful%5:00:00:unpleasant:00",
		"dog%1:05:00::":                    "dog%1:05:00::",
	} {
		if got := l.Key30(key); got != want {
			t.Errorf("Key30(%q) = %q, want %q", key, got, want)
		}
	}
}

func TestSplitGloss(t *testing.T) {
	for _, c := range []struct{ gloss, definition, examples string }{
		{`a b; "c d"; "e"`, "a b", "c d|e"},
		{`a b`, "a b", ""},
		{`the letter "a" in print; "an a"`, `the letter "a" in print`, "an a"},
		{`a b: "c"- Shakespeare`, "a b", "c"},
		{`a; b; "c; d"`, "a; b", "c; d"},
		{`"only this"`, "", "only this"},
		{`unclosed; "c`, "unclosed", ""},
		{``, "", ""},
	} {
		d, e := splitGloss(c.gloss)
		if d != c.definition || strings.Join(e, "|") != c.examples {
			t.Errorf("splitGloss(%q) = %q, %q", c.gloss, d, e)
		}
	}
}

func TestLists(t *testing.T) {
	l := opened(t)
	// Counts of the published lists: Dolch 1936 in levels 40 + 52 + 41 + 46 + 41,
	// Fry's first hundred.
	want := []int{40, 52, 41, 46, 41}
	seen := map[string]bool{}
	for i, level := range l.Dolch() {
		if len(level.Words) != want[i] {
			t.Errorf("%s has %d words, not %d", level.Name, len(level.Words), want[i])
		}
		for _, w := range level.Words {
			if seen[w] {
				t.Errorf("%q stands twice in Dolch's list", w)
			}
			seen[w] = true
		}
	}
	if len(seen) != 220 {
		t.Errorf("Dolch has %d words", len(seen))
	}
	both := 0
	for _, w := range l.Fry() {
		if seen[w] {
			both++
		}
	}
	if len(l.Fry()) != 100 || both != 86 {
		t.Errorf("Fry has %d words, %d of them in Dolch's list; want 100 and 86", len(l.Fry()), both)
	}
	for word, want := range map[string]bool{"the": true, "She": true, "couldn’t": true, "herself": true, "garden": false, "": false} {
		if got := l.Function(word); got != want {
			t.Errorf("Function(%q) = %v", word, got)
		}
	}
	l.Dolch()[0].Words[0] = "changed"
	l.Fry()[0] = "changed"
	if l.Dolch()[0].Words[0] == "changed" || l.Fry()[0] == "changed" {
		t.Error("a caller can change the lists")
	}
}

// The lists have 2,942 and 1,063 entries by their packages' readmes; all of them
// are familiar, and so are the forms that their instructions accept.
func TestFamiliar(t *testing.T) {
	l := opened(t)
	if d, s := l.daleChall.Len(), l.spache.Len(); d < 2900 || d > 2942 || s < 1030 || s > 1063 {
		t.Errorf("the lists have %d and %d words", d, s)
	}
	for _, c := range []struct {
		word              string
		daleChall, spache bool
	}{
		{"about", true, true},
		{"dogs", true, true},
		{"puppies", true, true},
		{"Running", true, true},
		{"hoped", true, true},
		{"carried", true, true},
		{"dog’s", true, true},
		{"don't", true, true},
		{"won't", true, true},
		{"she'll", true, true},
		{"happiest", true, false},
		{"bigger", true, false},
		{"softly", true, false},
		{"eaten", true, false},
		{"burner", false, false}, // a noun in -er from a verb
		{"doleful", false, false},
		{"melancholy", false, false},
		{"17", true, true},
		{"apple-tree", true, true},
		{"apple-melancholy", false, false},
		{"glass", true, true},
		{"", true, true},
	} {
		if got := l.Familiar(DaleChall, c.word); got != c.daleChall {
			t.Errorf("Familiar(DaleChall, %q) = %v", c.word, got)
		}
		if got := l.Familiar(Spache, c.word); got != c.spache {
			t.Errorf("Familiar(Spache, %q) = %v", c.word, got)
		}
	}
}

func TestFrequencies(t *testing.T) {
	l := opened(t)
	for _, c := range []struct{ often, seldom string }{
		{"the", "house"}, {"house", "cottage"}, {"cottage", "moor"}, {"sad", "mournful"}, {"i", "gladiator"}, {"don't", "needn't"},
	} {
		a, ok1 := l.Zipf(c.often)
		b, ok2 := l.Zipf(c.seldom)
		if !ok1 || !ok2 || a <= b {
			t.Errorf("Zipf: %s %.2f %v, %s %.2f %v", c.often, a, ok1, c.seldom, b, ok2)
		}
		a, ok1 = l.BookZipf(c.often)
		b, ok2 = l.BookZipf(c.seldom)
		if !ok1 || !ok2 || a <= b {
			t.Errorf("BookZipf: %s %.2f %v, %s %.2f %v", c.often, a, ok1, c.seldom, b, ok2)
		}
	}
	// "the" was counted 486,539 times among 9,613,433 words of 94,595 forms.
	if z, _ := l.BookZipf("The"); z < 7.699 || z > 7.701 {
		t.Errorf("BookZipf(the) = %v, want 7.700", z)
	}
	if _, ok := l.Zipf("doleful"); ok {
		t.Error("doleful is not among the words heard")
	}
	if _, ok := l.BookZipf("xylophonists"); ok {
		t.Error("a word that no novel has was found")
	}
	if r := l.BookRange("the"); r != 1 {
		t.Errorf("the stands in %v of the novels", r)
	}
	if r := l.BookRange("gunwale"); r <= 0 || r > 0.2 {
		t.Errorf("gunwale stands in %v of the novels", r)
	}
}
