package main

import (
	"bytes"
	"compress/gzip"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"bookstead/internal/lexicon/pack"
)

// pronunciations packs the dictionary: PHON names the phones, PRON tells the
// words. "word(2)" is the second way of saying "word".
func (b *builder) pronunciations() error {
	js, err := b.src.file("cmu-pronouncing-dictionary", "index.js")
	if err != nil {
		return err
	}
	lits, err := literals(js)
	if err != nil {
		return err
	}
	if len(lits)%2 != 0 || len(lits) < 2*130000 {
		return fmt.Errorf("there are %d strings where words and sounds should be", len(lits))
	}
	code := map[string]byte{}
	var names []string
	for i := 1; i < len(lits); i += 2 {
		for _, p := range strings.Fields(lits[i]) {
			if _, ok := code[p]; !ok {
				code[p] = 0
				names = append(names, p)
			}
		}
	}
	slices.Sort(names)
	if len(names) > 250 {
		return fmt.Errorf("there are %d phones", len(names))
	}
	for i, p := range names {
		code[p] = byte(i + 1)
	}
	type way struct {
		number int
		codes  []byte
	}
	ways := map[string][]way{}
	for i := 0; i < len(lits); i += 2 {
		word, number := lits[i], 1
		if at := strings.LastIndexByte(word, '('); at > 0 && strings.HasSuffix(word, ")") {
			if number, err = strconv.Atoi(word[at+1 : len(word)-1]); err != nil {
				return fmt.Errorf("reading %q: %w", word, err)
			}
			number++ // the package counts "(1)" or "(2)" for the second; only the order matters
			word = word[:at]
		}
		var codes []byte
		for _, p := range strings.Fields(lits[i+1]) {
			codes = append(codes, code[p])
		}
		ways[word] = append(ways[word], way{number, codes})
	}
	var t pack.TableWriter
	for word, ws := range ways {
		slices.SortStableFunc(ws, func(a, b way) int { return a.number - b.number })
		var value []byte
		for i, w := range ws {
			if i > 0 {
				value = append(value, 0)
			}
			value = append(value, w.codes...)
		}
		t.Add(word, value)
	}
	if err := b.add("PHON", []byte(strings.Join(names, "\n")), nil); err != nil {
		return err
	}
	data, err := t.Bytes()
	return b.add("PRON", data, err)
}

type bookCount struct{ times, novels int }

// bookCounts reads what cmd/bookcount wrote.
func (b *builder) bookCounts(file string) (counts map[string]bookCount, tokens, novels int, err error) {
	raw, err := b.src.own(file)
	if err != nil {
		return nil, 0, 0, err
	}
	z, err := gzip.NewReader(bytes.NewReader(raw))
	if err != nil {
		return nil, 0, 0, err
	}
	text, err := io.ReadAll(z)
	if err != nil {
		return nil, 0, 0, err
	}
	head, rest, _ := strings.Cut(string(text), "\n")
	types := 0
	if _, err := fmt.Sscanf(head, "# tokens %d types %d novels %d", &tokens, &types, &novels); err != nil {
		return nil, 0, 0, fmt.Errorf("reading the first line of %s: %w", file, err)
	}
	counts = make(map[string]bookCount, types)
	for line := range strings.Lines(rest) {
		var word string
		var c bookCount
		if f := strings.Split(strings.TrimSuffix(line, "\n"), "\t"); len(f) == 3 {
			word = f[0]
			c.times, _ = strconv.Atoi(f[1])
			c.novels, _ = strconv.Atoi(f[2])
		}
		if word == "" || c.times < 1 || c.novels < 1 || c.novels > novels {
			return nil, 0, 0, fmt.Errorf("reading %s: line %q", file, line)
		}
		counts[word] = c
	}
	if len(counts) != types {
		return nil, 0, 0, fmt.Errorf("%s has %d forms and says %d", file, len(counts), types)
	}
	return counts, tokens, novels, nil
}

// zipf is the scale of van Heuven, Mandera, Keuleers and Brysbaert (2014),
// "SUBTLEX-UK", Quarterly Journal of Experimental Psychology 67, 1176-1190:
// log10 of occurrences in a thousand million words, with one occurrence added
// to all forms.
func zipf(times, tokens, types int) float64 {
	return math.Log10(float64(times+1)/(float64(tokens+types)/1e6)) + 3
}

// counted packs what cmd/bookcount wrote as a table of frequencies and shares.
func (b *builder) counted(section string, counts map[string]bookCount, tokens, novels int) error {
	var t pack.TableWriter
	for word, c := range counts {
		v := binary.LittleEndian.AppendUint16(nil, uint16(math.Round(1000*zipf(c.times, tokens, len(counts)))))
		t.Add(word, append(v, byte(math.Round(255*float64(c.novels)/float64(novels)))))
	}
	data, err := t.Bytes()
	return b.add(section, data, err)
}

