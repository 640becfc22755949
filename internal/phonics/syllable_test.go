package phonics

import (
	"strings"
	"testing"
)

func TestSyllables(t *testing.T) {
	for _, c := range []struct{ word, phones, want string }{
		{"rabbit", "R AE1 B AH0 T", "rab/closed bit/closed"},
		{"table", "T EY1 B AH0 L", "ta/open ble/consonant with le"},
		{"garden", "G AA1 R D AH0 N", "gar/with r den/closed"},
		{"robin", "R AA1 B AH0 N", "rob/closed in/closed"},
		{"tiger", "T AY1 G ER0", "ti/open ger/with r"},
		{"invite", "IH2 N V AY1 T", "in/closed vite/final silent e"},
		{"raining", "R EY1 N IH0 NG", "rai/vowel team ning/closed"},
		{"monster", "M AA1 N S T ER0", "mon/closed ster/with r"},
		{"fire", "F AY1 ER0", "fire/with r"},
		{"little", "L IH1 T AH0 L", "lit/closed tle/consonant with le"},
		{"basement", "B EY1 S M AH0 N T", "base/final silent e ment/closed"},
		{"Well-bred", "W EH1 L B R EH1 D", "Well-/closed bred/closed"},
	} {
		var got []string
		for _, s := range Syllables(c.word, Align(c.word, strings.Fields(c.phones))) {
			got = append(got, s.Text+"/"+string(s.Type))
		}
		if g := strings.Join(got, " "); g != c.want {
			t.Errorf("Syllables(%s) = %q, want %q", c.word, g, c.want)
		}
	}
}
