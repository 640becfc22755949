// Package g2p predicts how an English word that no dictionary has is said, from
// its letters.
//
// Two small models look at a word. The rows, a joint n-gram model (Bisani and Ney
// 2008), see a word as a row of chunks, each a letter with the phones that it
// stands for ("igh" is i:AY and two silent letters), and foretell each chunk from
// the six before it. The net, two layers of LSTM in both directions (after Yao
// and Zweig 2015), sees the whole word and says which phones are likely at each
// letter. A beam search (decode.go) multiplies what they say.
//
// Chunks are found in a dictionary by expectation and maximisation (align.go);
// rows are counted, smoothed and pruned (train.go) and packed as a trie
// (model.go); the net (net.go) is trained by train/g2p.py. MODEL.md says on what
// they were trained and how well they do.
//
// Start with [Load] and [Model.Predict].
package g2p

import (
	_ "embed"
	"fmt"
	"sync"
)

//go:embed rows.bin
var shippedRows []byte

//go:embed net.bin
var shippedNet []byte

var load = sync.OnceValues(func() (*Model, error) {
	m, err := Read(shippedRows)
	if err != nil {
		return nil, fmt.Errorf("reading the rows: %w", err)
	}
	net, err := ReadNet(shippedNet)
	if err != nil {
		return nil, fmt.Errorf("reading the net: %w", err)
	}
	return m.With(net), nil
})

// Load returns the shipped model, the same one at every call.
func Load() (*Model, error) { return load() }
