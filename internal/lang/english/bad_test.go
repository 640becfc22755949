package english

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"bookstead/internal/fault"
	"bookstead/internal/lang"
)

// What is no English prose is read within bounds and told; what is, is read all
// the same. The texts are ours.
func TestBadInput(t *testing.T) {
	prose := "The farmer took the road to the mill, and his dog ran after him through the wet grass. "
	noise := rand.New(rand.NewPCG(1, 2))
	bytes := make([]byte, 200_000)
	for i := range bytes {
		bytes[i] = byte(noise.UintN(256))
	}
	var contents, numbers strings.Builder
	for i := range 12 {
		fmt.Fprintf(&contents, "CHAPTER %d. The Road to the Mill ..... %d\n", i+1, 7+11*i)
		fmt.Fprintf(&numbers, "%d %d %d %d %d\n", 17*i, 23+i, i*i, 1900+i, 5*i)
	}
	for _, c := range []struct {
		name, text string
		told       string // in Doc.Skipped, "" when nothing is to be told
		skipped    bool   // is the first paragraph passed over?
	}{
		{"prose", prose, "", false},
		{"French", strings.Repeat("Il était une fois une petite fille qui aimait beaucoup les pommes de son jardin. ", 3), "does not look like English", true},
		{"Hebrew", strings.Repeat("ילדה קטנה הלכה ביער עם הכלב שלה ופגשה דוב גדול מאוד. ", 3), "does not look like English", true},
		{"Arabic", strings.Repeat("كان يا ما كان في قديم الزمان فتاة صغيرة تعيش في بيت بعيد. ", 3), "does not look like English", true},
		{"contents", contents.String(), "table of contents", true},
		{"numbers", numbers.String(), "figures and signs", true},
		{"no full stop", strings.Repeat("the dog ran and the cat sat and ", 6_250), "without a full stop", false},
		{"one letter", strings.Repeat("a", 10_000_000), "more than 256 letters", true},
		{"letters", strings.Repeat("a ", 2_000_000), "half a million letters", true},
		{"brackets", strings.Repeat("(", 1_000_000), "half a million letters", true},
		{"quotation marks", strings.Repeat("\"", 300_000), "figures and signs", true},
		{"not UTF-8", strings.Repeat("She ran \xff home and sat down by the fire. ", 3), "no readable text", false},
		{"control characters", strings.Repeat("She ran\x00 home\x07 and sat down by the fire. ", 3), "Control characters (6)", false},
		{"noise", string(bytes), "Control characters", false},
		{"line ends", strings.Repeat("\n", 1_000_000), "", false},
		{"nothing", "", "", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			d, err := Cut(context.Background(), c.text, nil, Options{})
			if err == nil {
				err = Fill(context.Background(), d, Options{})
			}
			if err != nil {
				t.Fatal(err)
			}
			if told := strings.Join(d.Skipped, "\n"); !strings.Contains(told, c.told) || c.told == "" && told != "" {
				t.Errorf("told: %.300q, want %q", told, c.told)
			}
			if len(d.Paragraphs) > 0 && c.name != "noise" && d.Paragraphs[0].Skip != c.skipped {
				t.Errorf("passed over: %v, want %v", d.Paragraphs[0].Skip, c.skipped)
			}
			if len(d.Tokens) > maxTokens {
				t.Errorf("%d tokens are beyond the bound", len(d.Tokens))
			}
			for i, s := range d.Sentences {
				if n := s.Last - s.First; n < 1 || n > 400 {
					t.Fatalf("sentence %d has %d tokens", i, n)
				}
			}
		})
	}
}

// Everything runs to its end on what is no prose, and every layer is done: "not
// run" would be another answer than "nothing found".
func TestBadInputUnderstood(t *testing.T) {
	all := lang.LayerTokens | lang.LayerSentences | lang.LayerTags | lang.LayerLemmas | lang.LayerTrees | lang.LayerTypes |
		lang.LayerCast | lang.LayerQuotations | lang.LayerScenes | lang.LayerEvents | lang.LayerFigures
	for _, text := range []string{
		"", "\n\n", "“", "as", "like a", "like", "to death", "dying to", "A", "...", "* * *", "CHAPTER I", "1 2 3", "שלום", "a\x00b \xff",
		"\u201c\u201c\u201c \u201d\u201d", strings.Repeat("(", 50), "He said so so so so", "one's", "as if", "Once upon a time there was, as", "It was",
	} {
		d := understand(t, text)
		if !d.Has(all) {
			t.Errorf("%q: not all layers were run", text)
		}
	}
}

// A reader who stops waiting gets a fault of that kind, and no half-done layer
// passes for a whole one.
func TestStopped(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	d, err := Cut(ctx, strings.Repeat("The dog ran home. ", 2000), nil, Options{})
	if err != nil {
		t.Fatal(err)
	}
	cancel()
	err = Understand(ctx, d, Options{})
	if !errors.Is(err, context.Canceled) && !fault.Is(err, fault.Canceled) {
		t.Errorf("stopped with %v", err)
	}
	if d.Has(lang.LayerTrees) || d.Has(lang.LayerEvents) {
		t.Error("layers are marked done that were not")
	}
}
