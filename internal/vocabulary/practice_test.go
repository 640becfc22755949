package vocabulary

import (
	"context"
	"strings"
	"testing"

	"bookstead/internal/book"
	"bookstead/internal/kit"
	"bookstead/internal/lang/english"
	"bookstead/internal/lexicon"
	"bookstead/internal/passage"
	"bookstead/internal/phonics"
)

// practiceOf drafts the practice words of one short text, "heading: words" for
// each group that is not spare.
func practiceOf(t *testing.T, text string, grade int, o Options) []string {
	t.Helper()
	lex, err := lexicon.Open()
	if err != nil {
		t.Fatal(err)
	}
	d, err := english.Annotate(context.Background(), text, nil, english.Options{Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	all := book.Span{Start: 0, End: len(text)}
	b := &book.Book{ID: "b", Text: text, Chapters: []book.Chapter{{Span: all}}}
	o.Practice = true
	drafts, err := Draft(context.Background(), lex, passage.Split(b, d, []kit.Lesson{{Number: 1, Span: all}}, grade), o)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, x := range drafts[0] {
		if x.Kind != kit.Practice || x.Spare {
			continue
		}
		if n := len(out); n > 0 && strings.HasPrefix(out[n-1], x.Content.Pattern+":") {
			out[n-1] += " " + x.Content.Head
		} else {
			out = append(out, x.Content.Pattern+": "+x.Content.Head)
		}
	}
	return out
}

const rainyText = "The hen sat in the rain at the end of the trail. She had to wait for the train. " +
	"The light was bright that night, and a goat in a coat said that the boat might float. Any friend was there."

func TestPracticeGroupsBySpelling(t *testing.T) {
	got := strings.Join(practiceOf(t, rainyText, 1, Options{}), "; ")
	for _, want := range []string{"ai as in rain: rain trail wait train", "igh as in night: light bright night might",
		"oa as in boat: goat coat boat float", sightPattern + ": "} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in %q", want, got)
		}
	}
	_, byHeart, _ := strings.Cut(got, sightPattern+": ")
	for _, w := range []string{"said", "any"} {
		if !strings.Contains(" "+byHeart+" ", " "+w+" ") {
			t.Errorf("%s is not among the words known by heart: %q", w, byHeart)
		}
	}
}

// A class that has reached short vowels practises those, and no vowel teams.
func TestPracticeFollowsTheStep(t *testing.T) {
	got := strings.Join(practiceOf(t, rainyText, 1, Options{Step: 1}), "; ")
	if strings.Contains(got, "ai as in rain") || !strings.Contains(got, "a as in cat") && !strings.Contains(got, "e as in bed") {
		t.Errorf("at the first step: %q", got)
	}
	own, err := phonics.ReadSequence("step Alles\n ai EY snail\n r R red\n n N net\n t T top\n l L leg\n w W wet\n")
	if err != nil {
		t.Fatal(err)
	}
	got = strings.Join(practiceOf(t, rainyText, 1, Options{Steps: own, Step: 1}), "; ")
	if !strings.Contains(got, "ai as in snail: rain trail wait train") {
		t.Errorf("by a teacher's own sequence: %q", got)
	}
}
