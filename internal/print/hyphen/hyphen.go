// Package hyphen divides words at line ends by Liang's method.
//
// A pattern such as "hy3ph" gives the places between its letters a number. All
// patterns that match a word, with a dot for its start and end, lay their
// numbers over it; the highest wins at each place, and a word may be divided
// where it is odd (F. M. Liang, Word Hy-phen-a-tion by Com-put-er, Stanford
// 1983). The patterns are those of TeX for American and British English,
// packed by cmd/printpack. Start with [English].
package hyphen

//go:generate go run bookstead/cmd/printpack -modules ../../../node_modules patterns packed

import (
	"embed"
	"fmt"
	"slices"
	"strings"
	"unicode"
)

//go:embed all:packed
var packed embed.FS

// Dictionary divides the words of one language.
type Dictionary struct {
	levels     map[string][]uint8 // by the pattern's letters
	longest    int                // letters of the longest pattern
	exceptions map[string][]int   // rune offsets by word
	// Left and Right are the fewest letters kept before and after a hyphen.
	Left, Right int
}

// English is the dictionary for a language tag: British patterns for en-GB and
// its neighbours, American ones for any other English, an error for another
// language.
func English(tag string) (*Dictionary, error) {
	name := "en-us"
	switch tag = strings.ToLower(tag); {
	case tag == "en-gb" || tag == "en-ie" || tag == "en-au" || tag == "en-nz" || tag == "en-za" || tag == "en-in":
		name = "en-gb"
	case tag != "en" && !strings.HasPrefix(tag, "en-"):
		return nil, fmt.Errorf("there are no hyphenation patterns for %q", tag)
	}
	data, err := packed.ReadFile("packed/" + name + ".txt")
	if err != nil {
		return nil, fmt.Errorf("reading the hyphenation patterns (run make generate): %w", err)
	}
	return Parse(string(data))
}

// Parse reads patterns in TeX's notation, one a line, and behind a line "="
// whole words with hyphens at all places where they may be divided. Two letters
// stay before a hyphen and three behind it, as TeX does for English.
func Parse(text string) (*Dictionary, error) {
	d := &Dictionary{levels: map[string][]uint8{}, exceptions: map[string][]int{}, Left: 2, Right: 3}
	patterns, words, _ := strings.Cut(text, "=\n")
	for _, p := range strings.Fields(patterns) {
		letters, levels := []rune{}, []uint8{0}
		for _, r := range p {
			if r >= '0' && r <= '9' {
				levels[len(levels)-1] = uint8(r - '0')
				continue
			}
			letters, levels = append(letters, r), append(levels, 0)
		}
		if len(letters) == 0 {
			return nil, fmt.Errorf("pattern %q has no letters", p)
		}
		d.levels[string(letters)] = levels
		d.longest = max(d.longest, len(letters))
	}
	for _, w := range strings.Fields(words) {
		var at []int
		n := 0
		for _, r := range w {
			if r == '-' {
				at = append(at, n)
			} else {
				n++
			}
		}
		d.exceptions[strings.ReplaceAll(w, "-", "")] = at
	}
	return d, nil
}

// Breaks returns the byte offsets before which word may be divided. Anything
// but letters makes a word whole: what stands around it is for the caller to
// cut off.
func (d *Dictionary) Breaks(word string) []int {
	letters := make([]rune, 0, len(word)+2)
	letters = append(letters, '.')
	offsets := make([]int, 0, len(word))
	for i, r := range word {
		if !unicode.IsLetter(r) {
			return nil
		}
		letters = append(letters, unicode.ToLower(r))
		offsets = append(offsets, i)
	}
	n := len(offsets)
	if n < d.Left+d.Right {
		return nil
	}
	places, ok := d.exceptions[string(letters[1:])]
	if !ok {
		places = d.match(append(letters, '.'))
	}
	var out []int
	for _, p := range places {
		if p >= d.Left && n-p >= d.Right {
			out = append(out, offsets[p])
		}
	}
	return out
}

// match lays all patterns over the dotted letters and returns the odd places.
func (d *Dictionary) match(letters []rune) []int {
	levels := make([]uint8, len(letters)+1)
	for i := range letters {
		for j := i + 1; j <= min(len(letters), i+d.longest); j++ {
			for k, v := range d.levels[string(letters[i:j])] {
				levels[i+k] = max(levels[i+k], v)
			}
		}
	}
	var out []int
	for i, v := range levels {
		if v%2 == 1 && i > 1 && i < len(letters)-1 {
			out = append(out, i-1) // the dot is not a letter of the word
		}
	}
	slices.Sort(out)
	return out
}
