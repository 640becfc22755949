// Command questiontrain fits the ranking of drafted questions to the questions of
// experts and writes it beside its package, or measures it:
//
//	go run ./cmd/questiontrain -split train -fit internal/question/rank.txt
//	go run ./cmd/questiontrain -split val
//
// The data is FairytaleQA's (Xu et al. 2022): train for fitting, val for
// measuring alone. The same data and flags give the same bytes.
package main

import (
	"compress/gzip"
	"context"
	"crypto/sha256"
	"encoding/gob"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"bookstead/internal/lang"
	"bookstead/internal/lang/english"
	"bookstead/internal/lexicon"
	"bookstead/internal/question"
)

func main() {
	dir := flag.String("data", "../shared/bench/fairytaleqa", "folder of FairytaleQA's files")
	split := flag.String("split", "val", "train or val")
	cache := flag.String("cache", "", "keep analyses in this folder")
	flag.BoolVar(&dev, "dev", false, "keep every fourth story out of the fitting and measure on these")
	flag.BoolVar(&misses, "misses", false, "list the expert questions that no draft asks")
	flag.StringVar(&fit, "fit", "", "fit the ranking and write it to this file")
	flag.IntVar(&epochs, "epochs", 8, "times that all is shown")
	flag.IntVar(&least, "least", 100, "leave out rarer features")
	flag.Float64Var(&decay, "decay", 1e-2, "how strongly weights are drawn to zero")
	flag.IntVar(&N, "n", 10, "drafts a section")
	show := flag.Int("show", 0, "print the drafts of so many sections")
	text := flag.String("text", "", "dump the analysis and drafts of this text file")
	flag.Parse()
	if *text != "" {
		if err := dump(*text); err != nil {
			fmt.Fprintln(os.Stderr, err)
		}
		return
	}
	if err := run(*dir, *split, *cache, *show); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

var N int
var fit string
var misses, dev bool
var decay float64
var epochs, least int

func open(path string) (*gzip.Reader, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	return gzip.NewReader(f)
}

func run(dir, split, cache string, show int) error {
	s, err := open(filepath.Join(dir, split+"_sections.csv.gz"))
	if err != nil {
		return err
	}
	q, err := open(filepath.Join(dir, split+"_questions.csv.gz"))
	if err != nil {
		return err
	}
	sections, err := question.ReadFairytale(s, q)
	if err != nil {
		return err
	}
	lex, err := lexicon.Open()
	if err != nil {
		return err
	}
	ctx := context.Background()
	if dev {
		story, n := "", 0
		var some []question.Section
		for _, x := range sections {
			if name, _, _ := strings.Cut(x.ID, "/"); name != story {
				story = name
				n++
			}
			if (n%4 == 0) == (fit == "") {
				some = append(some, x)
			}
		}
		sections = some
	}
	if fit != "" {
		var all []question.Example
		for _, sec := range sections {
			d, err := analyze(ctx, sec.Text, cache)
			if err != nil {
				return err
			}
			all = append(all, question.Examples(lex, d, sec)...)
		}
		right := 0
		for _, x := range all {
			if x.Right {
				right++
			}
		}
		fmt.Println(len(all), "candidates,", right, "right")
		return os.WriteFile(fit, []byte(question.Train(all, epochs, least, decay, 1)), 0o644)
	}
	var m question.Measure
	pool, n := 0, N
	for i, sec := range sections {
		d, err := analyze(ctx, sec.Text, cache)
		if err != nil {
			return err
		}
		drafts, err := question.Ask(ctx, lex, d, n)
		if err != nil {
			return err
		}
		m.Add(sec, drafts, n)
		pool += len(drafts)
		if misses {
			for _, x := range sec.Asks {
				bq, ba, ok := 0.0, 0.0, false
				var best question.Asked
				for _, y := range drafts {
					q, a := question.RougeL(x.Question, y.Question), 0.0
					for _, z := range x.Answers {
						a = max(a, question.RougeL(z, y.Answer))
					}
					if q >= .5 && a >= .5 {
						ok = true
					}
					ba = max(ba, a)
					if q > bq {
						bq, best = q, y
					}
				}
				if !ok {
					fmt.Printf("%s\t%.2f\t%.2f\t%s\t%q\t%s | %s\n", x.Kind, bq, ba, x.Question, x.Answers, best.Question, best.Answer)
				}
			}
		}
		if i < show {
			fmt.Println("#", sec.ID, sec.Text)
			for _, x := range drafts {
				fmt.Printf("  %.2f %s | %s | %s | %s\n", x.Score, x.Kind, x.Question, x.Answer, x.Full)
			}
			for _, x := range sec.Asks {
				fmt.Printf("  EXPERT %s | %s | %q\n", x.Kind, x.Question, x.Answers)
			}
		}
	}
	for _, k := range []string{"character", "setting", "action", "feeling", "causal relationship", "outcome resolution", "prediction", ""} {
		f, a, mp := m.Count(k)
		fmt.Printf("%-20s %4d of %4d  %.4f  MAP@10 %.4f\n", k, f, a, float64(f)/float64(a), mp)
	}
	fmt.Println("drafts a section", float64(pool)/float64(len(sections)))
	return nil
}

const layers = lang.LayerTokens | lang.LayerSentences | lang.LayerTags | lang.LayerLemmas | lang.LayerTrees | lang.LayerTypes | lang.LayerCast | lang.LayerQuotations | lang.LayerEvents

func analyze(ctx context.Context, text, cache string) (*lang.Doc, error) {
	file := filepath.Join(cache, fmt.Sprintf("%x", sha256.Sum256([]byte(text)))[:20])
	if cache != "" {
		if f, err := os.Open(file); err == nil {
			defer f.Close()
			var k kept
			if err := gob.NewDecoder(f).Decode(&k); err != nil {
				return nil, err
			}
			d := &lang.Doc{Text: k.Text, Paragraphs: k.Paragraphs, Tokens: k.Tokens, Sentences: k.Sentences, Cast: k.Cast, Quotations: k.Quotations, Events: k.Events, Links: k.Links}
			d.Done(layers)
			return d, nil
		}
	}
	d, err := english.Cut(ctx, text, nil, english.Options{})
	if err != nil {
		return nil, err
	}
	if err := english.Understand(ctx, d, english.Options{}); err != nil {
		return nil, err
	}
	if cache != "" {
		f, err := os.Create(file)
		if err != nil {
			return nil, err
		}
		defer f.Close()
		return d, gob.NewEncoder(f).Encode(kept{d.Text, d.Paragraphs, d.Tokens, d.Sentences, d.Cast, d.Quotations, d.Events, d.Links})
	}
	return d, nil
}

// kept is what of an analysis goes to the cache.
type kept struct {
	Text       string
	Paragraphs []lang.Paragraph
	Tokens     []lang.Token
	Sentences  []lang.Sentence
	Cast       []lang.Member
	Quotations []lang.Quotation
	Events     []lang.Event
	Links      []lang.Link
}

func dump(path string) error {
	b, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	lex, err := lexicon.Open()
	if err != nil {
		return err
	}
	d, err := analyze(context.Background(), string(b), "")
	if err != nil {
		return err
	}
	if os.Getenv("TREES") != "" {
		for _, s := range d.Sentences {
			for i := s.First; i < s.Last; i++ {
				t := d.Tokens[i]
				h := t.Head
				if h >= 0 {
					h -= s.First
				}
				fmt.Println(i-s.First, t.Form, t.Lemma, t.UPOS, t.XPOS, h, t.Deprel)
			}
			fmt.Println(s.Type)
		}
		for _, m := range d.Cast {
			fmt.Println(m.ID, m.Name, m.Gender, m.Kind)
			for _, x := range m.Mentions {
				fmt.Print(" ", d.Text[x.Start:x.End], "/", x.Confidence)
			}
			fmt.Println()
		}
	}
	drafts, err := question.Ask(context.Background(), lex, d, 60)
	for _, x := range drafts {
		fmt.Printf("  %.2f %s | %s | %s | %s\n", x.Score, x.Kind, x.Question, x.Answer, x.Full)
	}
	return err
}
