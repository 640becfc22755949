package lexicon

import (
	"encoding/binary"
	"fmt"
	"sort"
	"strconv"
	"strings"
)

// POS is a part of speech as WordNet has them.
type POS byte

const (
	Noun      POS = 'n'
	Verb      POS = 'v'
	Adjective POS = 'a'
	Adverb    POS = 'r'
)

// PartsOfSpeech are all four, in WordNet's order.
func PartsOfSpeech() []POS { return []POS{Noun, Verb, Adjective, Adverb} }

const posLetters = "nvar"

// String names the part of speech in full.
func (p POS) String() string {
	switch p {
	case Noun:
		return "noun"
	case Verb:
		return "verb"
	case Adjective:
		return "adjective"
	case Adverb:
		return "adverb"
	}
	return fmt.Sprintf("part of speech %q", byte(p))
}

// SynsetID names a synset by part of speech and byte offset in WordNet 3.1's
// data file. The zero value names none.
type SynsetID uint32

// POS is the part of speech of the synset.
func (id SynsetID) POS() POS { return POS(posLetters[id>>28&3]) }

// String gives the usual form: "02086723-n".
func (id SynsetID) String() string {
	return fmt.Sprintf("%08d-%c", uint32(id)&(1<<28-1), id.POS())
}

// Sense is one meaning of one lemma.
type Sense struct {
	Lemma  string // as WordNet prints it, with spaces: "Christmas tree"
	POS    POS
	Key    string // sense key of WordNet 3.1: "coil%1:25:00::"
	Synset SynsetID
	Number int // place among the senses of the lemma, from 1
	Count  int // times tagged in WordNet's semantic concordance
	// Lexname is the lexicographer file, a coarse class: "noun.shape".
	Lexname  string
	Synonyms []Synonym // the other lemmas of the synset
	Gloss    string    // the definition alone
	Examples []string  // without quotation marks
	// Offensive reports that the meaning, or the word in this meaning, does not
	// belong on a child's page; Reason says why.
	Offensive bool
	Reason    string
}

// Synonym is a lemma of a synset.
type Synonym struct {
	Lemma     string
	Count     int  // times tagged in this sense
	Offensive bool // not to be offered on a child's page
}

// Synset is a set of lemmas with one meaning.
type Synset struct {
	ID       SynsetID
	POS      POS
	Lexname  string
	Lemmas   []Synonym // all of them, in WordNet's order
	Gloss    string
	Examples []string
	// Offensive reports that the meaning itself does not belong on a child's
	// page, whichever lemma tells it.
	Offensive bool
	Reason    string
}

// record is a synset as it lies in SYND.
type record struct {
	index     int
	id        SynsetID
	lexname   byte
	mark      byte
	satellite bool
	words     []recordWord
	pointers  []byte // from the number of pointers on
}

type recordWord struct {
	lemma     int
	cased     []byte
	lexid     byte
	offensive bool
	count     int
}

func (l *Lexicon) idAt(index int) SynsetID {
	return SynsetID(binary.LittleEndian.Uint32(l.synsetIndex[8*index:]))
}

func (l *Lexicon) indexOf(id SynsetID) (int, bool) {
	n := len(l.synsetIndex) / 8
	i := sort.Search(n, func(i int) bool { return l.idAt(i) >= id })
	return i, i < n && l.idAt(i) == id
}

func (l *Lexicon) record(index int) record {
	r := reader{l.synsets[binary.LittleEndian.Uint32(l.synsetIndex[8*index+4:]):]}
	rec := record{index: index, id: l.idAt(index), lexname: r.byte(), mark: r.byte(), satellite: r.byte() == 1}
	rec.words = make([]recordWord, r.varint())
	for i := range rec.words {
		w := &rec.words[i]
		w.lemma = r.varint()
		b := r.byte()
		w.lexid, w.offensive = b>>1, b&1 == 1
		w.count = r.varint()
		w.cased = r.bytes(r.varint())
	}
	rec.pointers = r.rest
	return rec
}

// form is the word as printed.
func (l *Lexicon) form(w recordWord) string {
	if len(w.cased) > 0 {
		return string(w.cased)
	}
	key, _ := l.lemmas.At(w.lemma)
	return key
}

func (l *Lexicon) synonyms(rec record, without int) []Synonym {
	var out []Synonym
	for i, w := range rec.words {
		if w.lemma == without {
			continue
		}
		if twin := i > 0 && rec.words[i-1].lemma == w.lemma; !twin { // "Earth" and "earth"
			out = append(out, Synonym{l.form(w), w.count, w.offensive || rec.mark > 0})
		}
	}
	return out
}

// key makes the sense key of a word, as told in WordNet's senseidx(5WN).
func (l *Lexicon) key(rec record, w recordWord, lemma string) string {
	kind, head := strconv.Itoa(int(rec.id>>28&3)+1), ":"
	if rec.satellite {
		kind = "5"
		if heads := l.targets(rec, l.pointers.similar); len(heads) > 0 {
			h := l.record(heads[0].index)
			word, _ := l.lemmas.At(h.words[0].lemma)
			head = fmt.Sprintf("%s:%02d", strings.ReplaceAll(word, " ", "_"), h.words[0].lexid)
		}
	}
	return fmt.Sprintf("%s%%%s:%02d:%02d:%s", strings.ReplaceAll(lemma, " ", "_"), kind, rec.lexname, w.lexid, head)
}

