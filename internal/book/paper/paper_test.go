package paper

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"bookstead/internal/book"
	"bookstead/internal/fault"
)

func TestParseContents(t *testing.T) {
	for _, c := range []struct {
		text string
		want []Entry
	}{
		{"1  The Boy Who Lived There ... 7\n2  A Loud Night ....... 19", []Entry{
			{Label: "Chapter 1", Number: 1, Title: "The Boy Who Lived There", Page: 7}, {Label: "Chapter 2", Number: 2, Title: "A Loud Night", Page: 19}}},
		{"Chapter 3: The Hill, p. 27\nChapter 4: The Well (page 31)", []Entry{
			{Label: "Chapter 3", Number: 3, Title: "The Hill", Page: 27}, {Label: "Chapter 4", Number: 4, Title: "The Well", Page: 31}}},
		{"Contents\n\nPrologue ix\nPART ONE\nI. Reeds 5\nII. Rushes 11\nPART TWO: Land\nIII. Home 30\nEpilogue\t44", []Entry{
			{Title: "Prologue"}, {Part: true, Label: "Part One", Number: 1}, {Label: "Chapter I", Number: 1, Title: "Reeds", Page: 5}, {Label: "Chapter II", Number: 2, Title: "Rushes", Page: 11},
			{Part: true, Label: "Part Two", Number: 2, Title: "Land"}, {Label: "Chapter III", Number: 3, Title: "Home", Page: 30}, {Title: "Epilogue", Page: 44}}},
		{"Prologue ... ix\nThe Pond – 12", []Entry{{Title: "Prologue"}, {Title: "The Pond", Page: 12}}},
		{"The Fox\nNumber 22\nThe Crow", []Entry{{Title: "The Fox"}, {Title: "Number 22"}, {Title: "The Crow"}}},
		{"Chapter 1 7\nChapter 2 15\nChapter 3 29", []Entry{
			{Label: "Chapter 1", Number: 1, Page: 7}, {Label: "Chapter 2", Number: 2, Page: 15}, {Label: "Chapter 3", Number: 3, Page: 29}}},
		{"Chapter 1\r\nChapter 2\r\nChapter 3", []Entry{{Label: "Chapter 1", Number: 1}, {Label: "Chapter 2", Number: 2}, {Label: "Chapter 3", Number: 3}}},
		{"", nil},
	} {
		got, problems := ParseContents(c.text)
		if diff := cmp.Diff(c.want, got); diff != "" || len(problems) > 0 {
			t.Errorf("%q: %s %v", c.text, diff, problems)
		}
	}
}

func TestContentsProblems(t *testing.T) {
	_, p := ParseContents("1. A ... 7\n\n2. B ... 5\n5. C ... 30")
	if len(p) != 2 || p[0].Line != 3 || !strings.Contains(p[0].Message, "Line 3 says page 5, but the chapter before begins on page 7.") || !strings.Contains(p[1].Message, "Line 4 is chapter 5, but the one before is chapter 2.") {
		t.Errorf("%+v", p)
	}
}

func TestParseTyped(t *testing.T) {
	if diff := cmp.Diff([]Passage{{"He ran.", 12}, {"She saw the pond.", 0}, {"“Yes,” said Mole.", 14}, {"Room (12b) is shut.", 0}},
		ParseSentences("p. 12: He ran.\n\n• She saw the\u00a0 pond.\n“Yes,” said Mole. (p. 14)\nRoom (12b) is shut.")); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff([]Passage{{"The frog sat on the long leaf and looked at the moon over the pond.", 3}, {"Roses are red,\nViolets blue.", 0}},
		ParsePassages("p. 3\nThe frog sat on the long leaf and looked\nat the moon over the pond.\n\nRoses are red,\nViolets blue.")); diff != "" {
		t.Error(diff)
	}
	for text, want := range map[string][]Word{
		"weary – very tired (p. 12)\ngallop: run fast\n3. bridle\nwell-bred": {{Word: "weary", Meaning: "very tired", Page: 12}, {Word: "gallop", Meaning: "run fast"}, {Word: "bridle"}, {Word: "well-bred"}},
		"weary, gallop; hay loft (p. 4), bridle":                             {{Word: "weary"}, {Word: "gallop"}, {Word: "hay loft", Page: 4}, {Word: "bridle"}},
		" \n":                                                                nil,
	} {
		if diff := cmp.Diff(want, ParseWords(text)); diff != "" {
			t.Errorf("%q: %s", text, diff)
		}
	}
}

