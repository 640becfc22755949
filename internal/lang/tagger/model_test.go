package tagger

import (
	"reflect"
	"testing"

	"bookstead/internal/lang"
)

// toy is a gold text small enough to be learned by heart.
func toy() []Sentence {
	type w struct{ form, upos, xpos, feats string }
	var out []Sentence
	for range 6 {
		for _, s := range [][]w{
			{{"The", "DET", "DT", "Definite=Def|PronType=Art"}, {"dogs", "NOUN", "NNS", "Number=Plur"}, {"bark", "VERB", "VBP", "Mood=Ind|Number=Plur|Person=3|Tense=Pres|VerbForm=Fin"}, {".", "PUNCT", ".", ""}},
			{{"The", "DET", "DT", "Definite=Def|PronType=Art"}, {"bark", "NOUN", "NN", "Number=Sing"}, {"fell", "VERB", "VBD", "Mood=Ind|Number=Sing|Person=3|Tense=Past|VerbForm=Fin"}, {".", "PUNCT", ".", ""}},
			{{"A", "DET", "DT", "Definite=Ind|PronType=Art"}, {"cat", "NOUN", "NN", "Number=Sing"}, {"slept", "VERB", "VBD", "Mood=Ind|Number=Sing|Person=3|Tense=Past|VerbForm=Fin"}, {".", "PUNCT", ".", ""}},
		} {
			var ts []lang.Token
			for _, x := range s {
				ts = append(ts, lang.Token{Form: x.form, UPOS: x.upos, XPOS: x.xpos, Feats: x.feats})
			}
			out = append(out, Sentence{ts})
		}
	}
	return out
}

func TestTrain(t *testing.T) {
	o := Settings{Epochs: 5, Seed: 1, Keep: 1000, Clusters: map[string]uint8{"dogs": 3}}
	m := Train(toy(), o)
	packed := m.Pack()
	if again := Train(toy(), o).Pack(); !reflect.DeepEqual(again, packed) {
		t.Error("trained twice, two models")
	}
	back, err := Read(packed)
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(back.Pack(), packed) {
		t.Error("packing what was read gives other bytes")
	}
	for _, s := range toy() {
		got := append([]lang.Token{}, s.Tokens...)
		for i := range got {
			got[i].UPOS, got[i].XPOS, got[i].Feats = "", "", ""
		}
		back.NewTagger().Tag(got)
		if !reflect.DeepEqual(got, s.Tokens) {
			t.Errorf("got %+v\nwant %+v", got, s.Tokens)
		}
	}
}

func TestReadFaults(t *testing.T) {
	packed := Train(toy(), Settings{Epochs: 2, Seed: 1, Keep: 100}).Pack()
	for _, b := range [][]byte{nil, []byte("taggr002"), packed[:len(packed)/2], append([]byte("x"), packed...)} {
		if _, err := Read(b); err == nil {
			t.Errorf("%d bytes were read", len(b))
		}
	}
}

func TestLoad(t *testing.T) {
	if _, err := Load(); err != nil {
		t.Fatal(err)
	}
}

func TestTag(t *testing.T) {
	m, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	words := []string{"She", "did", "n't", "see", "the", "3rd", "robin", "until", "he", "sang", ".", ""}
	tags := []string{"PRP", "VBD", "RB", "VB", "DT", "JJ", "NN", "IN", "PRP", "VBD", "."}
	ts := make([]lang.Token, len(tags))
	for i := range ts {
		ts[i].Form = words[i]
	}
	m.NewTagger().Tag(ts)
	for i := range ts {
		if ts[i].XPOS != tags[i] {
			t.Errorf("%s: %s, want %s", ts[i].Form, ts[i].XPOS, tags[i])
		}
	}
	if want := "Case=Nom|Gender=Fem|Number=Sing|Person=3|PronType=Prs"; ts[0].Feats != want {
		t.Errorf("She: %s, want %s", ts[0].Feats, want)
	}
}