// Senses returns the meanings of a lemma, in WordNet's order, the most usual
// first. It returns nil for a word that is no lemma: see [Lexicon.Lemmas].
func (l *Lexicon) Senses(lemma string, pos POS) []Sense {
	lemma = normal(lemma)
	number, indices := l.senseIndices(lemma, pos)
	if len(indices) == 0 {
		return nil
	}
	senses := make([]Sense, len(indices))
	for i, index := range indices {
		senses[i] = l.sense(l.record(index), number, lemma, i+1)
	}
	return senses
}

// senseIndices returns the number of a lemma and the indices of its synsets.
func (l *Lexicon) senseIndices(lemma string, pos POS) (number int, indices []int) {
	number, value, ok := l.lemmas.Find(lemma)
	if !ok {
		return 0, nil
	}
	r := reader{value}
	mask := r.byte()
	for p := range 4 {
		if mask&(1<<p) == 0 {
			continue
		}
		n := r.varint()
		wanted := posLetters[p] == byte(pos)
		if wanted {
			indices = make([]int, 0, n)
		}
		for range n {
			if index := r.varint(); wanted {
				indices = append(indices, index)
			}
		}
	}
	return number, indices
}

// sense makes the sense that a lemma has in a synset.
func (l *Lexicon) sense(rec record, lemmaNumber int, lemma string, place int) Sense {
	s := Sense{Lemma: lemma, POS: rec.id.POS(), Synset: rec.id, Number: place, Lexname: l.lexnames[rec.lexname]}
	for _, w := range rec.words {
		if w.lemma == lemmaNumber {
			s.Lemma, s.Count = l.form(w), w.count
			s.Key = l.key(rec, w, lemma)
			if w.offensive {
				s.Offensive = true
				if o, _ := l.Offensive(lemma); o.Level != Fine {
					s.Reason = o.Reason
				}
			}
			break
		}
	}
	if rec.mark > 0 {
		s.Offensive, s.Reason = true, l.marks[rec.mark]
	}
	s.Synonyms = l.synonyms(rec, lemmaNumber)
	s.Gloss, s.Examples = splitGloss(l.glosses.Text(rec.index))
	return s
}

// HasLemma reports whether a word is a lemma of this part of speech; it is much
// cheaper than asking for its senses.
func (l *Lexicon) HasLemma(lemma string, pos POS) bool {
	value, ok := l.lemmas.Get(normal(lemma))
	p := strings.IndexByte(posLetters, byte(pos))
	return ok && p >= 0 && value[0]&(1<<p) != 0
}

// SenseByKey returns the sense with this key of WordNet 3.1.
func (l *Lexicon) SenseByKey(key string) (Sense, bool) {
	word, rest, ok := strings.Cut(key, "%")
	if !ok || rest == "" {
		return Sense{}, false
	}
	lemma := normal(strings.ReplaceAll(word, "_", " "))
	pos := map[byte]POS{'1': Noun, '2': Verb, '3': Adjective, '4': Adverb, '5': Adjective}[rest[0]]
	number, indices := l.senseIndices(lemma, pos)
	for i, index := range indices {
		rec := l.record(index)
		for _, w := range rec.words {
			if w.lemma == number && l.key(rec, w, lemma) == key {
				return l.sense(rec, number, lemma, i+1), true
			}
		}
	}
	return Sense{}, false
}

// Key30 returns the key that WordNet 3.0 has for a sense of WordNet 3.1: the
// same for all but some hundred. It is "" when 3.0 lacks the sense.
func (l *Lexicon) Key30(key string) string {
	if old, ok := l.old.Get(key); ok {
		return string(old)
	}
	return key
}

// Synset returns the synset with this id.
func (l *Lexicon) Synset(id SynsetID) (Synset, bool) {
	index, ok := l.indexOf(id)
	if !ok {
		return Synset{}, false
	}
	rec := l.record(index)
	s := Synset{ID: id, POS: id.POS(), Lexname: l.lexnames[rec.lexname], Lemmas: l.synonyms(rec, -1), Offensive: rec.mark > 0, Reason: l.marks[rec.mark]}
	s.Gloss, s.Examples = splitGloss(l.glosses.Text(index))
	return s, true
}

// splitGloss parts a gloss into its definition and its examples: the first
// quotation behind a semicolon, a colon or at the start begins the examples.
// Who said an example is left off.
func splitGloss(gloss string) (definition string, examples []string) {
	at := -1
	for i := 0; i < len(gloss); i++ {
		if gloss[i] != '"' {
			continue
		}
		if i == 0 || strings.HasSuffix(gloss[:i], "; ") || strings.HasSuffix(gloss[:i], ": ") {
			at = i
			break
		}
		if end := strings.IndexByte(gloss[i+1:], '"'); end >= 0 { // a quotation inside the definition
			i += end + 1
		}
	}
	if at < 0 {
		return strings.TrimRight(gloss, "; "), nil
	}
	definition = strings.TrimRight(gloss[:at], ";: ")
	rest := gloss[at:]
	for {
		_, after, ok := strings.Cut(rest, `"`)
		example, left, closed := strings.Cut(after, `"`)
		if !ok || !closed {
			return definition, examples
		}
		if example = strings.TrimSpace(example); example != "" {
			examples = append(examples, example)
		}
		rest = left
	}
}
