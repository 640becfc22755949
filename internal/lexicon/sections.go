package lexicon

import (
	"encoding/binary"
	"fmt"
	"strings"

	"bookstead/internal/lexicon/pack"
)

// The sections of the pack. Texts are UTF-8, lists have one item a line, all
// numbers are as in package pack. Keys are in lower case unless it is said
// otherwise.
//
//	PHON  list: the phones; the code of each is its line, counted from 1
//	PRON  table: word -> codes of phones, one byte each; a byte 0 parts one way of
//	      saying the word from the next
//	LEXN  list: WordNet's lexicographer files by number from 0
//	GUAR  list: reasons why a meaning is offensive; codes from 1
//	PTRS  list: WordNet's pointer symbols; codes from 0
//	LEMM  table: lemma with spaces -> byte of bits 1 noun, 2 verb, 4 adjective,
//	      8 adverb; then for each part of speech that is set, in this order:
//	      varint number of senses, varint index of each synset, most usual first.
//	      The number of a lemma is its place in this table.
//	SYNI  for each synset, by part of speech (noun, verb, adjective, adverb) and
//	      offset: uint32 id (part of speech 0..3 << 28 | offset in WordNet's data
//	      file), uint32 offset of its record in SYND. The index of a synset is its
//	      place here.
//	SYND  records:
//	        byte    lexicographer file
//	        byte    code of the reason why the meaning is offensive, 0 for none
//	        byte    1 for a satellite adjective, else 0
//	        varint  number of words, and for each of them:
//	          varint  number of the lemma
//	          byte    lexicographer id * 2, + 1 when the word in this meaning is
//	                  not for a child's page
//	          varint  tag count
//	          varint  length of the form as printed and the form, when it has
//	                  capitals; else 0
//	        varint  number of pointers, and for each of them:
//	          byte    code of the symbol
//	          varint  index of the target
//	          byte    number of the source word from 1, 0 for all of them
//	          byte    number of the target word, likewise
//	        varint  of a verb: bit n for WordNet's sentence frame n
//	GLOS  blocks: the glosses by index of the synset, less the examples that hold
//	      a word which is never shown
//	EXCE  table: irregular form -> for each lemma: byte part of speech (n v a r),
//	      varint length, lemma
//	K30M  table: sense key that WordNet 3.0 lacks -> its key there, or nothing
//	BOOK  table: form -> uint16 Zipf frequency in novels * 1000, byte share of the
//	      novels that have it * 255
//	STOR  table: the same in children's stories
//	DEFI  table: form -> uint16 number of WordNet's definitions that use it, from 2
//	SPOK  table: form -> uint16 Zipf frequency in speech * 1000
//	DCHA  table: the words of Dale and Chall's list, without values
//	SPAC  table: the words of Spache's list, without values
//	AFFX  text: Hunspell's affix file
//	SPEL  table: stem, case kept -> for American and then for British English:
//	      varint 0 when it is not a word there, else 1 + number of flags, and the
//	      flags, one byte each. Stems with capitals inside ("McGee") stand here a
//	      second time as "^Mcgee", for words set in capitals.
//	OFFE  table: word or phrase -> byte level (1 mixed, 2 dated, 3 never), reason
//	DOLC, FRYS, FUNC  texts: data/dolch.txt, fry.txt and function-words.txt

// Read returns the lexicon in these bytes, which must not change afterwards.
func Read(data []byte) (*Lexicon, error) {
	f, err := pack.Open(data)
	if err != nil {
		return nil, err
	}
	l := &Lexicon{}
	for name, t := range map[string]*pack.Table{
		"PRON": &l.said, "LEMM": &l.lemmas, "EXCE": &l.exceptions, "K30M": &l.old, "BOOK": &l.books, "SPOK": &l.spoken, "STOR": &l.stories, "DEFI": &l.defining,
		"DCHA": &l.daleChall, "SPAC": &l.spache, "SPEL": &l.stems, "OFFE": &l.offensive,
	} {
		if *t, err = f.Table(name); err != nil {
			return nil, err
		}
	}
	texts := map[string][]byte{}
	for _, name := range []string{"PHON", "LEXN", "GUAR", "PTRS", "SYNI", "SYND", "GLOS", "AFFX", "DOLC", "FRYS", "FUNC"} {
		if texts[name], err = f.Section(name); err != nil {
			return nil, err
		}
	}
	list := func(name string) []string { return strings.Split(string(texts[name]), "\n") }
	l.phones = append([]string{""}, list("PHON")...)
	l.lexnames = list("LEXN")
	l.marks = append([]string{""}, list("GUAR")...)
	l.pointers = readPointerCodes(list("PTRS"))
	l.synsetIndex, l.synsets = texts["SYNI"], texts["SYND"]
	if l.glosses, err = pack.ReadBlocks(texts["GLOS"]); err != nil {
		return nil, fmt.Errorf("reading the definitions: %w", err)
	}
	if l.glosses.Len() != len(l.synsetIndex)/8 {
		return nil, fmt.Errorf("reading the definitions: there are %d for %d synsets", l.glosses.Len(), len(l.synsetIndex)/8)
	}
	if l.affixes, err = readAffixes(string(texts["AFFX"])); err != nil {
		return nil, fmt.Errorf("reading the affixes: %w", err)
	}
	for _, g := range readGroups(string(texts["DOLC"])) {
		l.dolch = append(l.dolch, SightList(g))
	}
	for _, g := range readGroups(string(texts["FRYS"])) {
		l.fry = append(l.fry, g.Words...)
	}
	l.function = map[string]bool{}
	for _, g := range readGroups(string(texts["FUNC"])) {
		for _, w := range g.Words {
			l.function[w] = true
		}
	}
	return l, nil
}

type group struct {
	Name  string
	Words []string
}

// readGroups reads words under headings in brackets; "#" starts a comment.
func readGroups(text string) []group {
	groups := []group{{}}
	for line := range strings.Lines(text) {
		line = strings.TrimSpace(line)
		last := &groups[len(groups)-1]
		switch {
		case line == "" || line[0] == '#':
		case line[0] == '[':
			groups = append(groups, group{Name: strings.Trim(line, "[]")})
		default:
			last.Words = append(last.Words, strings.Fields(line)...)
		}
	}
	if len(groups) > 1 && len(groups[0].Words) == 0 {
		groups = groups[1:]
	}
	return groups
}

// reader reads numbers from the front of bytes of the pack.
type reader struct{ rest []byte }

func (r *reader) byte() byte {
	b := r.rest[0]
	r.rest = r.rest[1:]
	return b
}

func (r *reader) varint() int {
	v, n := binary.Uvarint(r.rest)
	r.rest = r.rest[n:]
	return int(v)
}

func (r *reader) bytes(n int) []byte {
	b := r.rest[:n]
	r.rest = r.rest[n:]
	return b
}
