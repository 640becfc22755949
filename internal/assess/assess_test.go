package assess

import (
	"fmt"
	"reflect"
	"slices"
	"testing"

	"bookstead/internal/kit"
)

func word(head, meaning string) kit.Item {
	return kit.Item{ID: kit.ItemID(head), Kind: kit.Vocabulary, State: kit.Kept, Marks: kit.Marks{Quiz: true, Test: true},
		Content: kit.Content{Head: head, Lemma: head, Meaning: meaning}}
}

func TestSpans(t *testing.T) {
	for _, c := range []struct {
		n, every int
		want     []Span
	}{
		{0, 4, nil},
		{3, 4, []Span{{1, 3}}},
		{8, 4, []Span{{1, 4}, {5, 8}}},
		{9, 4, []Span{{1, 4}, {5, 9}}}, // one lesson left over is no quiz of its own
		{10, 4, []Span{{1, 4}, {5, 8}, {9, 10}}},
	} {
		if got := Spans(c.n, c.every); !reflect.DeepEqual(got, c.want) {
			t.Errorf("Spans(%d, %d) = %v, want %v", c.n, c.every, got, c.want)
		}
	}
}

func TestMarkedLeavesOutDroppedSpareAndUnmarked(t *testing.T) {
	kept, dropped, spare, plain := word("kept", "a"), word("dropped", "b"), word("spare", "c"), word("plain", "d")
	dropped.State = kit.Dropped
	spare.State, spare.Spare = kit.Drafted, true
	plain.Marks = kit.Marks{Test: true}
	got := Marked(Quiz, []Lesson{{Number: 1, Items: []kit.Item{kept, dropped, spare, plain}}}, false)
	if len(got) != 1 || len(got[0].Items) != 1 || got[0].Items[0].ID != "kept" {
		t.Fatalf("Marked = %+v, want the kept item alone", got)
	}
}

func TestBuildForms(t *testing.T) {
	l := Lesson{Number: 1}
	for i := range 8 {
		l.Items = append(l.Items, word(fmt.Sprintf("word%d", i), fmt.Sprintf("meaning %d", i)))
	}
	l.Items = append(l.Items, word("twin", "meaning 3")) // would fit two words
	q := kit.Item{ID: "q", Kind: kit.Question, Content: kit.Content{Head: "Why?", Answer: "Because."}}
	l.Items = append(l.Items, q)
	papers := Build(Quiz, 1, []Lesson{l}, 7)
	if len(papers) != 2 {
		t.Fatalf("%d forms, want 2", len(papers))
	}
	if papers[0].Points() != papers[1].Points() || papers[0].Entries() != papers[1].Entries() {
		t.Error("the two forms are not equal in points and entries")
	}
	a, b := papers[0].Sections[0], papers[1].Sections[0]
	if reflect.DeepEqual(a.Choices, b.Choices) {
		t.Error("both forms have the meanings in the same order")
	}
	for _, s := range []Section{a, b} {
		if len(s.Entries) != 8 {
			t.Fatalf("%d words matched, want 8: no meaning may fit two", len(s.Entries))
		}
		for i, e := range s.Entries {
			k := slices.IndexFunc(s.Choices, func(c string) bool { return Letter(slices.Index(s.Choices, c)) == e.Key })
			want := "meaning " + e.Prompt[len("word"):]
			if k < 0 || s.Choices[k] != want {
				t.Errorf("key of %s is %s, which is not %q", e.Prompt, e.Key, want)
			}
			if k == i {
				t.Errorf("%s has its own meaning beside it", e.Prompt)
			}
		}
	}
	if again := Build(Quiz, 1, []Lesson{l}, 7); !reflect.DeepEqual(again, papers) {
		t.Error("the same items and seed gave other papers")
	}
	if Build(Quiz, 1, nil, 7) != nil {
		t.Error("nothing marked should make no paper")
	}
}

func TestLetter(t *testing.T) {
	for i, want := range map[int]string{0: "a", 25: "z", 26: "aa", -1: "?"} {
		if got := Letter(i); got != want {
			t.Errorf("Letter(%d) = %q, want %q", i, got, want)
		}
	}
}
