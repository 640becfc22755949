package difficulty

import (
	"math"
	"testing"

	"bookstead/internal/lexicon"
)

func opened(t testing.TB) *Measure {
	t.Helper()
	lex, err := lexicon.Open()
	if err != nil {
		t.Fatal(err)
	}
	return New(lex)
}

// Common knowledge of what children learn early and late, no source.
func TestOrder(t *testing.T) {
	m := opened(t)
	for _, c := range [][2]string{
		{"dog", "hound"}, {"sad", "doleful"}, {"run", "scamper"}, {"house", "mansion"}, {"big", "colossal"},
		{"walk", "saunter"}, {"happy", "jubilant"}, {"rain", "precipitation"}, {"snowman", "harbinger"}, {"unroll", "unfurl"},
		{"sorrow", "dolour"}, {"the", "apple"}, {"quick", "expeditious"}, {"set out", "embark"},
	} {
		if a, b := m.Word(c[0]), m.Word(c[1]); a >= b {
			t.Errorf("%s (%.1f) is not easier than %s (%.1f)", c[0], a, c[1], b)
		}
	}
}

// A word is easy when the one that it is made of is known.
func TestFamily(t *testing.T) {
	m := opened(t)
	for _, c := range [][3]string{{"sorrowful", "sorrow", "doleful"}, {"unkindness", "unkind", "malevolence"}} {
		if whole, root, other := m.Word(c[0]), m.Word(c[1]), m.Word(c[2]); whole >= other || whole < root {
			t.Errorf("%s %.1f does not lie between %s %.1f and %s %.1f", c[0], whole, c[1], root, c[2], other)
		}
	}
}

func TestBounds(t *testing.T) {
	m := opened(t)
	for _, w := range []string{"", "a", "the", "THE", "zzxqj", "pneumonoultramicroscopicsilicovolcanoconiosis", "é", "go", "won't", "by and by", " ", "42"} {
		if d := m.Word(w); d < easiest || d > hardest || math.IsNaN(d) {
			t.Errorf("Word(%q) = %v", w, d)
		}
	}
	if m.Word("the") != easiest || m.Word("zzxqj") < 9 {
		t.Errorf("the %.1f, an unheard word %.1f", m.Word("the"), m.Word("zzxqj"))
	}
	if m.Word("Garden") != m.Word("garden") {
		t.Error("capitals change the measure")
	}
}

// A rare meaning of an easy word is harder than its usual one.
func TestSense(t *testing.T) {
	m := opened(t)
	for _, w := range []string{"bank", "spring", "bark"} {
		s := m.lex.Senses(w, lexicon.Noun)
		first, last := m.Sense(s[0]), m.Sense(s[len(s)-1])
		if first != m.Word(w) || last <= first || last > first+rareMost {
			t.Errorf("%s: first %.2f, last %.2f, word %.2f", w, first, last, m.Word(w))
		}
	}
}

// Four fifths know a word in its grade, more in the next.
func TestKnown(t *testing.T) {
	if got := Known(4, 4); math.Abs(got-0.8) > 1e-9 {
		t.Errorf("Known(4, 4) = %v", got)
	}
	for g := 1; g < 6; g++ {
		if Known(5, g) >= Known(5, g+1) || Known(5, g) <= Known(6, g) {
			t.Errorf("Known does not grow with the grade or shrink with difficulty at %d", g)
		}
	}
}

func BenchmarkWord(b *testing.B) {
	m := opened(b)
	words := []string{"sorrowful", "garden", "wretched", "moor", "shilling", "astonished"}
	for i := 0; b.Loop(); i++ {
		m.word(words[i%len(words)])
	}
}
