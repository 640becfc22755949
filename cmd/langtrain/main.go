// Command langtrain trains the small models of the language engine from the
// treebanks, and writes them beside their packages:
//
//	go run ./cmd/langtrain -bench ../shared/bench -novels NOVELS sentence
//	go run ./cmd/langtrain -bench ../shared/bench -novels NOVELS tagger
//
// NOVELS is a folder of plain-text novels in the public domain. Only EWT train
// and the open part of GUM train are trained on; dev parts are read for the
// scores that the command prints and for nothing else. The same data give the
// same bytes.
package main

import (
	"compress/gzip"
	"flag"
	"fmt"
	"os"
	"path/filepath"

	"bookstead/internal/lang"
	"bookstead/internal/lang/conllu"
)

func main() {
	bench := flag.String("bench", "../shared/bench", "folder of the treebanks")
	novels := flag.String("novels", "", "folder of novels, *.txt")
	out := flag.String("out", "internal/lang", "folder of the packages that the models are written to")
	flag.Parse()
	var err error
	switch what := flag.Arg(0); what {
	case "sentence":
		err = trainSentence(*bench, *novels, filepath.Join(*out, "sentence", "model.bin"))
	case "tagger":
		err = trainTagger(*bench, *novels, filepath.Join(*out, "tagger", "model.bin"))
	case "lemma":
		err = trainLemma(*bench, *novels, filepath.Join(*out, "lemma", "model.txt"))
	case "types":
		err = trainTypes(*bench, filepath.Join(*out, "sentence", "types.bin"))
	default:
		err = fmt.Errorf("langtrain: nothing called %q to train", what)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// The parts of the treebanks, by what they may be used for.
const (
	ewtTrain = "ud-en-ewt/en_ewt-ud-train.conllu.gz"
	gumTrain = "ud-en-gum/en_gum-ud-train.open.conllu.gz"
	ewtDev   = "ud-en-ewt/en_ewt-ud-dev.conllu.gz"
	gumDev   = "ud-en-gum/en_gum-ud-dev.conllu.gz"
	gumOther = "ud-en-gum/en_gum-ud-train.nc.conllu.gz" // not for training: measured only
)

func readDoc(bench, name string) (*lang.Doc, error) {
	f, err := os.Open(filepath.Join(bench, name))
	if err != nil {
		return nil, err
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		return nil, fmt.Errorf("unpacking %s: %w", name, err)
	}
	ss, err := conllu.Read(z)
	if err != nil {
		return nil, fmt.Errorf("reading %s: %w", name, err)
	}
	return conllu.ToDoc(ss), nil
}
