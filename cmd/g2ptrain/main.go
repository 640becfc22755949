// Command g2ptrain trains the model that predicts how words are said, and
// writes it beside its package:
//
//	go run ./cmd/g2ptrain -words g014b2b.train.gz
//
// The list has a word, a tab and its phones without stress on each line. 2,670
// of its words are held out by a fixed seed and measured on. The same list gives
// the same bytes.
package main

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"flag"
	"fmt"
	"os"
	"strings"

	"bookstead/internal/phonics/g2p"
)

func main() {
	words := flag.String("words", "../shared/bench/g2p/g014b2b.train.gz", "list of words with their phones")
	out := flag.String("out", "internal/phonics/g2p/rows.bin", "file to write")
	order := flag.Int("order", 7, "longest row of chunks")
	prune := flag.Float64("prune", 1.0, "leave out rows that gain less, in nats over the whole list")
	letters := flag.String("letters", "", "write the sounds of each letter of the words trained on to this file, and stop")
	flag.Parse()
	if err := run(*words, *out, *letters, g2p.Settings{Order: *order, Prune: *prune}); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run(words, out, letters string, o g2p.Settings) error {
	f, err := os.Open(words)
	if err != nil {
		return err
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		return fmt.Errorf("unpacking %s: %w", words, err)
	}
	examples, err := g2p.ReadExamples(z)
	if err != nil {
		return err
	}
	train, dev := g2p.Split(examples)
	if letters != "" {
		return writeLetters(letters, train)
	}
	m, st := g2p.Train(train, o)
	var b bytes.Buffer
	if err := m.Write(&b); err != nil {
		return err
	}
	packed, err := g2p.Read(b.Bytes())
	if err != nil {
		return err
	}
	list, accepted := g2p.Group(dev)
	var s g2p.Score
	for _, w := range list {
		var said []string
		if g := packed.Predict(w, 1); g != nil {
			said = g[0].Phones
		}
		s.Add(said, accepted[w])
	}
	fmt.Printf("%d examples aligned, %d left out, %d chunks, %d rows, %d kept, %d bytes\n", st.Aligned, st.Left, st.Chunks, st.Grams, st.Kept, b.Len())
	fmt.Printf("held out: %d words, WER %.2f%%, PER %.2f%%\n", s.Words, 100*s.WER(), 100*s.PER())
	return os.WriteFile(out, b.Bytes(), 0o644)
}

// writeLetters writes a line for each example: the word, a tab and the phones of
// its letters, parted by "|".
func writeLetters(name string, examples []g2p.Example) error {
	f, err := os.Create(name)
	if err != nil {
		return err
	}
	w := bufio.NewWriter(f)
	words, phones := g2p.Letters(examples)
	for i := range words {
		fmt.Fprintf(w, "%s\t%s\n", words[i], strings.Join(phones[i], "|"))
	}
	if err := w.Flush(); err != nil {
		return err
	}
	return f.Close()
}
