package readability

import (
	"bytes"
	"encoding/json"
	"math"
	"math/rand/v2"
	"os/exec"
	"strings"
	"testing"

	"bookstead/internal/lang"
	"bookstead/internal/lexicon"
)

func near(a, b, within float64) bool { return math.Abs(a-b) <= within }

// Worked examples with a published result.
func TestPublishedExamples(t *testing.T) {
	platypus := Counts{Sentences: 1, Words: 13, Syllables: 24, Polysyllables: 4}
	for _, c := range []struct {
		name   string
		got    float64
		want   float64
		within float64
		source string
	}{
		{"Flesch-Kincaid", platypus.FleschKincaid(), 11.3, 0.05, "Wikipedia, Flesch-Kincaid readability tests: the platypus"},
		{"Flesch reading ease", platypus.FleschReadingEase(), 37.5, 0.05, "the same, from memory"},
		{"SMOG", platypus.SMOG(), 14.554593, 1e-6, "readme of npm smog-formula"},
		{"Coleman-Liau", Counts{Sentences: 5, Words: 119, Letters: 639}.ColemanLiau(), 14.53042, 5e-6, "readme of npm coleman-liau: the abstract of the paper; Wikipedia has 14.5"},
		{"ARI", Counts{Sentences: 6, Words: 151, Characters: 623}.AutomatedReadability(), 10.585982, 5e-6, "readme of npm automated-readability: a passage of Stevenson"},
		{"Spache", Counts{Sentences: 2, Words: 30, SpacheUnfamiliar: 6}.Spache(), 4.114, 1e-9, "readme of npm spache-formula"},
		{"Spache", Counts{Sentences: 2, Words: 30}.Spache(), 2.474, 1e-9, "the same"},
		{"Flesch reading ease", Counts{Sentences: 10, Words: 200, Syllables: 280}.FleschReadingEase(), 68.095, 1e-9, "inputs published by the PMI handbook, chapter on readability; result computed"},
		{"Flesch reading ease", Counts{Sentences: 1, Words: 1, Syllables: 1}.FleschReadingEase(), 121.22, 1e-9, "the stated maximum"},
		{"Flesch-Kincaid", Counts{Sentences: 1, Words: 1, Syllables: 1}.FleschKincaid(), -3.40, 1e-9, "the stated minimum"},
		{"Flesch-Kincaid", Counts{Sentences: 100, Words: 570, Syllables: 581}.FleschKincaid(), -1.3, 0.05, "Wikipedia: 5.7 words a sentence, 1.02 syllables a word"},
		// The readme of npm dale-chall-formula 2.0.1 prints 4.41208 for these counts,
		// which takes the fraction 0.20 for the percentage 20; its code gives 7.5385.
		{"Dale-Chall 1948", Counts{Sentences: 2, Words: 30, DaleChallUnfamiliar: 6}.DaleChall1948(), 7.5385, 1e-9, "computed: 0.1579 * 20 + 0.0496 * 15 + 3.6365"},
		{"Dale-Chall 1948", Counts{Sentences: 5, Words: 100, DaleChallUnfamiliar: 5}.DaleChall1948(), 1.7815, 1e-9, "computed: nothing is added at exactly 5 percent"},
		{"Dale-Chall 1995", Counts{Sentences: 5, Words: 100, DaleChallUnfamiliar: 10}.DaleChall1995(), 40.7, 1e-9, "computed: 64 - 9.5 - 13.8"},
	} {
		if !near(c.got, c.want, c.within) {
			t.Errorf("%s = %v, want %v (%s)", c.name, c.got, c.want, c.source)
		}
	}
	// The cloze form of Coleman and Liau's formula leads to the same grade:
	// -27.4004 * ECP / 100 + 23.06395.
	c := Counts{Sentences: 5, Words: 119, Letters: 639}
	if got := -27.4004*c.ColemanLiauCloze()/100 + 23.06395; !near(got, c.ColemanLiau(), 0.05) {
		t.Errorf("the two forms of Coleman-Liau differ: %v and %v", got, c.ColemanLiau())
	}
}

func TestUndefined(t *testing.T) {
	for _, c := range []Counts{{}, {Words: 5}, {Sentences: 5}} {
		for _, v := range []float64{c.FleschReadingEase(), c.FleschKincaid(), c.ColemanLiau(), c.ColemanLiauCloze(), c.AutomatedReadability(), c.SMOG(), c.DaleChall1948(), c.DaleChall1995(), c.Spache()} {
			if !math.IsNaN(v) {
				t.Errorf("%+v gives %v", c, v)
			}
		}
		if c.Scores() != nil {
			t.Errorf("%+v has scores", c)
		}
	}
}

