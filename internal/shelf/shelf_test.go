package shelf

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"bookstead/internal/book"
	"bookstead/internal/calendar"
	"bookstead/internal/class"
	"bookstead/internal/fault"
	"bookstead/internal/kit"
	"bookstead/internal/lang"
	"bookstead/internal/lang/english"
	"bookstead/internal/lexicon"
	"bookstead/internal/passage"
	"bookstead/internal/phonics"
	"bookstead/internal/plan"
	"bookstead/internal/planner"
)

var ctx = context.Background()

// novel is a book of one chapter, analysed as the shelf does it, without trees.
func novel(t *testing.T, paragraphs ...string) (*book.Book, *lang.Doc, *lexicon.Lexicon) {
	t.Helper()
	var w book.Builder
	w.Chapter(book.Chapter{Kind: book.Front, Label: "Contents", Part: -1})
	w.Add(book.Paragraph, "The dead are killed in the contents.")
	w.Chapter(book.Chapter{Kind: book.Body, Number: 1, Label: "Chapter 1", Part: -1})
	for _, p := range paragraphs {
		w.Add(book.Paragraph, p)
	}
	b := w.Book()
	b.Title = "The Quay"
	d, err := english.Cut(ctx, b.Text, passage.Paragraphs(b), english.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if err := english.Fill(ctx, d, english.Options{}); err != nil {
		t.Fatal(err)
	}
	lex, err := lexicon.Open()
	if err != nil {
		t.Fatal(err)
	}
	return b, d, lex
}

func grade4() class.Class {
	return class.Class{Grade: 4, Settings: class.Defaults(4), Calendar: calendar.PlainYear(calendar.Of(2026, 9, 7), 60)}
}

func TestMeasure(t *testing.T) {
	b, d, lex := novel(t, "“Come on,” said Mary. Tom ran down to the old quay.", "The hawser was an abomination to Tom.")
	f, err := Measure(ctx, lex, b, d, grade4(), Options{})
	if err != nil {
		t.Fatal(err)
	}
	// 18 words; Mary and Tom twice are names; two of the words are spoken.
	if f.Words != 18 || f.Names != round(3.0/18, 4) || f.Dialogue != round(2.0/18, 4) || f.Chapters != 1 || f.Lessons != 1 || f.Weeks != 0.2 || f.Decodable != -1 {
		t.Errorf("%+v", f)
	}
	if !slices.Contains(f.Hardest, "abomination") || slices.Contains(f.Hardest, "run") || f.Beyond <= 0 || f.Beyond > 0.4 || f.Ease == 0 || len(f.Scores) == 0 {
		t.Errorf("%+v", f)
	}
	sp, err := phonics.NewSpeaker(lex)
	if err != nil {
		t.Fatal(err)
	}
	early, err := Measure(ctx, lex, b, d, grade4(), Options{Step: 3, Speaker: sp})
	if err != nil {
		t.Fatal(err)
	}
	late, err := Measure(ctx, lex, b, d, grade4(), Options{Step: len(phonics.UsualSequence().Steps), Speaker: sp})
	if err != nil || early.Decodable < 0 || late.Decodable <= early.Decodable || late.Decodable > 1 {
		t.Errorf("%v, %v, %v", early.Decodable, late.Decodable, err)
	}
	stopped, cancel := context.WithCancel(ctx)
	cancel()
	if _, err := Measure(stopped, lex, b, d, grade4(), Options{}); err == nil {
		t.Error("it went on")
	}
	if _, err := Measure(ctx, lex, b, &lang.Doc{Text: b.Text}, grade4(), Options{}); err == nil {
		t.Error("a text that was not analysed was measured")
	}
}

func TestSee(t *testing.T) {
	b, d, lex := novel(t,
		"The old horse died in the night. They whipped the boy. It was the dead of night, and the wind died away. He buried the key in the dead garden.",
		"She was dying to know. They heard a wood-pecker. The wench laughed. He whipped out a paper. They buried their father on Sunday.")
	f, err := Measure(ctx, lex, b, d, grade4(), Options{})
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, s := range f.See {
		got = append(got, fmt.Sprint(s.Kind, ": ", s.Sentence))
		if b.Text[s.Place.Start:s.Place.End] != s.Sentence || s.Kind == Term != (s.Why != "") {
			t.Errorf("%+v", s)
		}
	}
	want := "death: The old horse died in the night. | cruelty: They whipped the boy. | term: The wench laughed. | death: They buried their father on Sunday."
	if s := strings.Join(got, " | "); s != want {
		t.Errorf("got  %s\nwant %s", s, want)
	}
}

func shelf(n int) []*Facts {
	rnd := rand.New(rand.NewPCG(1, 2))
	var out []*Facts
	for i := range n {
		out = append(out, &Facts{Book: book.ID(fmt.Sprint("b", i)), Title: fmt.Sprint("Book ", rnd.IntN(n)), Author: []string{"Ames", "Brown"}[i%2],
			Words: rnd.IntN(100_000), Weeks: float64(rnd.IntN(100)) / 10, Ease: float64(rnd.IntN(100)), See: make([]Sight, rnd.IntN(20))})
	}
	return out
}

func TestSortAndFilter(t *testing.T) {
	list := shelf(60)
	for _, c := range Columns() {
		for _, down := range []bool{false, true} {
			if err := Sort(list, c.Key, down); err != nil {
				t.Fatal(err)
			}
			for i := 1; i < len(list); i++ {
				if c.Value == nil {
					continue
				}
				if x, y := c.Value(list[i-1]), c.Value(list[i]); x > y && !down || x < y && down {
					t.Fatalf("by %s: %v before %v", c.Key, x, y)
				}
			}
		}
	}
	got, err := Filter(list, "BOOK ames", []Bound{{"words", 20_000, 50_000}, {"ease", 0, 80}})
	if err != nil || len(got) == 0 || len(got) == len(list) {
		t.Fatal(len(got), err)
	}
	for _, f := range list {
		in := f.Author == "Ames" && f.Words >= 20_000 && f.Words <= 50_000 && f.Ease <= 80
		if in != slices.Contains(got, f) {
			t.Errorf("%+v", f)
		}
	}
	if err := Sort(list, "colour", false); !fault.Is(err, fault.Invalid) {
		t.Error(err)
	}
	if _, err := Filter(list, "", []Bound{{Key: "title"}}); !fault.Is(err, fault.Invalid) {
		t.Error(err)
	}
}

func TestFits(t *testing.T) {
	first := calendar.Of(2026, 9, 7)
	c := calendar.PlainYear(first, 60)
	c.Last = first + 11 // two weeks
	short := func(id kit.ID, lessons int) planner.Book {
		b := planner.Book{Kit: id, Title: string(id)}
		for n := range lessons {
			b.Lessons = append(b.Lessons, planner.Lesson{Number: n + 1, Steps: []plan.Step{{Kind: plan.Reading, Lesson: n + 1, Minutes: 50}}})
		}
		return b
	}
	r := planner.Request{Calendar: c, Books: []planner.Book{short("a", 4)}}
	s, err := Fits(ctx, r, short("b", 5))
	if err != nil || s.First != first+4 || s.Last != first+10 || !s.Whole {
		t.Errorf("%+v %v", s, err)
	}
	if s, err = Fits(ctx, r, short("b", 8)); err != nil || s.Whole || s.Why != "100 minutes of its work find no day." {
		t.Errorf("%+v %v", s, err)
	}
}

func BenchmarkSortAndFilter500(b *testing.B) {
	list := shelf(500)
	for i := 0; b.Loop(); i++ {
		if err := Sort(list, []string{"words", "title", "cruelty"}[i%3], i%2 == 0); err != nil {
			b.Fatal(err)
		}
		if _, err := Filter(list, "book", []Bound{{"weeks", 2, 8}}); err != nil {
			b.Fatal(err)
		}
	}
}
