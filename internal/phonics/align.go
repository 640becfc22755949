package phonics

import (
	_ "embed"
	"fmt"
	"math"
	"strconv"
	"strings"
	"sync"
	"unicode/utf8"
)

// Grapheme is a letter or group of letters that stands for sounds as a whole:
// "t", "igh", "a_e" (a vowel made long by a silent e behind a consonant).
type Grapheme string

// Split reports whether letters of other graphemes stand inside this one.
func (g Grapheme) Split() bool { return strings.Contains(string(g), "_") }

// Letters are those that a whole grapheme is written with, without the gap.
func (g Grapheme) Letters() string { return strings.ReplaceAll(string(g), "_", "") }

// Link is one grapheme of a word with its sounds.
type Link struct {
	Grapheme Grapheme
	Phones   []string // ARPAbet as given to [Align]; none when silent
	// Start and End are the bytes of the letters in the word; of a split
	// grapheme, those of its first letter. E is the byte of its silent e, else -1.
	Start, End, E int
	// First is the index of the first phone.
	First int
	// Odd reports that the letters do not usually stand for these sounds.
	Odd bool
}

// Silent reports that the letters have no sound of their own.
func (l Link) Silent() bool { return len(l.Phones) == 0 }

// Correspondence names the link without its place: "igh=AY".
func (l Link) Correspondence() Correspondence {
	return Correspondence{l.Grapheme, strings.Join(bare(l.Phones), "+")}
}

// Correspondence is a grapheme with the sounds that it stands for, ARPAbet
// without stress joined by "+"; "" when it is silent.
type Correspondence struct {
	Grapheme Grapheme
	Sound    string
}

// String is "igh=AY"; a silent grapheme is "gh=-".
func (c Correspondence) String() string {
	if c.Sound == "" {
		return string(c.Grapheme) + "=-"
	}
	return string(c.Grapheme) + "=" + c.Sound
}

// Alignment is a word parted into graphemes, in the order of their first
// letters.
type Alignment []Link

// String writes the links with spaces: "n=N igh=AY t=T".
func (a Alignment) String() string {
	parts := make([]string, len(a))
	for i, l := range a {
		parts[i] = l.Correspondence().String()
	}
	return strings.Join(parts, " ")
}

// Regular reports that every link is one that the letters usually have.
func (a Alignment) Regular() bool {
	for _, l := range a {
		if l.Odd {
			return false
		}
	}
	return len(a) > 0
}

// rule is a row of the inventory.
type rule struct {
	grapheme Grapheme
	phones   []string
	cost     float64
	final    bool
}

//go:embed spellings.txt
var spellingsText string

// inventory holds the rules by their first letters; those of split graphemes
// stand apart.
type inventory struct {
	whole map[string][]rule
	split map[string][]rule // by the vowel before the gap
}

var spellings = sync.OnceValue(func() inventory {
	inv, err := readInventory(spellingsText)
	if err != nil {
		panic(err) // the embedded file is wrong: a defect that every run would show
	}
	return inv
})

func readInventory(text string) (inventory, error) {
	inv := inventory{map[string][]rule{}, map[string][]rule{}}
	for n, line := range strings.Split(text, "\n") {
		f := strings.Fields(line)
		if len(f) == 0 || strings.HasPrefix(f[0], "#") {
			continue
		}
		if len(f) < 3 {
			return inv, fmt.Errorf("reading spellings: line %d has no letters, cost and sounds", n+1)
		}
		cost, err := strconv.ParseFloat(f[1], 64)
		if err != nil {
			return inv, fmt.Errorf("reading spellings: line %d: %w", n+1, err)
		}
		letters, final := strings.CutSuffix(f[0], "$")
		for _, sound := range f[2:] {
			r := rule{grapheme: Grapheme(letters), cost: cost, final: final}
			if sound != "-" {
				r.phones = strings.Split(sound, "+")
			}
			if v, _, ok := strings.Cut(letters, "_"); ok {
				inv.split[v] = append(inv.split[v], r)
			} else {
				inv.whole[letters] = append(inv.whole[letters], r)
			}
		}
	}
	return inv, nil
}

// Costs of what no rule foresees.
const (
	strange = 8  // a letter with a sound that it never stands for
	mute    = 6  // a letter that is silent where it never is
	extra   = 10 // a sound that no letter stands for: it goes to the letter before
)

// longest grapheme, in letters.
const longest = 4

// A state of the search: gap tells what a split grapheme still waits for.
const (
	noGap     = iota
	wantsMore // the consonant
	wantsT    // the t of st ("taste"), where two consonants may stand
	wantsE    // the e
	gaps
)

type move struct {
	rule   rule
	letter int // where it began; -1 for the silent e that ends a split grapheme
	i, j   int
	gap    int
	odd    bool
}