func input() Input {
	return Input{Title: "The Pond", Author: "A. Heron", Last: 40, Chapters: []Chapter{
		{Entry: Entry{Title: "Prologue", Page: 1}},
		{Entry: Entry{Part: true, Label: "Part One", Title: "Water"}},
		{Entry: Entry{Label: "Chapter 1", Number: 1, Title: "Reeds", Page: 5},
			Passages:  []Passage{{"The frog sat. The frog sang.\n\nThen it rained.", 6}},
			Sentences: []Passage{{"The frog sang.", 6}, {"Mole was weary.", 8}},
			Words:     []Word{{Word: "weary", Meaning: "tired", Sentence: "Mole was weary.", Page: 8}, {Word: "reed", Sentence: "A reed bent."}}},
		{Entry: Entry{Label: "Chapter 2", Number: 2, Page: 21}},
	}}
}

func TestMake(t *testing.T) {
	r, err := Make(input())
	if err != nil {
		t.Fatal(err)
	}
	b := r.Book
	if err := b.Check(); err != nil {
		t.Fatal(err)
	}
	want := "Prologue\n\nPart One: Water\n\nChapter 1: Reeds\n\nThe frog sat. The frog sang.\n\nThen it rained.\n\nMole was weary.\n\nA reed bent.\n\nChapter 2"
	if diff := cmp.Diff(want, b.Text); diff != "" {
		t.Error(diff)
	}
	if b.ID != "the-pond-a-heron" || b.Source.Format != "paper" || b.Source.SHA256 == "" {
		t.Errorf("%q %+v", b.ID, b.Source)
	}
	if len(b.Chapters) != 3 || b.Chapters[0].Kind != book.Introduction || b.Chapters[1].Part != 0 || b.Chapters[0].Part != -1 || b.Chapters[1].Title != "Reeds" || b.Chapters[2].Label != "Chapter 2" {
		t.Errorf("%+v", b.Chapters)
	}
	if len(r.Words) != 3 || len(r.Words[1]) != 2 || r.Words[1][0].Word != "weary" {
		t.Errorf("words %+v", r.Words)
	}
	if p := r.Edition.Problems(b); len(p) > 0 {
		t.Errorf("%+v", p)
	}
	pages := r.Edition.Pages(b)
	for text, want := range map[string]int{"Chapter 1": 5, "Then it": 6, "Mole was": 8, "Chapter 2": 21} {
		if page, about, ok := pages.At(strings.Index(b.Text, text)); page != want || about || !ok {
			t.Errorf("%q is on page %d, about %v, ok %v; want %d", text, page, about, ok, want)
		}
	}
	if first, last, _, ok := pages.Range(b.Chapters[1].Span); first != 5 || last < 8 || last > 20 || !ok {
		t.Errorf("chapter 1 is on pages %d to %d", first, last)
	}
}

// TestMakeAgain holds that typing more keeps the ID and every place.
func TestMakeAgain(t *testing.T) {
	r, err := Make(input())
	if err != nil {
		t.Fatal(err)
	}
	at := strings.Index(r.Book.Text, "Mole was weary.")
	place := r.Book.Place(book.Span{Start: at, End: at + 15})
	in := input()
	in.Chapters[0].Passages = []Passage{{Text: "Long ago there was a pond."}}
	again, err := Make(in)
	if err != nil {
		t.Fatal(err)
	}
	if s, ok := again.Book.Find(place); again.Book.ID != r.Book.ID || !ok || again.Book.Slice(s) != "Mole was weary." {
		t.Errorf("%q %v %v", again.Book.ID, s, ok)
	}
}

func TestMakeRefuses(t *testing.T) {
	for name, in := range map[string]Input{
		"no title":   {Chapters: []Chapter{{Entry: Entry{Title: "A"}}}},
		"no chapter": {Title: "The Pond", Chapters: []Chapter{{Entry: Entry{Part: true, Label: "Part One"}}}},
	} {
		if _, err := Make(in); !fault.Is(err, fault.Invalid) || fault.Of(err).Hint == "" {
			t.Errorf("%s: %v", name, err)
		}
	}
	in := input()
	in.Chapters[3].Page = 4
	r, err := Make(in)
	if err != nil || len(r.Edition.Problems(r.Book)) == 0 {
		t.Errorf("pages that go backwards are kept and named: %v", err)
	}
}
