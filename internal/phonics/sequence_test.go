package phonics

import (
	"strings"
	"testing"

	"bookstead/internal/fault"
)

// Steps of words by hand, as a teacher would place them.
func TestRead(t *testing.T) {
	s := UsualSequence()
	for _, c := range []struct {
		word, phones, step string
		never              string
	}{
		{"cat", "K AE1 T", "Short vowels and single consonants", ""},
		{"ship", "SH IH1 P", "Doubled letters, and two letters for one sound", ""},
		{"frog", "F R AA1 G", "Consonants side by side", ""},
		{"bell", "B EH1 L", "Doubled letters, and two letters for one sound", ""},
		{"make", "M EY1 K", "Final silent e", ""},
		{"he", "HH IY1", "Long vowels alone", ""},
		{"night", "N AY1 T", "Vowel teams", ""},
		{"car", "K AA1 R", "Vowels with r", ""},
		{"coin", "K OY1 N", "Other vowel teams", ""},
		{"knee", "N IY1", "Silent letters", ""},
		{"jumped", "JH AH1 M P T", "Common endings", ""},
		{"rabbit", "R AE1 B AH0 T", "Words of more than one syllable", ""},
		{"phone", "F OW1 N", "Less common spellings", ""},
		{"said", "S EH1 D", "", "ai=EH"},
		{"Colonel", "K ER1 N AH0 L", "", "olo=ER"},
	} {
		r := s.Read(c.word, strings.Fields(c.phones))
		step, never := "", ""
		if r.Step > 0 {
			step = s.Steps[r.Step-1].Name
		}
		for _, n := range r.Never {
			never += n.String()
		}
		if step != c.step || never != c.never {
			t.Errorf("Read(%s) = %q never %q, want %q never %q (%v)", c.word, step, never, c.step, c.never, r.Links)
		}
	}
}

func TestDecodableAt(t *testing.T) {
	s := UsualSequence()
	r := s.Read("night", strings.Fields("N AY1 T"))
	if ok, missing := s.DecodableAt(r, 3); ok || len(missing) != 1 || s.Label(missing[0]) != "igh as in night" {
		t.Errorf("night at step 3: %v %v", ok, missing)
	}
	if ok, missing := s.DecodableAt(r, r.Step); !ok || missing != nil {
		t.Errorf("night at its own step: %v %v", ok, missing)
	}
	blend := s.Read("frog", strings.Fields("F R AA1 G"))
	if ok, missing := s.DecodableAt(blend, 2); ok || missing != nil {
		t.Errorf("frog before blends: %v %v", ok, missing)
	}
}

// Every line of the usual sequence is a correspondence of the inventory, so that
// no step can be a dead letter, and its key word has it.
func TestUsualSequenceIsUsed(t *testing.T) {
	s := UsualSequence()
	sp := speaker(t)
	for _, st := range s.Steps {
		for _, c := range st.Spelling {
			said := Ways(c.KeyWord)
			for _, p := range sp.lex.Pronunciations(c.KeyWord) {
				said = append(said, p)
			}
			found := false
			for _, p := range said {
				for _, l := range Align(c.KeyWord, p) {
					found = found || l.Correspondence() == c.Correspondence
				}
			}
			if !found {
				t.Errorf("step %d: %s is not in its key word: %v", st.Number, c.Label(), said)
			}
		}
	}
}

func TestReadSequenceFaults(t *testing.T) {
	for text, want := range map[string]string{
		"":                            "no spelling steps",
		"a AE cat":                    "Line 1 of the spelling steps: it stands before the first step",
		"step One\n\na AE":            "Line 3",
		"step One\na QQ cat":          `"QQ" is not a sound`,
		"step One\n3 AE cat":          `"3" are not letters`,
		"step\n":                      "has no name",
		"step One\n*blend":            "is not known",
		"step One\na AE cat\na AE at": "already taught",
		"step One\na_b AE cat":        "not written like a_e",
	} {
		_, err := ReadSequence(text)
		if err == nil || !fault.Is(err, fault.Invalid) || !strings.Contains(err.Error(), want) {
			t.Errorf("ReadSequence(%q): %v, want a fault with %q", text, err, want)
		}
	}
	own, err := ReadSequence("# mine\nstep Alles\n  a AE cat\n  c K cat\n  t T cat\n")
	if err != nil {
		t.Fatal(err)
	}
	if r := own.Read("cat", strings.Fields("K AE1 T")); r.Step != 1 {
		t.Errorf("cat in a sequence of one step: %+v", r)
	}
}

func TestPattern(t *testing.T) {
	for _, c := range []struct{ word, phones, want string }{
		{"night", "N AY1 T", "igh as in night"},
		{"bead", "B IY1 D", "ea as in bead"},
		{"bread", "B R EH1 D", "ea as in bread"},
		{"cow", "K AW1", "ow as in cow"},
		{"make", "M EY1 K", "a–e as in make"},
		{"said", "S EH1 D", ""},
		{"cat", "K AE1 T", "a as in cat"},
		{"garden", "G AA1 R D AH0 N", "ar as in car"},
		{"shut", "SH AH1 T", "sh as in ship"},
		{"knee", "N IY1", "kn as in knee"},
	} {
		if got := Pattern(c.word, strings.Fields(c.phones)); got != c.want {
			t.Errorf("Pattern(%s) = %q, want %q", c.word, got, c.want)
		}
	}
}
