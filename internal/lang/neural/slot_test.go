package neural

import (
	"context"
	"math"
	"strings"
	"testing"

	"bookstead/internal/lang"
)

func place(t *testing.T, text, hidden string) (*Reading, *lang.Doc, int) {
	t.Helper()
	r, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	d := &lang.Doc{Text: text}
	at, from := -1, 0
	for i, w := range strings.Fields(text) {
		start := from + strings.Index(text[from:], w)
		from = start + len(w)
		d.Tokens = append(d.Tokens, lang.Token{Start: start, End: from, Form: w})
		if w == hidden {
			at = i
		}
	}
	d.Sentences = []lang.Sentence{{First: 0, Last: len(d.Tokens)}}
	d.Done(lang.LayerTokens | lang.LayerSentences)
	read, err := r.Read(context.Background(), d)
	if err != nil {
		t.Fatal(err)
	}
	return read, d, at
}

// The slot head must have been learned on this reader.bin: run train/slot.py for a
// new one, or write its checksum where the encoder has not changed.
func TestSlotBelongsToReader(t *testing.T) {
	read, d, at := place(t, "She drank a cup of hot tea .", "tea")
	if read.Fits(d, at, at+1) == nil {
		t.Fatal("slot.bin belongs to another reader.bin")
	}
}

func TestFits(t *testing.T) {
	for _, c := range []struct{ text, hidden, better, worse string }{
		{"She drank a cup of hot tea .", "tea", "coffee", "tree"},
		{"He ran quickly down the stairs .", "ran", "hurried", "slept"},
		{"The old man was very angry with the boy .", "angry", "pleased", "wooden"},
		{"He spoke in a husky voice .", "husky", "hoarse", "muscular"},
	} {
		read, d, at := place(t, c.text, c.hidden)
		fit := read.Fits(d, at, at+1)
		if a, b := fit(c.better), fit(c.worse); a <= b {
			t.Errorf("%q: %s (%.2f) does not fit better than %s (%.2f)", c.text, c.better, a, c.worse, b)
		}
	}
}

func TestWord(t *testing.T) {
	read, _, _ := place(t, "A dog .", "dog")
	like := func(a, b string) float64 {
		sum := 0.0
		u, v := read.Word(a), read.Word(b)
		for i := range u {
			sum += float64(u[i]) * float64(v[i])
		}
		return sum
	}
	if x := like("dog", "dog"); math.Abs(x-1) > 1e-5 {
		t.Errorf("a vector has length %v", x)
	}
	if like("sorrow", "grief") <= like("sorrow", "kettle") || like("quickly", "swiftly") <= like("quickly", "blue") {
		t.Error("words used alike are not near each other")
	}
	if x := like("zzxqj", "zzxqj"); math.Abs(x-1) > 1e-5 {
		t.Error("an unheard word has no vector")
	}
}
