package sense

import "testing"

// The reason that is told is the part that speaks most for the sense.
func TestWhy(t *testing.T) {
	a, b := Ranked{}, Ranked{}
	a.Number, b.Number = 1, 2
	for part, want := range map[int]string{
		read: "it is so used in such sentences", first: "its most usual meaning", sentence: "the sentence speaks of such things",
		nearby: "the sentences around speak of such things", text: "it has this meaning elsewhere in the text",
		frames: "the sentence is built as this meaning asks for", average: "words of that meaning fit the place",
	} {
		a.parts = evidence{}
		a.parts[part] = 1 / weights[part]
		if got := why([]Ranked{a, b}, 0, 1); got != want {
			t.Errorf("part %d: %q, want %q", part, got, want)
		}
	}
	if got := why([]Ranked{a}, 0, 0); got != "its only meaning" {
		t.Errorf("%q", got)
	}
}

func TestFrameMatch(t *testing.T) {
	object := pattern{known: true, object: true}
	to := pattern{known: true, to: true}
	for _, c := range []struct {
		p      pattern
		frames uint64
		want   float64
	}{
		{object, bits(8), 1}, {object, bits(2), -1}, {to, bits(28), 1}, {to, bits(8), -1}, {pattern{known: true}, bits(2), 1}, {pattern{}, bits(2), 0}, {object, 0, 0},
	} {
		if got := c.p.match(c.frames); got != c.want {
			t.Errorf("%+v in %b: %v, want %v", c.p, c.frames, got, c.want)
		}
	}
}
