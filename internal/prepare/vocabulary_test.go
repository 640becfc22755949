package prepare

import (
	"bytes"
	"context"
	"reflect"
	"testing"

	"bookstead/internal/class"
	"bookstead/internal/demo"
	"bookstead/internal/kit"
)

func TestReadOwnWords(t *testing.T) {
	got := ReadOwnWords("1. treacle: sticky stuff\r\n• Dodo, waistcoat\n\nTREACLE\n ,, \n")
	want := []kit.OwnWord{{Word: "treacle", Meaning: "sticky stuff"}, {Word: "Dodo"}, {Word: "waistcoat"}}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("read %+v", got)
	}
	if again := ReadOwnWords(OwnWordsText(got)); !reflect.DeepEqual(again, want) {
		t.Errorf("written and read again: %+v", again)
	}
}

func TestAddHad(t *testing.T) {
	had := AddHad([]class.Had{{Word: "moor", Book: "A"}}, []class.Had{{Word: "Moor", Book: "B"}, {Word: "gorse", Book: "B"}})
	if want := []class.Had{{Word: "moor", Book: "A"}, {Word: "gorse", Book: "B"}}; !reflect.DeepEqual(had, want) {
		t.Errorf("had %+v", had)
	}
}

// A class and a child of it at different steps: what they can read, and what they
// practise.
func TestReadingOfAClassAndAChild(t *testing.T) {
	c := class.Class{ID: "c", Name: "Grade 1", Grade: 1, Settings: class.Defaults(1), Students: []class.Student{{ID: "b", Name: "Ben", Standing: []class.Standing{{Since: 1, Step: 2}}}}}
	c.Settings.Spelling.Standing = []class.Standing{{Since: 1, Step: 9}}
	if err := CheckSpelling(c); err != nil {
		t.Fatal(err)
	}
	text := demo.Reader()
	p, err := WordsOf(context.Background(), bytes.NewReader(text), int64(len(text)), "reader.txt", c, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	whole, err := p.Reading("")
	if err != nil {
		t.Fatal(err)
	}
	ben, err := p.Reading("b")
	if err != nil {
		t.Fatal(err)
	}
	if whole.Step != 9 || ben.Step != 2 || whole.Guessed || ben.Book.Decodable >= whole.Book.Decodable || ben.Book.Words != whole.Book.Words || len(ben.Lessons) != len(p.Lessons) {
		t.Errorf("the class reads %+v at step %d, Ben %+v at step %d", whole.Book, whole.Step, ben.Book, ben.Step)
	}
	own, err := p.PracticeFor("b")
	if err != nil {
		t.Fatal(err)
	}
	words := func(p *Prepared) (out []string) {
		for _, it := range p.Lessons[0].Of(kit.Practice) {
			out = append(out, it.Content.Head)
		}
		return out
	}
	if reflect.DeepEqual(words(p), words(own)) || len(words(own)) == 0 || len(own.Lessons[0].Of(kit.Vocabulary)) != len(p.Lessons[0].Of(kit.Vocabulary)) {
		t.Errorf("the class practises %q, Ben %q", words(p), words(own))
	}
	c.Settings.Spelling.Standing = []class.Standing{{Since: 1, Step: 99}}
	if CheckSpelling(c) == nil {
		t.Error("step 99 is taken")
	}
	c.Settings.Spelling = class.Spelling{Sequence: "step One\n zz top\n"}
	if CheckSpelling(c) == nil {
		t.Error("a broken sequence is taken")
	}
}