// Align parts a word into graphemes and gives each its sounds, by the cheapest
// way through the inventory in spellings.txt. Every letter (with
// or without an accent) and every phone
// comes back exactly once; other characters belong to no grapheme. Where nothing
// in the inventory fits, single letters take what is left and are marked as odd:
// [Alignment.Regular] tells. It returns nil when the word has no letter or there
// is no sound.
func Align(word string, phones []string) Alignment {
	var letters []byte
	var at, after []int // where each letter begins and ends in the word
	for i, r := range word {
		if c := plainLetter(r); c >= 'a' && c <= 'z' {
			letters, at, after = append(letters, byte(c)), append(at, i), append(after, i+utf8.RuneLen(r))
		}
	}
	said := bare(phones)
	n, m := len(letters), len(said)
	if n == 0 || m == 0 {
		return nil
	}
	s := search{letters: string(letters), said: said, inv: spellings()}
	s.run()
	var moves []move
	i, j, gap := n, m, noGap
	for i > 0 || j > 0 {
		mv := s.from[s.index(i, j, gap)]
		moves = append(moves, mv)
		i, j, gap = mv.i, mv.j, mv.gap
	}
	var out Alignment
	var waiting []int // split graphemes without their e yet
	for k := len(moves) - 1; k >= 0; k-- {
		mv := moves[k]
		switch {
		case mv.letter < 0: // the e of a split grapheme
			w := waiting[len(waiting)-1]
			waiting = waiting[:len(waiting)-1]
			out[w].E = at[mv.i]
			continue
		case mv.rule.grapheme == "": // a sound of no letter
			if len(out) == 0 {
				s.lead++
				continue
			}
			l := &out[len(out)-1]
			l.Phones, l.Odd = phones[l.First:mv.j+1:mv.j+1], true
			continue
		}
		size := len(mv.rule.grapheme.Letters())
		if mv.rule.grapheme.Split() {
			size = 1
			waiting = append(waiting, len(out))
		}
		first := mv.j
		if len(out) == 0 && s.lead > 0 {
			first, mv.odd = 0, true
		}
		end := mv.j + len(mv.rule.phones)
		out = append(out, Link{Grapheme: mv.rule.grapheme, Phones: phones[first:end:end], First: first,
			Start: at[mv.i], End: after[mv.i+size-1], E: -1, Odd: mv.odd})
	}
	return out
}

type search struct {
	letters string
	said    []string
	inv     inventory
	cost    []float64
	from    []move
	lead    int // sounds before the first letter
}

func (s *search) index(i, j, gap int) int { return (i*(len(s.said)+1)+j)*gaps + gap }

func (s *search) run() {
	n, m := len(s.letters), len(s.said)
	s.cost = make([]float64, (n+1)*(m+1)*gaps)
	s.from = make([]move, len(s.cost))
	for k := range s.cost {
		s.cost[k] = math.Inf(1)
	}
	s.cost[0] = 0
	for i := 0; i <= n; i++ {
		for j := 0; j <= m; j++ {
			for gap := range gaps {
				if !math.IsInf(s.cost[s.index(i, j, gap)], 1) {
					s.expand(i, j, gap)
				}
			}
		}
	}
}

func (s *search) reach(i, j, gap int, mv move, cost float64) {
	k := s.index(i, j, gap)
	if c := s.cost[s.index(mv.i, mv.j, mv.gap)] + cost; c < s.cost[k]-1e-9 {
		s.cost[k], s.from[k] = c, mv
	}
}

func (s *search) expand(i, j, gap int) {
	n, m := len(s.letters), len(s.said)
	here := move{letter: i, i: i, j: j, gap: gap}
	if gap == wantsE {
		if i < n && s.letters[i] == 'e' {
			mv := here
			mv.letter = -1
			s.reach(i+1, j, noGap, mv, 0)
		}
		return
	}
	if gap == wantsT {
		if i < n && j < m && s.letters[i] == 't' && s.said[j] == "T" {
			mv := here
			mv.rule = rule{grapheme: "t", phones: s.said[j : j+1]}
			s.reach(i+1, j+1, wantsE, mv, 1)
		}
		return
	}
	if j < m && gap == noGap {
		s.reach(i, j+1, gap, here, extra)
	}
	for size := 1; size <= longest && i+size <= n; size++ {
		letters := s.letters[i : i+size]
		for _, r := range s.inv.whole[letters] {
			if r.final && !s.atEnd(i+size) || !s.sounds(j, r.phones) {
				continue
			}
			next := noGap
			if gap == wantsMore {
				if isVowelLetter(letters[0]) || len(r.phones) == 0 || size > 1 && letters != "th" && letters != "ch" && letters != "qu" {
					continue
				}
				next = wantsE
			}
			mv := here
			mv.rule = r
			s.reach(i+size, j+len(r.phones), next, mv, r.cost)
			if gap == wantsMore && letters == "s" {
				s.reach(i+size, j+len(r.phones), wantsT, mv, r.cost)
			}
		}
	}
	if i >= n || gap != noGap {
		return
	}
	letter := s.letters[i : i+1]
	for _, r := range s.inv.split[letter] {
		if s.sounds(j, r.phones) {
			mv := here
			mv.rule = r
			s.reach(i+1, j+len(r.phones), wantsMore, mv, r.cost)
		}
	}
	mv := here
	mv.odd = true
	mv.rule = rule{grapheme: Grapheme(letter)}
	s.reach(i+1, j, noGap, mv, mute)
	if j < m {
		mv.rule = rule{grapheme: Grapheme(letter), phones: s.said[j : j+1]}
		cost := float64(strange)
		if isVowelLetter(letter[0]) != isVowelPhone(s.said[j]) {
			cost += 4
		}
		s.reach(i+1, j+1, noGap, mv, cost)
	}
}

// atEnd reports that a word ends here, but for a last s or d.
func (s *search) atEnd(i int) bool {
	rest := s.letters[i:]
	return rest == "" || rest == "s" || rest == "d"
}

func (s *search) sounds(j int, phones []string) bool {
	if j+len(phones) > len(s.said) {
		return false
	}
	for k, p := range phones {
		if s.said[j+k] != p {
			return false
		}
	}
	return true
}

func isVowelLetter(c byte) bool { return strings.IndexByte("aeiouy", c) >= 0 }

func isVowelPhone(p string) bool { return strings.IndexByte("AEIOU", p[0]) >= 0 }

// bare takes the stress digits off.
func bare(phones []string) []string {
	out := make([]string, len(phones))
	for i, p := range phones {
		out[i] = strings.TrimRight(p, "012")
	}
	return out
}
