package book

import (
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// madeUp lays down a small book with front matter, a part and three chapters.
func madeUp(t testing.TB) *Book {
	var w Builder
	w.Chapter(Chapter{Kind: Front, Part: -1})
	w.Add(Paragraph, "The Pond, by A. Heron")
	p := w.Part(Part{Label: "Part One", Title: "Water"})
	w.Chapter(Chapter{Kind: Body, Label: "Chapter 1", Number: 1, Title: "Reeds", Part: p})
	w.Add(Heading, "Part One")
	w.Add(Heading, "1")
	w.Page("7", 4)
	w.Add(Paragraph, "  A frog sat still. ", Span{4, 8})
	w.Add(Verse, "Croak\ncroak")
	w.Chapter(Chapter{Kind: Body, Label: "Chapter 2", Number: 2, Part: p})
	w.Add(Heading, "2")
	w.Add(Quote, "Water finds its way.")
	w.Add(Heading, "On the bank")
	w.BodyHere()
	w.Add(Paragraph, strings.Repeat("The frog swam on and on. ", 40))
	w.Part(Part{Label: "Part Two"}) // holds nothing
	w.Chapter(Chapter{Kind: Body, Part: 1})
	w.Chapter(Chapter{Kind: Body, Label: "Chapter 3", Number: 3, Part: -1})
	w.Add(Heading, "3")
	w.Add(Paragraph, strings.Repeat("Rain fell on the pond. ", 40))
	b := w.Book()
	if err := b.Check(); err != nil {
		t.Fatal(err)
	}
	return b
}

func TestBuilder(t *testing.T) {
	b := madeUp(t)
	if len(b.Chapters) != 4 || len(b.Parts) != 1 {
		t.Fatalf("%d chapters in %d parts, want 4 in 1: the empty ones go", len(b.Chapters), len(b.Parts))
	}
	c := b.Chapters[1]
	if got, want := b.Slice(c.Span), "Part One\n\n1\n\nA frog sat still.\n\nCroak\ncroak"; got != want {
		t.Errorf("chapter 1 is %q, want %q", got, want)
	}
	if got := b.Slice(Span{c.Body, c.Body + 6}); got != "A frog" {
		t.Errorf("the text of chapter 1 starts with %q", got)
	}
	if got := b.Slice(b.BlocksIn(c.Span)[2].Emphasis[0]); got != "frog" {
		t.Errorf("%q is set in italics, want \"frog\"", got)
	}
	if got := b.Slice(Span{b.Chapters[2].Body, b.Chapters[2].Body + 8}); got != "The frog" {
		t.Errorf("BodyHere: the text of chapter 2 starts with %q", got)
	}
	if got := b.Slice(Span{b.Pages[0].Offset, b.Pages[0].Offset + 5}); got != "og sa" {
		t.Errorf("page 7 starts at %q", got)
	}
	if got := cmp.Diff([]int{-1, 0, 0, -1}, []int{b.Chapters[0].Part, b.Chapters[1].Part, b.Chapters[2].Part, b.Chapters[3].Part}); got != "" {
		t.Error(got)
	}
}

func TestCheckFindsBrokenRules(t *testing.T) {
	for name, spoil := range map[string]func(*Book){
		"not UTF-8":         func(b *Book) { b.Text = "\xff" + b.Text[1:] },
		"gap":               func(b *Book) { b.Blocks[1].Start++ },
		"blank line inside": func(b *Book) { b.Blocks[0].End = b.Blocks[1].End; b.Blocks = append(b.Blocks[:1], b.Blocks[2:]...) },
		"text behind":       func(b *Book) { b.Text += "more" },
		"emphasis outside":  func(b *Book) { b.Blocks[3].Emphasis = []Span{{0, 3}} },
		"chapter missing":   func(b *Book) { b.Chapters = b.Chapters[:2] },
		"chapter overlap":   func(b *Book) { b.Chapters[2].Start = b.Chapters[1].Start },
		"chapter cut":       func(b *Book) { b.Chapters[3].End-- },
		"body outside":      func(b *Book) { b.Chapters[1].Body = b.Chapters[1].End + 1 },
		"no such part":      func(b *Book) { b.Chapters[1].Part = 3 },
		"page outside":      func(b *Book) { b.Pages[0].Offset = len(b.Text) },
	} {
		b := madeUp(t)
		spoil(b)
		if b.Check() == nil {
			t.Errorf("%s: Check found nothing", name)
		}
	}
}

// TestPlaceSurvives is the law of places: a span of words found in a book is
// found again after text was put in front of it and elsewhere.
func TestPlaceSurvives(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	b := madeUp(t)
	long := &Book{Text: b.Text + "\n\nA heron came by at dawn, and the frog saw its two long legs between the reeds."}
	for range 500 {
		at := strings.LastIndexByte(long.Text[:len(b.Text)+20+r.IntN(50)], ' ') + 1
		s := Span{at, min(at+3+r.IntN(12), len(long.Text))}
		p := long.Place(s)
		if got, ok := long.Find(p); !ok || got != s {
			t.Fatalf("%v is found at %v, %v in the same text", s, got, ok)
		}
		pre := strings.Repeat("New words. ", r.IntN(5))
		changed := &Book{Text: pre + long.Text}
		want := Span{s.Start + len(pre), s.End + len(pre)}
		if got, ok := changed.Find(p); !ok || got != want {
			t.Fatalf("%q is found at %v, %v; want %v", p.Exact, got, ok, want)
		}
	}
	if _, ok := long.Find(Place{Exact: "otter"}); ok {
		t.Error("found words that are not there")
	}
}
