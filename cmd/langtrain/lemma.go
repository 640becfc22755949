package main

import (
	"fmt"
	"os"
	"path/filepath"

	"bookstead/internal/lang"
	"bookstead/internal/lang/lemma"
	"bookstead/internal/lang/tagger"
)

func trainLemma(bench, novels, out string) error {
	var docs []*lang.Doc
	for _, name := range []string{ewtTrain, gumTrain} {
		d, err := readDoc(bench, name)
		if err != nil {
			return err
		}
		docs = append(docs, d)
	}
	seen, err := taggedForms(novels)
	if err != nil {
		return err
	}
	text := lemma.Train(seen, docs...)
	m, err := lemma.Read(text)
	if err != nil {
		return err
	}
	fmt.Printf("%d bytes\n", len(text))
	for _, name := range []string{ewtDev, gumDev, gumOther} {
		d, err := readDoc(bench, name)
		if err != nil {
			return err
		}
		gold := append([]lang.Token{}, d.Tokens...)
		for _, s := range d.Sentences {
			m.Fill(d.Tokens[s.First:s.Last])
		}
		right := 0
		for i := range gold {
			if gold[i].Lemma == d.Tokens[i].Lemma {
				right++
			} else if os.Getenv("LEMMA_ERRORS") != "" {
				fmt.Printf("%s\t%s\t%s\tgold %s\tgot %s\n", gold[i].Form, gold[i].UPOS, gold[i].XPOS, gold[i].Lemma, d.Tokens[i].Lemma)
			}
		}
		fmt.Printf("%-45s %.2f on gold tags\n", name, 100*float64(right)/float64(len(gold)))
	}
	return os.WriteFile(out, []byte(text), 0o644)
}

// taggedForms tags the novels and counts their forms. The tagger's model must
// have been trained before.
func taggedForms(novels string) (lemma.Seen, error) {
	m, err := tagger.Load()
	if err != nil {
		return nil, err
	}
	files, err := filepath.Glob(filepath.Join(novels, "*.txt"))
	if err != nil || len(files) == 0 {
		return nil, fmt.Errorf("no novels in %q", novels)
	}
	seen := lemma.Seen{}
	t := m.NewTagger()
	for _, f := range files {
		b, err := os.ReadFile(f)
		if err != nil {
			return nil, err
		}
		d, err := cutText(string(b))
		if err != nil {
			return nil, err
		}
		for _, s := range d.Sentences {
			ts := d.Tokens[s.First:s.Last]
			t.Tag(ts)
			seen.Add(ts)
		}
	}
	return seen, nil
}
