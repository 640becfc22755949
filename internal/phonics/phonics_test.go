package phonics

import (
	"strings"
	"testing"
)

// Pronunciations are those of the CMU Pronouncing Dictionary.
func TestPattern(t *testing.T) {
	for _, c := range []struct{ word, phones, want string }{
		{"night", "N AY1 T", "igh as in night"},
		{"bead", "B IY1 D", "ea as in bead"},
		{"bread", "B R EH1 D", "ea as in bread"},
		{"snow", "S N OW1", "ow as in snow"},
		{"cow", "K AW1", "ow as in cow"},
		{"make", "M EY1 K", "a–e as in make"},
		{"have", "HH AE1 V", ""},
		{"car", "K AA1 R", "ar as in car"},
		{"cat", "K AE1 T", "short a as in cat"},
		{"said", "S EH1 D", ""},
		{"ship", "SH IH1 P", "sh as in ship"},
		{"knee", "N IY1", "kn as in knee"},
	} {
		if got := Pattern(c.word, strings.Fields(c.phones)); got != c.want {
			t.Errorf("Pattern(%s) = %q, want %q", c.word, got, c.want)
		}
	}
}