// Random counts are put to the general-purpose npm packages. Where they differ
// from the papers is taken into account: their dale-chall-formula, though named
// after 1995, computes the formula of 1948; flesch and others give nothing when
// a count is 0.
func TestAgainstPackages(t *testing.T) {
	node, err := exec.LookPath("node")
	if err != nil {
		t.Fatalf("node is needed to compare with: %v", err)
	}
	r := rand.New(rand.NewPCG(1948, 1995))
	var all []Counts
	for range 300 {
		c := Counts{Sentences: 1 + r.IntN(60)}
		c.Words = c.Sentences + r.IntN(c.Sentences*30)
		c.Syllables = c.Words + r.IntN(c.Words+1)
		c.Letters = c.Words + r.IntN(c.Words*6)
		c.Characters = c.Letters + r.IntN(5)
		c.Polysyllables = r.IntN(c.Words + 1)
		c.DaleChallUnfamiliar = r.IntN(c.Words/2 + 1)
		c.SpacheUnfamiliar = r.IntN(c.DaleChallUnfamiliar + 1)
		all = append(all, c)
	}
	in, err := json.Marshal(all)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(node, "testdata/reference.mjs")
	cmd.Stdin = bytes.NewReader(in)
	var stderr strings.Builder
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("running the packages (npm ci installs them): %v\n%s", err, stderr.String())
	}
	var theirs []struct {
		Flesch, FleschKincaid, ColemanLiau, DaleChall, Spache, ARI, SMOG float64
		DaleChallGrades                                                  [2]int
	}
	if err := json.Unmarshal(out, &theirs); err != nil || len(theirs) != len(all) {
		t.Fatalf("reading what the packages say: %v, %d of %d", err, len(theirs), len(all))
	}
	for i, c := range all {
		for _, v := range []struct {
			name         string
			ours, theirs float64
		}{
			{"flesch", c.FleschReadingEase(), theirs[i].Flesch},
			{"flesch-kincaid", c.FleschKincaid(), theirs[i].FleschKincaid},
			{"coleman-liau", c.ColemanLiau(), theirs[i].ColemanLiau},
			{"dale-chall-formula", c.DaleChall1948(), theirs[i].DaleChall},
			{"spache-formula", c.Spache(), theirs[i].Spache},
			{"automated-readability", c.AutomatedReadability(), theirs[i].ARI},
			{"smog-formula", c.SMOG(), theirs[i].SMOG},
		} {
			if !near(v.ours, v.theirs, 1e-9*math.Max(1, math.Abs(v.ours))) {
				t.Errorf("%+v: %s gives %v, we %v", c, v.name, v.theirs, v.ours)
			}
		}
		if g := DaleChall1948Grades(c.DaleChall1948()); g != (Grades{theirs[i].DaleChallGrades[0], theirs[i].DaleChallGrades[1]}) {
			t.Errorf("%+v: grades %v, theirs %v", c, g, theirs[i].DaleChallGrades)
		}
	}
}

func TestGrades(t *testing.T) {
	for score, want := range map[float64]Grades{4.9: {0, 4}, 5: {5, 6}, 5.99: {5, 6}, 6: {7, 8}, 7.5385: {9, 10}, 8: {11, 12}, 9.9: {13, 15}, 10: {16, 16}, -1: {0, 4}} {
		if got := DaleChall1948Grades(score); got != want {
			t.Errorf("DaleChall1948Grades(%v) = %v, want %v", score, got, want)
		}
	}
	for cloze, want := range map[float64]Grades{64: {0, 1}, 58: {0, 1}, 57.4: {2, 2}, 50: {3, 3}, 49: {4, 4}, 40.7: {5, 6}, 39: {7, 8}, 15: {16, 16}} {
		if got := DaleChall1995Grades(cloze); got != want {
			t.Errorf("DaleChall1995Grades(%v) = %v, want %v", cloze, got, want)
		}
	}
}

func opened(t testing.TB) *lexicon.Lexicon {
	t.Helper()
	lex, err := lexicon.Open()
	if err != nil {
		t.Fatal(err)
	}
	return lex
}

func TestOfText(t *testing.T) {
	lex := opened(t)
	// The passage of Wikipedia's example: 13 words and 24 syllables in 1 sentence.
	c := OfText(lex, "The Australian platypus is seemingly a hybrid of a mammal and reptilian creature.")
	if c.Sentences != 1 || c.Words != 13 || c.Syllables != 24 || c.Polysyllables != 4 {
		t.Errorf("the platypus: %+v", c)
	}
	c = OfText(lex, "“Don’t go!” said Mr. Brown. The gryphon saw a gryphon. Did Brown see the gryphon?")
	want := Counts{Sentences: 3, Words: 15, Letters: 59, Characters: 59, Syllables: 19, DaleChallUnfamiliar: 3, SpacheUnfamiliar: 1}
	if c != want {
		t.Errorf("the gryphon: %+v, want %+v", c, want)
	}
	for _, text := range []string{"", "   ", "* * *", "…"} {
		if c := OfText(lex, text); c != (Counts{}) {
			t.Errorf("OfText(%q) = %+v", text, c)
		}
	}
}

