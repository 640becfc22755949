package phonics

import (
	"strings"
	"testing"

	"bookstead/internal/lexicon"
)

func speaker(t *testing.T) *Speaker {
	t.Helper()
	lex, err := lexicon.Open()
	if err != nil {
		t.Fatal(err)
	}
	s, err := NewSpeaker(lex)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestSay(t *testing.T) {
	s := speaker(t)
	for _, c := range []struct {
		word   string
		part   Part
		source Source
		want   string
	}{
		{"garden", AnyPart, Dictionary, "G AA1 R D AH0 N"},
		{"GARDEN", AnyPart, Dictionary, "G AA1 R D AH0 N"},
		{"read", Past, Dictionary, "R EH1 D"},
		{"read", Verb, Dictionary, "R IY1 D"},
		{"wind", Noun, Dictionary, "W IH1 N D"},
		{"tears", Noun, Dictionary, "T IH1 R Z"},
		{"gryphon's", AnyPart, Predicted, "G R IH1 F AH0 N Z"},
		{"gloated-upon", AnyPart, Derived, "G L OW1 T IH0 D AH0 P AA1 N"},
		{"sputterin’", AnyPart, Derived, "S P AH1 T ER0 IH0 N"},
		{"sorrowfulness", AnyPart, Derived, "S AA1 R OW0 F AH0 L N AH0 S"},
	} {
		sp, ok := s.Say(c.word, c.part)
		if got := strings.Join(sp.Phones, " "); !ok || got != c.want || sp.Source != c.source {
			t.Errorf("Say(%s, %c) = %s %s, want %s %s", c.word, c.part, sp.Source, got, c.source, c.want)
		}
	}
	for _, w := range []string{"", "17", "--", "1st", "…", "xkcd", "XXVII"} {
		if sp, ok := s.Say(w, AnyPart); ok {
			t.Errorf("Say(%q) = %v, want nothing", w, sp)
		}
	}
}

func TestHomographsAreInTheDictionary(t *testing.T) {
	s := speaker(t)
	for w, ways := range homographs() {
		if s.lex.Pronunciations(w) == nil {
			t.Logf("%s is not in the dictionary", w)
		}
		for _, h := range ways {
			for _, p := range bare(h.phones) {
				if respelled[p] == "" {
					t.Errorf("%s: %s is no phone", w, p)
				}
			}
		}
	}
}

// The rules see the dictionary's phones without stress and must find its main
// stress.
func TestStressAgainstTheDictionary(t *testing.T) {
	s := speaker(t)
	var words, right [6]int
	for _, w := range frequentWords(s.lex, 2.8) {
		p := s.lex.Pronunciations(w)
		n := min(p[0].Syllables(), 5)
		if n < 2 {
			continue
		}
		words[n]++
		got := AddStress(w, bare(p[0]))
		for i, ph := range p[0] {
			if strings.HasSuffix(ph, "1") && strings.HasSuffix(got[i], "1") {
				right[n]++
				break
			}
		}
	}
	for n, least := range map[int]float64{2: 0.80, 3: 0.65, 4: 0.55} {
		share := float64(right[n]) / float64(words[n])
		t.Logf("%d syllables: main stress right in %.1f%% of %d words", n, 100*share, words[n])
		if words[n] < 100 || share < least {
			t.Errorf("%d syllables: main stress right in %.1f%% of %d words", n, 100*share, words[n])
		}
	}
}

func TestRespell(t *testing.T) {
	for phones, want := range map[string]string{
		"G AA1 R D AH0 N": "GAHR-duhn", "N AY1 T": "neyet", "K EH2 NG G ER0 UW1": "keng-gur-OO",
		"R AE1 B AH0 T": "RAB-uht", "D OW1 L F AH0 L": "DOHL-fuhl",
	} {
		if got := Respell(strings.Fields(phones)); got != want {
			t.Errorf("Respell(%s) = %s, want %s", phones, got, want)
		}
	}
}
