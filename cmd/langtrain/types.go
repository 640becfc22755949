package main

import (
	"fmt"
	"os"

	"bookstead/internal/lang"
	"bookstead/internal/lang/sentence"
	"bookstead/internal/lang/tagger"
)

// trainTypes learns sentence types from GUM alone: EWT has none. The words are
// tagged by the tagger, as they will be in use.
func trainTypes(bench, out string) error {
	tags, err := tagger.Load()
	if err != nil {
		return err
	}
	examples := func(name string) ([]sentence.TypeExample, error) {
		d, err := readDoc(bench, name)
		if err != nil {
			return nil, err
		}
		t := tags.NewTagger()
		var es []sentence.TypeExample
		for _, s := range d.Sentences {
			ts := d.Tokens[s.First:s.Last]
			t.Tag(ts)
			es = append(es, sentence.TypeExample{Tokens: ts, Type: s.Type})
		}
		return es, nil
	}
	all, err := examples(gumTrain)
	if err != nil {
		return err
	}
	var train []sentence.TypeExample
	for _, e := range all {
		if e.Type != "" {
			train = append(train, e)
		}
	}
	m := sentence.TrainTypes(train, 12, 1)
	for _, name := range []string{gumTrain, gumDev, gumOther} {
		es, err := examples(name)
		if err != nil {
			return err
		}
		fmt.Printf("%-45s %s\n", name, typeScores(m, es))
	}
	return os.WriteFile(out, m.Pack(), 0o644)
}

func typeScores(m *sentence.Types, es []sentence.TypeExample) string {
	gold, system, right := map[lang.SentenceType]int{}, map[lang.SentenceType]int{}, map[lang.SentenceType]int{}
	for _, e := range es {
		t := m.Plain(e.Tokens)
		gold[e.Type]++
		system[t]++
		if t == e.Type {
			right[t]++
		}
	}
	s := ""
	for _, t := range []lang.SentenceType{lang.Statement, lang.Question, lang.Command, lang.Exclamation, lang.Fragment} {
		s += fmt.Sprintf("%s %.1f  ", t, 200*float64(right[t])/float64(gold[t]+system[t]))
	}
	return s
}
