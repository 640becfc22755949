package sense

import (
	"slices"
	"strings"

	"bookstead/internal/lexicon"
)

// Unit is a word, or several words that are one entry of the dictionary ("set
// out", "by and by"), as it stands in a text.
type Unit struct {
	// First and Last are the tokens from the first to the one behind the last. Of a
	// verb that is parted from its particle ("set them out") all between count in.
	First, Last int
	// Head is the token that carries the form: the verb of "set out", else the last.
	Head  int
	Lemma string // in lower case, with spaces
	POS   lexicon.POS
}

// Parted reports whether other words stand between those of the unit.
func (u Unit) Parted() bool { return u.Last-u.First > strings.Count(u.Lemma, " ")+1 }

// longestUnit is the greatest number of words that is looked for.
const longestUnit = 5

// UnitAt returns the unit that a token belongs to: the longest entry of several
// words that holds it, else the word alone. ok is false for words that the
// dictionary does not hold.
func (j *Judge) UnitAt(token int) (u Unit, ok bool) {
	if u, ok := j.severalAt(token); ok {
		return u, true
	}
	t := j.d.Tokens[token]
	pos, ok := POSOf(t.UPOS)
	if !ok {
		return Unit{}, false
	}
	lemma := strings.ToLower(t.Lemma)
	if !j.lex.HasLemma(lemma, pos) {
		found := j.lex.Lemmas(t.Form, pos)
		if len(found) == 0 {
			return Unit{}, false
		}
		lemma = found[0]
	}
	return Unit{First: token, Last: token + 1, Head: token, Lemma: lemma, POS: pos}, true
}

func (j *Judge) severalAt(token int) (best Unit, ok bool) {
	s := j.d.Sentences[j.d.SentenceAt(j.d.Tokens[token].Start)]
	for first := max(s.First, token-longestUnit+1); first <= token; first++ {
		for _, u := range j.severalFrom(first, s.Last) {
			if token < u.Last && (!ok || u.Last-u.First > best.Last-best.First) {
				best, ok = u, true
			}
		}
	}
	if ok {
		return best, true
	}
	return j.particle(token, s.First, s.Last)
}

// severalFrom finds the entries that start at a token and stand together.
func (j *Judge) severalFrom(first, end int) []Unit {
	if got, ok := j.units[first]; ok {
		return got
	}
	var out []Unit
	seen := map[string]bool{}
	for _, w := range j.readings(first) {
		for _, lemma := range j.continued(w) {
			words := strings.Fields(lemma)
			if len(words) > longestUnit || first+len(words) > end || seen[lemma] {
				continue
			}
			match := true
			for k := 1; k < len(words) && match; k++ {
				match = slices.Contains(j.readings(first+k), words[k])
			}
			if !match {
				continue
			}
			if pos, ok := j.entryPOS(lemma, first, first+len(words)); ok {
				seen[lemma] = true
				u := Unit{First: first, Last: first + len(words), Head: first + len(words) - 1, Lemma: lemma, POS: pos}
				if pos == lexicon.Verb {
					u.Head = first
				}
				out = append(out, u)
			}
		}
	}
	j.units[first] = out
	return out
}

// readings are the form and the lemma of a token, in lower case.
func (j *Judge) readings(token int) []string {
	t := &j.d.Tokens[token]
	form, lemma := strings.ToLower(t.Form), strings.ToLower(t.Lemma)
	if form == lemma || lemma == "" {
		return []string{form}
	}
	return []string{form, lemma}
}

func (j *Judge) continued(first string) []string {
	got, ok := j.multi[first]
	if !ok {
		got = j.lex.Multiword(first)
		j.multi[first] = got
	}
	return got
}

// entryPOS says as what part of speech an entry of several words stands there.
// A verb starts with one, a noun ends with one; what begins with an article, a
// pronoun or a form of "be" is no unit, nor are two words that are only names.
func (j *Judge) entryPOS(lemma string, first, last int) (lexicon.POS, bool) {
	a, z := j.d.Tokens[first], j.d.Tokens[last-1]
	for _, p := range []lexicon.POS{lexicon.Adverb, lexicon.Verb, lexicon.Adjective, lexicon.Noun} {
		if !j.lex.HasLemma(lemma, p) {
			continue
		}
		switch p {
		case lexicon.Verb:
			if a.UPOS != "VERB" || z.UPOS == "PUNCT" {
				continue
			}
		case lexicon.Noun:
			if z.UPOS != "NOUN" || a.UPOS == "DET" || a.UPOS == "VERB" || a.UPOS == "AUX" || a.UPOS == "PRON" {
				continue
			}
		case lexicon.Adjective:
			if z.UPOS == "PROPN" {
				continue
			}
		case lexicon.Adverb:
			if a.UPOS == "AUX" || z.UPOS == "PROPN" {
				continue
			}
		}
		return p, true
	}
	return 0, false
}

// particle finds a verb with its particle apart from it, by the tree.
func (j *Judge) particle(token, first, last int) (Unit, bool) {
	verb, part := token, -1
	if t := j.d.Tokens[token]; t.Deprel == "compound:prt" && t.Head >= first && t.Head < token {
		verb, part = t.Head, token
	} else if t.UPOS == "VERB" {
		for k := token + 1; k < min(last, token+6); k++ {
			if o := j.d.Tokens[k]; o.Deprel == "compound:prt" && o.Head == token {
				part = k
				break
			}
		}
	}
	if part < 0 {
		return Unit{}, false
	}
	lemma := strings.ToLower(j.d.Tokens[verb].Lemma + " " + j.d.Tokens[part].Form)
	if !j.lex.HasLemma(lemma, lexicon.Verb) {
		return Unit{}, false
	}
	return Unit{First: verb, Last: part + 1, Head: verb, Lemma: lemma, POS: lexicon.Verb}, true
}
