package people

import (
	"slices"
	"testing"
)

func naming(words ...string) *nameForm {
	f := &nameForm{n: 5, kind: "PER", sentences: map[int32]bool{}}
	for i, w := range words {
		if _, ok := titles[titleKey(w)]; ok && i < len(words)-1 && len(f.words) == 0 {
			f.titles = append(f.titles, titleKey(w))
		} else {
			f.words = append(f.words, w)
		}
	}
	f.gender = f.genderOf()
	return f
}

// Whose names may be one person's. The names are ours.
func TestFits(t *testing.T) {
	for _, c := range []struct {
		a, b []string
		one  bool
	}{
		{[]string{"Ellen", "Marsh"}, []string{"Ellen"}, true},
		{[]string{"Ellen", "Marsh"}, []string{"Nelly"}, true},
		{[]string{"Ellen", "Marsh"}, []string{"Miss", "Marsh"}, true},
		{[]string{"Ellen", "Marsh"}, []string{"Mistress", "Ellen"}, true},
		{[]string{"Ellen", "Marsh"}, []string{"Mrs.", "Marsh"}, false}, // her mother
		{[]string{"Ellen", "Marsh"}, []string{"Mr.", "Marsh"}, false},
		{[]string{"Ellen", "Marsh"}, []string{"Captain", "Marsh"}, false},
		{[]string{"Ellen", "Marsh"}, []string{"Aunt", "Marsh"}, false},
		{[]string{"Ellen", "Marsh"}, []string{"Ellen", "Pope"}, false},
		{[]string{"Ellen", "Marsh"}, []string{"Dr.", "Marsh"}, false},
		{[]string{"Robert", "Pope"}, []string{"Bob"}, true},
		{[]string{"Robert", "Pope"}, []string{"Bob", "Pope"}, true},
		{[]string{"Robert", "Pope"}, []string{"Mr.", "Pope"}, true},
		{[]string{"Robert", "Pope"}, []string{"R.", "Pope"}, true},
		{[]string{"Mr.", "Pope"}, []string{"Mrs.", "Pope"}, false},
		{[]string{"Dr.", "Pope"}, []string{"Mrs.", "Pope"}, false},
		{[]string{"Barnaby", "Pope"}, []string{"Barn", "Pope"}, true},
		{[]string{"Lady", "Catharine"}, []string{"Kitty"}, false}, // nobody calls her that
		{[]string{"Grey", "Goose"}, []string{"Goose"}, true},
	} {
		a, b := naming(c.a...), naming(c.b...)
		e := &entity{kind: "PER", forms: []*nameForm{a}, total: a.n}
		switch a.gender {
		case male:
			e.he = 10
		case female:
			e.she = 10
		}
		if got := fits(e, b) > 0; got != c.one {
			t.Errorf("%v and %v: one person %v, want %v", c.a, c.b, got, c.one)
		}
	}
}

// Names told side by side are two people's.
func TestTogether(t *testing.T) {
	a, b := naming("Mr.", "Pope"), naming("Robin")
	for i := range int32(6) {
		a.sentences[i], b.sentences[i+3] = true, true
	}
	e := &entity{forms: []*nameForm{a}, total: 6}
	if !together(b, e) {
		t.Error("three sentences name both, but they are not kept apart")
	}
	b.sentences = map[int32]bool{90: true, 5: true}
	if together(b, e) {
		t.Error("one sentence keeps them apart")
	}
}

func TestText(t *testing.T) {
	for want, f := range map[string]*nameForm{"Mrs. Pope": naming("Mrs", "Pope"), "Uncle Bob": naming("uncle", "Bob"), "Ellen Marsh": naming("Ellen", "Marsh")} {
		if got := f.text(); got != want {
			t.Errorf("shown as %q, want %q", got, want)
		}
	}
	if usual("MARY") != "Mary" || usual("Mary") != "Mary" || usual("I") != "I" {
		t.Error("capitals are not made usual")
	}
}

// The best path: who has a cue is sure, between two speakers turn follows turn.
func TestPath(t *testing.T) {
	s := &story{es: []*entity{{kind: "PER", named: true}, {kind: "PER", named: true}}, narrator: -1}
	turnOf := func(f ...int) turn {
		x := turn{cue: -1, to: -1}
		for e := range 2 {
			c := candidate{entity: e}
			if e < len(f) && f[e] >= 0 {
				c.f = append(c.f, feature{f[e], 1})
			}
			x.candidates = append(x.candidates, c)
		}
		return x
	}
	ts := []turn{turnOf(cueNamed, cueOther), turnOf(cueOther, cueNamed), turnOf(), turnOf(), turnOf()}
	l, err := s.lattice(t.Context(), ts, weights[:], beam)
	if err != nil {
		t.Fatal(err)
	}
	l.forward()
	l.backward()
	var who []int
	for i, k := range l.path() {
		who = append(who, l.states[i][k].who)
	}
	if want := []int{0, 1, 0, 1, 0}; !slices.Equal(who, want) {
		t.Errorf("speakers %v, want %v", who, want)
	}
	for i, p := range l.posteriors(ts) {
		sum := p[0] + p[1]
		if sum < 0.999 || sum > 1.001 {
			t.Errorf("turn %d: likelihoods %v do not sum to 1", i, p)
		}
	}
}
