package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"bookstead/internal/lang"
	"bookstead/internal/lang/english"
	"bookstead/internal/lang/sentence"
	"bookstead/internal/lang/tokenize"
)

func cut(d *lang.Doc, p lang.Paragraph) []lang.Token {
	return tokenize.Append(nil, d.Text, p.Start, p.End)
}

// cutText finds tokens and sentences; the models of the other layers are not
// needed, for they may be about to be trained.
func cutText(text string) (*lang.Doc, error) {
	ends, err := sentence.Load()
	if err != nil {
		return nil, err
	}
	d := &lang.Doc{Text: text, Paragraphs: english.Paragraphs(text)}
	for i, p := range d.Paragraphs {
		first := len(d.Tokens)
		d.Tokens = tokenize.Append(d.Tokens, text, p.Start, p.End)
		cuts, _ := ends.Ends(nil, text, d.Tokens[first:])
		from := first
		for _, c := range cuts {
			d.Sentences = append(d.Sentences, lang.Sentence{First: from, Last: first + c, Paragraph: i})
			from = first + c
		}
	}
	d.Done(lang.LayerTokens | lang.LayerSentences)
	return d, nil
}

func trainSentence(bench, novels, out string) error {
	var train []sentence.Example
	for _, name := range []string{ewtTrain, gumTrain} {
		d, err := readDoc(bench, name)
		if err != nil {
			return err
		}
		train = append(train, sentence.Examples(d, cut, 1)...)
	}
	gold := len(train)
	silver, err := novelParagraphs(novels, 20)
	if err != nil {
		return err
	}
	for _, text := range silver {
		train = append(train, sentence.Silver(text, tokenize.Append(nil, text, 0, len(text)), 0.1))
	}
	fmt.Printf("training on %d paragraphs of treebanks and %d of novels\n", gold, len(silver))
	m := sentence.Train(train, sentence.Settings{Epochs: 8, Seed: 1, Drop: 0.5, Threshold: -24})
	for _, name := range []string{ewtDev, gumDev, gumOther} {
		d, err := readDoc(bench, name)
		if err != nil {
			return err
		}
		fmt.Printf("%-45s %.2f\n", name, 100*sentenceF1(m, sentence.Examples(d, cut, 1)))
	}
	return os.WriteFile(out, m.Pack(), 0o644)
}

// novelParagraphs takes one of step paragraphs of each novel, half of them with
// their line breaks.
func novelParagraphs(folder string, step int) ([]string, error) {
	files, err := filepath.Glob(filepath.Join(folder, "*.txt"))
	if err != nil || len(files) == 0 {
		return nil, fmt.Errorf("no novels in %q", folder)
	}
	var out []string
	for _, f := range files {
		b, err := os.ReadFile(f)
		if err != nil {
			return nil, err
		}
		text := string(b)
		for i, p := range english.Paragraphs(text) {
			switch i % (2 * step) {
			case 7:
				out = append(out, strings.ReplaceAll(text[p.Start:p.End], "\n", " "))
			case step + 7:
				out = append(out, text[p.Start:p.End])
			}
		}
	}
	return out, nil
}

// sentenceF1 scores sentences within their paragraphs, by tokens.
func sentenceF1(m *sentence.Model, es []sentence.Example) float64 {
	gold, system, right := 0, 0, 0
	for _, e := range es {
		starts := map[int]int{}
		from := 0
		for _, end := range e.Ends {
			starts[from], from = end, end
		}
		from = 0
		ends, _ := m.Ends(nil, e.Text, e.Tokens)
		for _, end := range ends {
			if starts[from] == end {
				right++
			}
			from = end
		}
		gold += len(e.Ends)
		system += len(ends)
	}
	return 2 * float64(right) / float64(gold+system)
}
