package g2p

import (
	"bufio"
	"fmt"
	"io"
	"math/rand/v2"
	"strings"
)

// DevWords and DevSeed say which words of the training list are held out to
// measure on, as many as published work holds out.
const (
	DevWords = 2670
	DevSeed  = 1
)

// ReadExamples reads lines of a word, a tab and its phones.
func ReadExamples(r io.Reader) ([]Example, error) {
	var out []Example
	s := bufio.NewScanner(r)
	for n := 1; s.Scan(); n++ {
		word, phones, ok := strings.Cut(s.Text(), "\t")
		if !ok || word == "" || strings.TrimSpace(phones) == "" {
			return nil, fmt.Errorf("reading pronunciations: line %d is no word, tab and phones", n)
		}
		out = append(out, Example{strings.ToLower(word), strings.Fields(phones)})
	}
	return out, s.Err()
}

// Split parts the examples by word into those to train on and those to measure
// on.
func Split(examples []Example) (train, dev []Example) {
	words, _ := Group(examples)
	rng := rand.New(rand.NewPCG(DevSeed, DevSeed))
	rng.Shuffle(len(words), func(i, j int) { words[i], words[j] = words[j], words[i] })
	held := map[string]bool{}
	for _, w := range words[:min(DevWords, len(words))] {
		held[w] = true
	}
	for _, e := range examples {
		if held[e.Word] {
			dev = append(dev, e)
		} else {
			train = append(train, e)
		}
	}
	return train, dev
}