// frequencies packs BOOK (counts of forms in novels), STOR (the same in
// children's stories) and SPOK (estimates for speech). The list of forms heard in films is ordered by frequency but gives no
// counts. A form is given the frequency that the form of the same rank has in
// the novels: the two curves run closely together (measured once against true
// subtitle counts: mean absolute difference 0.23 on the Zipf scale).
func (b *builder) frequencies() error {
	tales, words, stories, err := b.bookCounts("story-counts.tsv.gz")
	if err != nil {
		return err
	}
	if err := b.counted("STOR", tales, words, stories); err != nil {
		return err
	}
	counts, tokens, novels, err := b.bookCounts("book-counts.tsv.gz")
	if err != nil {
		return err
	}
	if err := b.counted("BOOK", counts, tokens, novels); err != nil {
		return err
	}
	var times []int
	for _, c := range counts {
		times = append(times, c.times)
	}
	slices.Sort(times)
	slices.Reverse(times)

	raw, err := b.src.file("@zxcvbn-ts/language-en", "src/commonWords.json")
	if err != nil {
		return err
	}
	var heard []string
	if err := json.Unmarshal([]byte(raw), &heard); err != nil {
		return err
	}
	if len(heard) < 50000 || len(heard) > len(times) {
		return fmt.Errorf("the list of heard words has %d forms", len(heard))
	}
	var spoken pack.TableWriter
	seen := map[string]bool{}
	add := func(word string, z float64) {
		if !seen[word] {
			seen[word] = true
			spoken.Add(word, binary.LittleEndian.AppendUint16(nil, uint16(math.Round(1000*z))))
		}
	}
	for rank, word := range heard {
		add(strings.ToLower(word), zipf(times[rank], tokens, len(counts)))
	}
	for _, letter := range []string{"a", "i", "o"} { // single letters are left out of the list
		add(letter, zipf(counts[letter].times, tokens, len(counts)))
	}
	data, err := spoken.Bytes()
	return b.add("SPOK", data, err)
}

// defining packs DEFI: in how many of WordNet's definitions a form is used, for
// those used in two and more. What words are explained with are the words that
// are learned first.
func (b *builder) defining() error {
	uses := map[string]int{}
	for _, s := range b.db.synsets {
		definition, _ := splitGloss(s.gloss)
		seen := map[string]bool{}
		for _, w := range wordRun.FindAllString(strings.ToLower(definition), -1) {
			if w = strings.Trim(w, "'-"); w != "" && !seen[w] {
				seen[w] = true
				uses[w]++
			}
		}
	}
	var t pack.TableWriter
	for w, n := range uses {
		if n > 1 {
			t.Add(w, binary.LittleEndian.AppendUint16(nil, uint16(min(n, 1<<16-1))))
		}
	}
	data, err := t.Bytes()
	return b.add("DEFI", data, err)
}

// familiar packs DCHA and SPAC.
func (b *builder) familiar() error {
	for _, l := range []struct {
		section, pkg string
		size         int
	}{{"DCHA", "dale-chall", 2942}, {"SPAC", "spache", 1063}} {
		js, err := b.src.file(l.pkg, "index.js")
		if err != nil {
			return err
		}
		words, err := literals(js)
		if err != nil {
			return err
		}
		if len(words) != l.size {
			return fmt.Errorf("%s has %d words, not %d as its readme says", l.pkg, len(words), l.size)
		}
		var t pack.TableWriter
		seen := map[string]bool{}
		for _, w := range words {
			if w = strings.ToLower(w); !seen[w] {
				seen[w] = true
				t.Add(w, nil)
			}
		}
		data, err := t.Bytes()
		if err := b.add(l.section, data, err); err != nil {
			return err
		}
	}
	return nil
}

// spelling packs AFFX, the affix file that both dictionaries share, and SPEL:
// stems with their flags, American then British.
func (b *builder) spelling() error {
	var affix string
	stems := map[string]*[2]struct {
		known bool
		flags string
	}{}
	for i, pkg := range []string{"dictionary-en", "dictionary-en-gb"} {
		aff, err := b.src.file(pkg, "index.aff")
		if err != nil {
			return err
		}
		if i > 0 && aff != affix {
			return fmt.Errorf("the affix file of %s differs from the first", pkg)
		}
		affix = aff
		dic, err := b.src.file(pkg, "index.dic")
		if err != nil {
			return err
		}
		lines := strings.Split(strings.TrimRight(dic, "\n"), "\n")
		if n, err := strconv.Atoi(lines[0]); err != nil || n != len(lines)-1 {
			return fmt.Errorf("%s claims %q words and has %d", pkg, lines[0], len(lines)-1)
		}
		for _, line := range lines[1:] {
			stem, flags, _ := strings.Cut(line, "/")
			s := stems[stem]
			if s == nil {
				s = &[2]struct {
					known bool
					flags string
				}{}
				stems[stem] = s
			}
			s[i].known = true
			s[i].flags += flags
		}
	}
	if err := b.add("AFFX", []byte(affix), nil); err != nil {
		return err
	}
	var t pack.TableWriter
	capitals := map[string]bool{}
	for _, stem := range slices.Sorted(maps.Keys(stems)) {
		s := stems[stem]
		var v []byte
		for i := range s {
			if s[i].known {
				v = binary.AppendUvarint(v, uint64(len(s[i].flags))+1)
				v = append(v, s[i].flags...)
			} else {
				v = append(v, 0)
			}
		}
		t.Add(stem, v)
		lower := strings.ToLower(stem)
		first, size := utf8.DecodeRuneInString(stem)
		if stem[size:] != lower[min(size, len(lower)):] && stem != strings.ToUpper(stem) { // "McGee"
			in := "^" + string(unicode.ToUpper(first)) + strings.ToLower(stem[size:])
			if !capitals[in] {
				capitals[in] = true
				t.Add(in, v)
			}
		}
	}
	data, err := t.Bytes()
	return b.add("SPEL", data, err)
}

// lists packs our own lists as they are.
func (b *builder) lists() error {
	for _, l := range []struct{ section, file string }{{"DOLC", "dolch.txt"}, {"FRYS", "fry.txt"}, {"FUNC", "function-words.txt"}} {
		data, err := b.src.own(l.file)
		if err := b.add(l.section, data, err); err != nil {
			return err
		}
	}
	return nil
}
