package main

import (
	"context"
	"fmt"
	"os"
	"strings"

	"bookstead/internal/lang"
	"bookstead/internal/lang/neural"
	"bookstead/internal/lang/tagger"
)

func trainTagger(bench, novels, out string) error {
	var train []tagger.Sentence
	var docs []*lang.Doc
	for _, name := range []string{ewtTrain, gumTrain} {
		d, err := readDoc(bench, name)
		if err != nil {
			return err
		}
		train = append(train, tagger.Sentences(d)...)
		docs = append(docs, d)
	}
	silver, err := readNovels(novels)
	if err != nil {
		return err
	}
	fmt.Printf("%d sentences of treebanks, %d of novels\n", len(train), len(silver))
	train = append(train, silver...)
	text, err := corpus(novels, docs...)
	if err != nil {
		return err
	}
	clusters := cluster(text)
	fmt.Printf("%d words in clusters\n", len(clusters))
	m := tagger.Train(train, tagger.Settings{Epochs: 8, Seed: 1, Keep: 160_000, Clusters: clusters, Progress: func(e int, right float64) {
		fmt.Printf("pass %d: %.2f %% right\n", e, 100*right)
	}})
	packed := m.Pack()
	m, err = tagger.Read(packed)
	if err != nil {
		return err
	}
	fmt.Printf("%d bytes\n", len(packed))
	for _, name := range []string{ewtDev, gumDev, gumOther} {
		d, err := readDoc(bench, name)
		if err != nil {
			return err
		}
		fmt.Printf("%-45s %s\n", name, tagScores(m, d))
	}
	return os.WriteFile(out, packed, 0o644)
}

// readNovels tags every tenth paragraph of the novels with the neural
// reader, for the tagger to learn from: it is the better of the two, and no
// treebank holds the words of novels. (The reader is trained on the same open
// data.)
func readNovels(novels string) ([]tagger.Sentence, error) {
	paragraphs, err := novelParagraphs(novels, 10)
	if err != nil {
		return nil, err
	}
	reader, err := neural.Load()
	if err != nil {
		return nil, err
	}
	var out []tagger.Sentence
	ctx := context.Background()
	for from := 0; from < len(paragraphs); from += 500 {
		text := strings.Join(paragraphs[from:min(len(paragraphs), from+500)], "\n\n")
		d, err := cutText(text)
		if err != nil {
			return nil, err
		}
		if err := reader.Annotate(ctx, d); err != nil {
			return nil, err
		}
		for i := range d.Tokens {
			if d.Tokens[i].Feats == "_" {
				d.Tokens[i].Feats = ""
			}
		}
		out = append(out, tagger.Sentences(d)...)
	}
	return out, nil
}

// tagScores gives the shares of words right, on gold tokens.
func tagScores(m *tagger.Model, d *lang.Doc) string {
	t := m.NewTagger()
	var n, upos, xpos, feats float64
	for _, s := range d.Sentences {
		ts := append([]lang.Token{}, d.Tokens[s.First:s.Last]...)
		t.Tag(ts)
		for i := range ts {
			g := &d.Tokens[s.First+i]
			n++
			if ts[i].UPOS == g.UPOS {
				upos++
			}
			if ts[i].XPOS == g.XPOS {
				xpos++
			}
			if ts[i].Feats == g.Feats {
				feats++
			}
		}
	}
	return fmt.Sprintf("UPOS %.2f  XPOS %.2f  features, all, %.2f", 100*upos/n, 100*xpos/n, 100*feats/n)
}
