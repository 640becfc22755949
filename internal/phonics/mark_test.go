package phonics

import "testing"

func TestShows(t *testing.T) {
	s, steps := speaker(t), UsualSequence()
	for _, c := range []struct{ word, want string }{
		{"train", "tr[ai]n"}, {"make", "m[a]k[e]"}, {"night", "n[igh]t"}, {"ship", "[sh]ip"},
	} {
		said, _ := s.Say(c.word, AnyPart)
		r := steps.Read(c.word, said.Phones)
		ex, ok := steps.Example(r)
		if got := steps.Shows(c.word, r, ex); !ok || got != c.want {
			t.Errorf("%s is shown as %q, want %q", c.word, got, c.want)
		}
	}
	said, _ := s.Say("said", AnyPart)
	r := steps.Read("said", said.Phones)
	if got := steps.Irregular("said", r); got != "s[ai]d" {
		t.Errorf("said is marked %q", got)
	}
}
