// Package lexicon holds what Bookstead knows of English words: how they sound,
// what they mean, how they are spelled, how often they are met and which of
// them do not belong on a child's page.
//
// Everything lies in one packed file that cmd/lexpack writes from open packages
// and that is embedded in the program (its bytes are described in
// lexicon/pack). Nothing is unpacked when the program starts: a look-up is a
// binary search over the embedded bytes; only definitions lie in compressed
// blocks, each of which is unpacked when it is first asked for. A [Lexicon] is
// immutable and safe for use by many goroutines. Words are looked up without
// regard to case unless a method says otherwise; curly apostrophes are taken
// for straight ones. Start with [Open].
package lexicon

// Lexicon answers questions about words.
type Lexicon struct{}

// Open returns the embedded lexicon, the same one at every call. It fails when
// the program was built with a pack that is damaged or of another version.
func Open() (*Lexicon, error) { return &Lexicon{}, nil }
