package lexicon

import (
	"encoding/binary"
	"slices"
)

// pointerCodes are the codes of the pointers that we follow.
type pointerCodes struct {
	hypernyms, hyponyms                           []byte
	similar, alsoSee, antonym, derived, pertainym []byte
	parts, wholes, entails, causes                []byte
}

// readPointerCodes finds WordNet's symbols, wninput(5WN), in the list of the
// pack. One that is not there has no code and no pointers.
func readPointerCodes(symbols []string) pointerCodes {
	of := func(wanted ...string) []byte {
		var codes []byte
		for _, s := range wanted {
			if i := slices.Index(symbols, s); i >= 0 {
				codes = append(codes, byte(i))
			}
		}
		return codes
	}
	return pointerCodes{
		hypernyms: of("@", "@i"), hyponyms: of("~", "~i"), similar: of("&"), alsoSee: of("^", "$"), antonym: of("!"),
		derived: of("+"), pertainym: of(`\`, "<"), parts: of("%m", "%s", "%p"), wholes: of("#m", "#s", "#p"),
		entails: of("*"), causes: of(">"),
	}
}

// target is where a pointer leads: a synset and, for a relation between words,
// the numbers of the words from 1.
type target struct {
	index, from, to int
}

func (l *Lexicon) targets(rec record, codes []byte) []target {
	r := reader{rec.pointers}
	var out []target
	for range r.varint() {
		code := r.byte()
		t := target{index: r.varint(), from: int(r.byte()), to: int(r.byte())}
		if slices.Contains(codes, code) {
			out = append(out, t)
		}
	}
	return out
}

func (l *Lexicon) related(id SynsetID, codes []byte) []SynsetID {
	index, ok := l.indexOf(id)
	if !ok {
		return nil
	}
	var ids []SynsetID
	for _, t := range l.targets(l.record(index), codes) {
		if to := l.idAt(t.index); !slices.Contains(ids, to) {
			ids = append(ids, to)
		}
	}
	return ids
}

// Hypernyms returns what this is a kind or an instance of ("a dog is a
// canine"), in WordNet's order.
func (l *Lexicon) Hypernyms(id SynsetID) []SynsetID { return l.related(id, l.pointers.hypernyms) }

// Hyponyms returns the kinds and instances of this.
func (l *Lexicon) Hyponyms(id SynsetID) []SynsetID { return l.related(id, l.pointers.hyponyms) }

// Parts returns what this is made of or has as members.
func (l *Lexicon) Parts(id SynsetID) []SynsetID { return l.related(id, l.pointers.parts) }

// Wholes returns what this is a part, member or substance of.
func (l *Lexicon) Wholes(id SynsetID) []SynsetID { return l.related(id, l.pointers.wholes) }

// Similar returns the satellites of an adjective, or its head.
func (l *Lexicon) Similar(id SynsetID) []SynsetID { return l.related(id, l.pointers.similar) }

// AlsoSee returns neighbours that WordNet points to, and for verbs the other
// members of its group.
func (l *Lexicon) AlsoSee(id SynsetID) []SynsetID { return l.related(id, l.pointers.alsoSee) }

// Entails returns what a verb cannot be done without ("snore" entails "sleep")
// or brings about ("kill" causes "die").
func (l *Lexicon) Entails(id SynsetID) []SynsetID {
	return append(l.related(id, l.pointers.entails), l.related(id, l.pointers.causes)...)
}

// Frames returns the sentence frames in which a verb is used, bit n for frame n of
// wninput(5WN): 8 is "Somebody ----s something". 0 for what is no verb.
func (l *Lexicon) Frames(id SynsetID) uint64 {
	index, ok := l.indexOf(id)
	if !ok || id.POS() != Verb {
		return 0
	}
	r := reader{l.record(index).pointers}
	for range r.varint() {
		r.byte()
		r.varint()
		r.byte()
		r.byte()
	}
	mask, _ := binary.Uvarint(r.rest)
	return mask
}

// Antonyms returns the senses that are opposite to this sense. A satellite
// adjective without one of its own gets those of its head ("tiny" has "large").
func (l *Lexicon) Antonyms(s Sense) []Sense {
	own := l.wordTargets(s, l.pointers.antonym)
	if len(own) > 0 || s.POS != Adjective {
		return own
	}
	index, ok := l.indexOf(s.Synset)
	if !ok || !l.record(index).satellite {
		return nil
	}
	var out []Sense
	for _, h := range l.targets(l.record(index), l.pointers.similar) {
		head := l.record(h.index)
		for _, t := range l.targets(head, l.pointers.antonym) {
			out = append(out, l.senseAt(t.index, t.to))
		}
	}
	return out
}

// Derivations returns the senses of words that are made from this one or that
// it is made from: "sorrow" gives "sorrowful", "quickly" gives "quick".
func (l *Lexicon) Derivations(s Sense) []Sense {
	return append(l.wordTargets(s, l.pointers.derived), l.wordTargets(s, l.pointers.pertainym)...)
}

// wordTargets follows relations between words from the lemma of a sense.
func (l *Lexicon) wordTargets(s Sense, codes []byte) []Sense {
	index, ok := l.indexOf(s.Synset)
	if !ok {
		return nil
	}
	number, _, ok := l.lemmas.Find(normal(s.Lemma))
	if !ok {
		return nil
	}
	rec := l.record(index)
	var out []Sense
	for _, t := range l.targets(rec, codes) {
		if t.from > 0 && t.from <= len(rec.words) && rec.words[t.from-1].lemma == number {
			out = append(out, l.senseAt(t.index, t.to))
		}
	}
	return out
}

// senseAt is the sense of a word, counted from 1, in a synset.
func (l *Lexicon) senseAt(index, word int) Sense {
	rec := l.record(index)
	w := rec.words[min(max(word, 1), len(rec.words))-1]
	lemma, _ := l.lemmas.At(w.lemma)
	_, indices := l.senseIndices(lemma, rec.id.POS())
	return l.sense(rec, w.lemma, lemma, slices.Index(indices, index)+1)
}
