package lexicon

import "testing"

// Frames as WordNet's data.verb has them: "give" takes frame 14 (Somebody ----s
// somebody something), "sleep" frame 2 (Somebody ----s) and no object.
func TestFrames(t *testing.T) {
	l := opened(t)
	for _, c := range []struct {
		key      string
		has, not int
	}{{"give%2:40:03::", 14, 2}, {"sleep%2:29:00::", 2, 8}, {"persuade%2:32:00::", 24, 2}} {
		s, ok := l.SenseByKey(c.key)
		if !ok {
			t.Fatalf("no sense %s", c.key)
		}
		if f := l.Frames(s.Synset); f>>c.has&1 != 1 || f>>c.not&1 != 0 {
			t.Errorf("%s: frames %b, want %d and not %d", c.key, f, c.has, c.not)
		}
	}
	if s := l.Senses("dog", Noun); l.Frames(s[0].Synset) != 0 {
		t.Error("a noun has frames")
	}
}
