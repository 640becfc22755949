// Package g2p predicts how an English word that no dictionary has is said, from
// its letters.
//
// The model is a joint n-gram model (Bisani and Ney 2008): a word is a row of
// chunks, each some letters with the phones that they stand for ("igh" is i:AY
// and two silent letters), and each chunk is foretold from the seven before it.
// Chunks are found in a dictionary by expectation and maximisation (align.go),
// counted, smoothed and pruned (train.go), packed as a trie (model.go) and
// searched with a beam (decode.go). MODEL.md says what the shipped model was
// trained on and how well it does.
//
// Start with [Load] and [Model.Predict].
package g2p

import (
	_ "embed"
	"sync"
)

//go:embed model.bin
var shipped []byte

var load = sync.OnceValues(func() (*Model, error) { return Read(shipped) })

// Load returns the shipped model, the same one at every call.
func Load() (*Model, error) { return load() }
