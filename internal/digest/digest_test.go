package digest

import (
	"context"
	"slices"
	"strings"
	"testing"

	"bookstead/internal/book"
	"bookstead/internal/lang"
	"bookstead/internal/lang/english"
	"bookstead/internal/passage"
)

// story is a book of two chapters, read as the program reads it.
func story(t *testing.T) (*book.Book, *lang.Doc) {
	t.Helper()
	var w book.Builder
	w.Chapter(book.Chapter{Kind: book.Body, Number: 1, Label: "Chapter 1", Title: "The Quay", Part: -1})
	w.Add(book.Paragraph, "Mary Ames lived with her father by the old quay. Every morning Mary walked down to the water and counted the boats. “There are nine,” said Mary. Her father laughed and gave Mary an apple.")
	w.Chapter(book.Chapter{Kind: book.Body, Number: 2, Label: "Chapter 2", Title: "", Part: -1})
	w.Add(book.Paragraph, "One day a boy named Tom Hill came to the quay with a letter. Tom gave Mary the letter, and she opened it at once. Tom sat down on the wall. Tom ate his bread while Mary read. Her father had sold the boat. Mary ran into the house and Tom followed her. “It is not fair,” said Tom.")
	w.Add(book.Paragraph, "In the night Mary left the house. She found the boat in the harbor and hid under the sail. Tom saw her and called her father. Her father carried Mary home, and he promised to buy the boat again. Tom laughed. Tom danced on the quay.")
	b := w.Book()
	d, err := english.Cut(context.Background(), b.Text, passage.Paragraphs(b), english.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if err := english.Understand(context.Background(), d, english.Options{}); err != nil {
		t.Fatal(err)
	}
	return b, d
}

func texts(lines []Line) string {
	var out []string
	for _, l := range lines {
		out = append(out, l.Text)
	}
	return strings.Join(out, " | ")
}

func TestDigest(t *testing.T) {
	b, d := story(t)
	g := Of(b, d, 1)
	if g.Title != "Chapter 2" || g.Words < 90 || !strings.Contains(g.Note, "computed from the text") {
		t.Errorf("%+v", g)
	}
	i := slices.IndexFunc(g.Who, func(p Person) bool { return strings.Contains(p.Name, "Tom") })
	k := slices.IndexFunc(g.Who, func(p Person) bool { return strings.Contains(p.Name, "Mary") })
	if i < 0 || k < 0 || !g.Who[i].New || g.Who[k].New {
		t.Errorf("who: %+v", g.Who)
	}
	if len(g.Happens) < 4 {
		t.Errorf("happens: %s", texts(g.Happens))
	}
	for n, l := range g.Happens {
		if n > 0 && l.Place.Start <= g.Happens[n-1].Place.Start {
			t.Errorf("out of order: %s", texts(g.Happens))
		}
		// Without the names in brackets and the dots, each line is the book's own text.
		plain := l.Text
		for strings.Contains(plain, " [") {
			a := strings.Index(plain, " [")
			plain = plain[:a] + plain[a+strings.Index(plain[a:], "]")+1:]
		}
		plain = strings.TrimSuffix(strings.TrimPrefix(plain, "… "), " …")
		if !strings.Contains(b.Text, plain) || !strings.Contains(b.Text[l.Place.Start:l.Place.End], plain) {
			t.Errorf("%q is not in the book", plain)
		}
		if strings.Contains(l.Text, "not fair") {
			t.Errorf("speech is told as what happens: %q", l.Text)
		}
	}
	all := texts(g.Changed)
	if !strings.Contains(all, "comes into the story.") || !strings.Contains(all, "promised to buy the boat") {
		t.Errorf("changed: %s", all)
	}
	if first := Of(b, d, 0); strings.Contains(texts(first.Changed), "comes into the story") {
		t.Errorf("everybody is new in a first chapter: %s", texts(first.Changed))
	}
}

func TestNotRead(t *testing.T) {
	b, _ := story(t)
	g := Of(b, &lang.Doc{Text: b.Text}, 0)
	if g.Happens != nil || !strings.Contains(g.Note, "has not been read closely enough") {
		t.Errorf("%+v", g)
	}
}