// A text twice as long, of the same words, is not easier for it.
func TestSpacheDoesNotFallWithLength(t *testing.T) {
	lex := opened(t)
	sample := strings.Repeat("The doleful gryphon wept by the gloomy sea and ate a cake. ", 10) // 120 words, 3 unfamiliar
	for _, times := range []int{1, 2, 5} {
		c := OfText(lex, strings.Repeat(sample, times))
		if c.Words != 120*times || c.SpacheUnfamiliar < 3*times || c.SpacheUnfamiliar > 4*times {
			t.Errorf("%d times: %+v", times, c)
		}
	}
}

func TestSentences(t *testing.T) {
	for text, want := range map[string]string{
		"One two. Three!":                          "One two.|Three!",
		"“Stop!” he said. “Why?”":                  "“Stop!” he said.|“Why?”",
		"Mr. and Mrs. J. Brown came. They sat.":    "Mr. and Mrs. J. Brown came.|They sat.",
		"It cost 3.50 in all. It was I. He left.":  "It cost 3.50 in all.|It was I.|He left.",
		"CHAPTER ONE\n\nIt rained. It\nrained on.": "CHAPTER ONE|It rained.|It\nrained on.",
		"Well... perhaps. Well... Perhaps.":        "Well... perhaps.|Well...|Perhaps.",
		"no end":                                   "no end",
	} {
		if got := strings.Join(Sentences(text), "|"); got != want {
			t.Errorf("Sentences(%q) = %q, want %q", text, got, want)
		}
	}
	if got := strings.Join(Words("It's 1,000 good-natured--'very' old cats’ tails."), "|"); got != "It's|1,000|good-natured|very|old|cats|tails" {
		t.Errorf("Words: %q", got)
	}
}

// An analysed text gives the same counts as the plain one, and its names count
// as familiar.
func TestOfDoc(t *testing.T) {
	lex := opened(t)
	text := "Zebediah didn't go. Melancholy Zebediah sat."
	d := &lang.Doc{Text: text}
	add := func(form, upos string, multi int8, start int) {
		d.Tokens = append(d.Tokens, lang.Token{Form: form, UPOS: upos, Multi: multi, Start: start, End: start + len(form)})
	}
	add("Zebediah", "PROPN", 0, 0)
	add("did", "AUX", 2, 9)
	add("n't", "PART", -1, 12)
	add("go", "VERB", 0, 16)
	add(".", "PUNCT", 0, 18)
	add("Melancholy", "ADJ", 0, 20)
	add("Zebediah", "PROPN", 0, 31)
	add("sat", "VERB", 0, 40)
	add(".", "PUNCT", 0, 43)
	d.Sentences = []lang.Sentence{{First: 0, Last: 5}, {First: 5, Last: 9}}
	d.Done(lang.LayerTokens | lang.LayerSentences | lang.LayerTags)
	c := OfDoc(lex, d)
	if c.Sentences != 2 || c.Words != 6 || c.DaleChallUnfamiliar != 1 || c.SpacheUnfamiliar != 1 || c.Letters != 8+5+2+10+8+3 {
		t.Errorf("%+v", c)
	}
	if plain := OfText(lex, text); plain != c {
		t.Errorf("plain %+v, analysed %+v", plain, c)
	}
	if part := OfSpan(lex, d, 20, len(text)); part.Sentences != 1 || part.Words != 3 {
		t.Errorf("the second sentence: %+v", part)
	}
}

func TestScores(t *testing.T) {
	scores := Counts{Sentences: 20, Words: 200, Syllables: 260, Letters: 800, Characters: 800, Polysyllables: 10, DaleChallUnfamiliar: 10, SpacheUnfamiliar: 8}.Scores()
	if len(scores) != 8 {
		t.Fatalf("%d scores", len(scores))
	}
	for _, s := range scores {
		if math.IsNaN(s.Value) || s.Name == "" || (s.Grades == nil) != (s.Name == "Flesch reading ease") {
			t.Errorf("%+v", s)
		}
		if s.Grades != nil && (s.Grades.Low > s.Grades.High || s.Grades.Low < 0 || s.Grades.High > 16) {
			t.Errorf("%s stands for grades %v", s.Name, *s.Grades)
		}
	}
	if scores[7].Unsure == "" || scores[1].Unsure != "" {
		t.Errorf("20 sentences are few for SMOG and enough for the rest: %+v", scores)
	}
}
