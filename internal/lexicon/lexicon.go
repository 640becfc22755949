// Package lexicon holds what Bookstead knows of English words: how they sound,
// what they mean, how they are spelled, how often they are met and which of
// them do not belong on a child's page.
//
// Everything lies in one packed file that cmd/lexpack writes from open packages
// and that is embedded in the program. Nothing is unpacked when the program
// starts: a look-up is a binary search over the embedded bytes; only definitions
// lie in compressed blocks, each of which is unpacked when it is first asked for
// and then kept. A [Lexicon] is immutable and safe for use by many goroutines.
// Words are looked up without regard to case unless a method says otherwise;
// curly apostrophes are taken for straight ones.
//
// Start with [Open]. sections.go tells what the file holds, lexicon/pack how.
package lexicon

//go:generate go run bookstead/cmd/lexpack -modules ../../node_modules -data ../../data -out packed/pack.bin

import (
	"embed"
	"fmt"
	"strings"
	"sync"
	"unicode"

	"bookstead/internal/lexicon/pack"
)

//go:embed all:packed
var packed embed.FS

// Lexicon answers questions about words.
type Lexicon struct {
	phones   []string // by code, from 1
	lexnames []string
	marks    []string // reasons why a meaning is offensive, by code from 1
	pointers pointerCodes

	said, lemmas, exceptions, old    pack.Table
	books, spoken, daleChall, spache pack.Table
	stems, offensive                 pack.Table
	stories, defining                pack.Table
	synsetIndex, synsets             []byte
	glosses                          *pack.Blocks
	affixes                          *affixes
	dolch                            []SightList
	fry                              []string
	function                         map[string]bool
}

// Open returns the embedded lexicon, the same one at every call. It fails when
// the program was built without the pack or with a damaged one.
func Open() (*Lexicon, error) { return open() }

var open = sync.OnceValues(func() (*Lexicon, error) {
	data, err := packed.ReadFile("packed/pack.bin")
	if err != nil {
		return nil, fmt.Errorf("opening the lexicon (make generate packs it): %w", err)
	}
	return Read(data)
})

// normal is a word as the tables have it: in lower case, with straight
// apostrophes.
func normal(word string) string {
	for i := 0; i < len(word); i++ {
		if c := word[i]; c >= 0x80 || 'A' <= c && c <= 'Z' {
			return strings.ToLower(straight(word))
		}
	}
	return word
}

var curly = strings.NewReplacer("’", "'", "‘", "'", "ʼ", "'", "‑", "-", "‐", "-")

func straight(word string) string { return curly.Replace(word) }

func hasLetter(s string) bool { return strings.ContainsFunc(s, unicode.IsLetter) }
