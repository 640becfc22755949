package book

import (
	"strings"
	"testing"
)

func TestPagesBetweenChapters(t *testing.T) {
	b := madeUp(t)
	c := b.Chapters
	e := Edition{First: map[int]int{1: 3, 3: 9}, Last: 12}
	if err := e.Validate(b); err != nil {
		t.Fatal(err)
	}
	p := e.Pages(b)
	for _, k := range []struct {
		name   string
		offset int
		page   int
		about  bool
	}{
		{"first page of chapter 1", c[1].Start, 3, false},
		{"its first word", c[1].Body, 3, false},
		{"the end of chapter 2", c[2].End - 1, 8, true},
		{"first page of chapter 3", c[3].Start, 9, false},
		{"half-way through chapter 3", (c[3].Start + c[3].End) / 2, 11, true},
		{"the last word", c[3].End - 1, 12, false},
		{"in front of the first known page", 0, 2, true},
	} {
		page, about, ok := p.At(k.offset)
		if !ok || page != k.page || about != k.about {
			t.Errorf("%s: page %d, about %v, ok %v; want %d, %v", k.name, page, about, ok, k.page, k.about)
		}
	}
	if first, last, about, ok := p.Range(c[2].Span); !ok || !about || first < 3 || last != 8 || first > last {
		t.Errorf("chapter 2 covers pages %d to %d, about %v, ok %v", first, last, about, ok)
	}
}

// TestPagesNeverFall is the law of the reckoned pages: they never go backwards,
// stay between the known ones, and meet them.
func TestPagesNeverFall(t *testing.T) {
	b := madeUp(t)
	at := strings.LastIndex(b.Text, "Rain fell")
	for _, e := range []Edition{
		{First: map[int]int{1: 3, 2: 4, 3: 9}, Last: 12},
		{First: map[int]int{1: 3, 3: 40}},
		{First: map[int]int{2: 5}, Last: 5},
		{First: map[int]int{1: 1}, Fixed: []FixedPage{{b.Place(Span{at, at + 9}), 14}}},
		{First: map[int]int{1: 8, 2: 4, 3: 20}}, // page 4 contradicts page 8 and is left out
	} {
		p, last := e.Pages(b), 0
		for o := range b.Text {
			page, _, ok := p.At(o)
			if !ok && (last > 0 || len(p.marks) > 1 && p.rate > 0) || ok && (page < last || page < 1) {
				t.Fatalf("%+v: page %d, ok %v at %d, behind page %d", e, page, ok, o, last)
			}
			last = page
		}
	}
}

func TestPagesCorrected(t *testing.T) {
	b := madeUp(t)
	e := Edition{First: map[int]int{1: 3, 3: 9}}
	at := strings.Index(b.Text, "swam on and on. The frog")
	p0, about, _ := e.Pages(b).At(at)
	if !about || p0 == 7 {
		t.Fatalf("page %d, about %v before the correction", p0, about)
	}
	e.Fixed = []FixedPage{{b.Place(Span{at, at + 4}), 7}}
	p := e.Pages(b)
	if page, about, ok := p.At(at + 1); page != 7 || about || !ok {
		t.Errorf("page %d, about %v, ok %v where it was corrected; want 7", page, about, ok)
	}
	if page, about, ok := p.At(at + 200); page < 7 || page > 8 || !about || !ok {
		t.Errorf("page %d, about %v, ok %v behind the correction; want 7 or 8, about", page, about, ok)
	}
}

func TestPagesUnknown(t *testing.T) {
	b := madeUp(t)
	if _, _, ok := (Edition{}).Pages(b).At(10); ok {
		t.Error("a page is known although none was typed")
	}
	p := Edition{First: map[int]int{2: 5}}.Pages(b)
	if page, about, ok := p.At(b.Chapters[2].Start); page != 5 || about || !ok {
		t.Errorf("page %d, about %v, ok %v at the only known place", page, about, ok)
	}
	if _, _, ok := p.At(b.Chapters[3].End - 1); ok {
		t.Error("one known page says nothing about a page elsewhere")
	}
}

func TestPageProblems(t *testing.T) {
	b := madeUp(t)
	gone := b.Place(Span{0, 4})
	gone.Exact = "no such words"
	for _, k := range []struct {
		e    Edition
		want string // "" for none
	}{
		{Edition{First: map[int]int{1: 3, 2: 3, 3: 9}, Last: 12}, ""},
		{Edition{First: map[int]int{1: 9, 2: 4}}, "Chapter 2 is on page 4, but Chapter 1, “Reeds”, before it is on page 9."},
		{Edition{First: map[int]int{1: 0}}, "Chapter 1, “Reeds”, cannot start on page 0."},
		{Edition{First: map[int]int{17: 3}}, "a chapter that this book does not have"},
		{Edition{First: map[int]int{3: 9}, Last: 4}, "the end of the story is on page 4, but"},
		{Edition{Fixed: []FixedPage{{gone, 4}}}, "no longer in the text"},
		{Edition{Fixed: []FixedPage{{b.Place(Span{0, 8}), -4}}}, "cannot stand on page -4"},
	} {
		err := k.e.Validate(b)
		if (k.want == "") != (err == nil) || err != nil && !strings.Contains(err.Error(), k.want) {
			t.Errorf("%+v: %v, want %q", k.e, err, k.want)
		}
	}
	var w Builder
	w.Chapter(Chapter{Kind: Body, Label: "Chapter 1", Part: -1})
	w.Add(Paragraph, strings.Repeat("word ", 3000))
	w.Chapter(Chapter{Kind: Body, Label: "Chapter 2", Part: -1})
	w.Add(Paragraph, "End.")
	err := Edition{First: map[int]int{0: 3, 1: 4}}.Validate(w.Book())
	if err == nil || !strings.Contains(err.Error(), "From page 3 to page 4 there is no room for 3000 words.") {
		t.Errorf("3,000 words on two pages: %v", err)
	}
}

func TestEditionFromPageList(t *testing.T) {
	b := madeUp(t)
	b.Pages = []Page{{0, "i"}, {b.Chapters[1].Start, "1"}, {b.Chapters[2].Body + 40, "2"}, {b.Chapters[3].Body, "3"}, {b.Chapters[3].End - 3, "4"}}
	e, ok := b.EditionFromPageList()
	if !ok || e.First[1] != 1 || e.First[2] != 1 || e.First[3] != 3 || e.Last != 4 || len(e.First) != 3 {
		t.Errorf("%+v, %v", e, ok)
	}
	if _, ok := (&Book{Text: "a", Chapters: b.Chapters[:1]}).EditionFromPageList(); ok {
		t.Error("no page list, yet an edition")
	}
}
