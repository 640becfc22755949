package phonics

import (
	"slices"
	"strings"
)

// Type is a type of syllable, named as teachers do.
type Type string

const (
	Closed      Type = "closed"            // ends in a consonant: cat, rab
	Open        Type = "open"              // ends in its vowel: he, ta
	SilentE     Type = "final silent e"    // make
	VowelTeam   Type = "vowel team"        // rain, cow
	RControlled Type = "with r"            // car, her
	ConsonantLE Type = "consonant with le" // ble
	OtherType   Type = "other"             // has no vowel letter that sounds: rhythm
)

// Stress says how strongly a syllable is said.
type Stress byte

const (
	Unstressed Stress = iota
	Main
	Secondary
)

// Syllable is a written syllable.
type Syllable struct {
	Text   string // as in the word, with its capitals
	Start  int    // bytes in the word
	End    int
	Type   Type
	Stress Stress
}

// Syllables parts an aligned word at its vowel sounds. The word's letters come
// back in order, hyphens and apostrophes with the letters before them. Doubled
// consonants are parted between the letters; a consonant between two vowels goes
// with the second, but with the first when that is stressed and short (common
// practice, no source); groups of consonants that can begin a word go with the
// second vowel, less their first letter when the first vowel is short. The vowel
// sound that "r" makes behind a long vowel ("fire", "hour") is no syllable of
// its own in writing.
func Syllables(word string, a Alignment) []Syllable {
	var nuclei []int
	for i, l := range a {
		if !vocal(l) {
			continue
		}
		if n := len(nuclei); n > 0 && nuclei[n-1] == i-1 && (l.Grapheme == "r" || l.Grapheme == "re") {
			continue
		}
		nuclei = append(nuclei, i)
	}
	if len(nuclei) == 0 {
		if word == "" {
			return nil
		}
		return []Syllable{{Text: word, End: len(word), Type: OtherType}}
	}
	cuts := []int{0}
	for k := 1; k < len(nuclei); k++ {
		cuts = append(cuts, cutBetween(word, a, nuclei[k-1], nuclei[k]))
	}
	cuts = append(cuts, len(word))
	out := make([]Syllable, len(nuclei))
	for k, n := range nuclei {
		s := Syllable{Text: word[cuts[k]:cuts[k+1]], Start: cuts[k], End: cuts[k+1], Type: typeOf(a, n, cuts[k+1])}
		for _, p := range a[n].Phones {
			switch p[len(p)-1] {
			case '1':
				s.Stress = Main
			case '2':
				if s.Stress == Unstressed {
					s.Stress = Secondary
				}
			}
		}
		out[k] = s
	}
	return out
}

func vocal(l Link) bool {
	return slices.ContainsFunc(l.Phones, isVowelPhone)
}

// cutBetween is the byte at which the syllable of link y begins.
func cutBetween(word string, a Alignment, x, y int) int {
	between := a[x+1 : y]
	if strings.HasSuffix(string(a[y].Grapheme), "le") && strings.HasPrefix(string(a[y].Grapheme), "l") && len(between) > 0 {
		return startOf(between[len(between)-1])
	}
	// The e of a split grapheme and other silent letters stay before the cut.
	for k, l := range between {
		if i := strings.IndexAny(word[l.Start:l.End], "-"); i >= 0 {
			return l.Start + i + 1
		}
		if k > 0 && strings.Contains(word[between[k-1].End:l.Start], "-") {
			return l.Start
		}
	}
	if i := strings.Index(word[a[x].Start:a[y].Start], "-"); i >= 0 {
		return a[x].Start + i + 1
	}
	from := 0
	if e := a[x].E; e >= 0 {
		if e < a[y].Start {
			return e + 1
		}
	}
	var heard []Link
	for _, l := range between {
		if l.Silent() {
			if len(heard) == 0 {
				from = l.End
			}
			continue
		}
		heard = append(heard, l)
	}
	short := isShort(a[x])
	switch len(heard) {
	case 0:
		if from > 0 {
			return from
		}
		return a[y].Start
	case 1:
		l := heard[0]
		g := string(l.Grapheme)
		switch {
		case len(g) == 2 && g[0] == g[1]:
			return l.Start + 1
		case g == "ck" || g == "ng" || g == "x" || g == "tch" || g == "dge" || g == "n":
			if g != "n" || bare(l.Phones)[0] == "NG" {
				return l.End
			}
		}
		if short && stressed(a[x]) {
			return l.End
		}
		return l.Start
	}
	last := heard[len(heard)-1]
	cut := last.Start
	for k := len(heard) - 2; k >= 0; k-- {
		if !onset(heard[k:]) || k == 0 && short {
			break
		}
		cut = heard[k].Start
	}
	if g := string(last.Grapheme); cut == last.Start && len(heard) > 1 && len(g) == 2 && g[0] == g[1] {
		return cut
	}
	return cut
}

func startOf(l Link) int {
	if g := string(l.Grapheme); len(g) == 2 && g[0] == g[1] {
		return l.Start + 1
	}
	if l.Grapheme == "ck" {
		return l.End
	}
	return l.Start
}

// onset reports consonants with which an English word can begin.
func onset(links []Link) bool {
	var said []string
	for _, l := range links {
		said = append(said, bare(l.Phones)...)
	}
	return onsets[strings.Join(said, " ")]
}

var onsets = func() map[string]bool {
	m := map[string]bool{}
	for _, s := range strings.Split("P L,P R,B L,B R,T R,T W,D R,D W,K L,K R,K W,G L,G R,F L,F R,TH R,TH W,SH R,S P,S T,S K,S M,S N,S L,S W,S P L,S P R,S T R,S K R,S K W,HH W", ",") {
		m[s] = true
	}
	return m
}()

func stressed(l Link) bool {
	return slices.ContainsFunc(l.Phones, func(p string) bool { return strings.HasSuffix(p, "1") || strings.HasSuffix(p, "2") })
}

func isShort(l Link) bool {
	if len(l.Grapheme) != 1 {
		return l.Grapheme == "ea" && strings.TrimRight(l.Phones[0], "012") == "EH"
	}
	switch bare(l.Phones)[0] {
	case "AE", "EH", "IH", "AH", "AA", "UH":
		return true
	}
	return false
}

// typeOf names the type of the syllable around the vowel link n that ends at a
// byte.
func typeOf(a Alignment, n, end int) Type {
	l := a[n]
	g := string(l.Grapheme)
	last := bare(l.Phones)[len(l.Phones)-1]
	switch {
	case strings.HasPrefix(g, "l") && strings.HasSuffix(g, "e"):
		return ConsonantLE
	case !isVowelLetter(g[0]):
		return OtherType
	case last == "ER" || last == "R" || n+1 < len(a) && a[n+1].Start < end && (a[n+1].Grapheme == "r" || a[n+1].Grapheme == "re"):
		return RControlled
	case l.Grapheme.Split():
		return SilentE
	case len(g) > 1:
		return VowelTeam
	case n+1 < len(a) && a[n+1].Start < end:
		return Closed
	}
	return Open
}
