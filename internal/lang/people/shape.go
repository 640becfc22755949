package people

import (
	"strings"

	"bookstead/internal/lang"
)

// shape fills what kind of mention a span is; false drops it.
func (f *finder) shape(m *mention) bool {
	d := f.d
	for m.last > m.first+1 && d.Tokens[m.last-1].UPOS == "PUNCT" {
		m.last--
	}
	for m.first < m.last-1 && d.Tokens[m.first].UPOS == "PUNCT" {
		m.first++
	}
	for m.first < m.last-1 && (d.Tokens[m.first].UPOS == "ADP" || d.Tokens[m.first].UPOS == "CCONJ" || d.Tokens[m.first].UPOS == "SCONJ") {
		m.first++
	}
	if u := d.Tokens[m.first].UPOS; u == "VERB" && d.Tokens[m.first].XPOS == "VBZ" || u == "AUX" || u == "PUNCT" {
		return false
	}
	m.head = d.HeadOf(m.first, m.last)
	h := d.Tokens[m.head]
	if h.UPOS != "NOUN" && h.UPOS != "PROPN" && h.UPOS != "ADJ" && h.UPOS != "NUM" {
		return false
	}
	// The "Mrs." inside "Mrs. Hall" is no mention of its own here.
	if _, ok := titles[titleKey(h.Form)]; ok && m.last < len(d.Tokens) && nameToken(d, m.head) && nameToken(d, m.last) && m.last-m.first == 1 && d.Tokens[m.last].Start <= d.Tokens[m.last-1].End+4 {
		return false
	}
	if d.Tokens[m.first].UPOS == "DET" || d.Tokens[m.first].XPOS == "PRP$" {
		m.article = strings.ToLower(d.Tokens[m.first].Form)
	}
	m.plural = h.XPOS == "NNS" || h.XPOS == "NNPS" || conjoined(d, m)
	m.form = described
	if h.XPOS == "NNPS" && m.article == "" && !conjoined(d, m) {
		m.plural = false // Monks
	}
	if h.UPOS == "PROPN" || capital(h.Form) && !sentenceStart(d, m.head) && h.UPOS == "NOUN" {
		m.form = named
		f.name(m)
		if len(m.words) == 0 && len(m.titles) == 0 || len(m.words) == 1 && honour[strings.ToLower(m.words[0])] {
			m.form = described
		}
	}
	return true
}

// extend takes in the rest of a name that the reader cut short: "Mr. Sherlock"
// Holmes.
func (f *finder) extend(m *mention) {
	d := f.d
	z := m.last
	for z < len(d.Tokens) && nameToken(d, z) && d.Tokens[z].Start <= d.Tokens[z-1].End+4 && f.sameRun(m, z) {
		z++
	}
	if z == m.last {
		return
	}
	m.last = z
	m.head = d.HeadOf(m.first, m.last)
	f.name(m)
}

// sameRun tells whether the tree ties the name token t to the words of m.
func (f *finder) sameRun(m *mention, t int) bool {
	d := f.d
	h := d.Tokens[t].Head
	if h >= m.first && h < m.last && (strings.HasPrefix(d.Tokens[t].Deprel, "flat") || strings.HasPrefix(d.Tokens[t].Deprel, "compound")) {
		return true
	}
	k := d.Tokens[m.head].Head
	r := d.Tokens[m.head].Deprel
	return k == t && (strings.HasPrefix(r, "compound") || strings.HasPrefix(r, "nmod:desc") || strings.HasPrefix(r, "flat"))
}

// conjoined tells whether a span is two people: "Mary and Colin".
func conjoined(d *lang.Doc, m *mention) bool {
	for t := m.first; t < m.last; t++ {
		if d.Tokens[t].Deprel == "conj" && d.Tokens[t].Head == m.head && (d.Tokens[t].UPOS == "PROPN" || d.Tokens[t].UPOS == "NOUN") {
			return true
		}
	}
	return false
}

func sentenceStart(d *lang.Doc, t int) bool {
	if t == 0 {
		return true
	}
	switch f := d.Tokens[t-1].Form; f {
	case ".", "!", "?", "“", "\"", "‘", ":", "”", "'", "’", "--", "—":
		return true
	}
	i := d.SentenceAt(d.Tokens[t].Start)
	return i < 0 || d.Sentences[i].First == t
}

// name reads the words of the name in a span: the run of capitals with the head.
func (f *finder) name(m *mention) {
	d := f.d
	a, z := m.head, m.head+1
	part := func(t int) bool {
		x := d.Tokens[t]
		if nameToken(d, t) {
			return true
		}
		if capital(x.Form) && (x.UPOS == "NOUN" || x.UPOS == "ADJ") && x.Deprel != "nmod:poss" && t > m.first {
			return true
		}
		switch x.Form {
		case "de", "von", "van", "du", "la", "le", "d'", "di", "of", "the":
			return t > a && t+1 < m.last && (nameToken(d, t+1) || d.Tokens[t+1].Form == "the")
		}
		return false
	}
	for a > m.first && part(a-1) && !possessive(d, a) {
		a--
	}
	for z < m.last && part(z) {
		z++
	}
	for z > a+1 && (d.Tokens[z-1].Form == "of" || d.Tokens[z-1].Form == "the") {
		z--
	}
	m.titles, m.words = nil, nil
	for t := a; t < z; t++ {
		w := usual(d.Tokens[t].Form)
		if _, ok := titles[titleKey(w)]; ok && len(m.words) == 0 && t < z-1 {
			m.titles = append(m.titles, titleKey(w))
			continue
		}
		m.words = append(m.words, w)
	}
}

// possessive tells whether a clitic of possession parts t-1 and t.
func possessive(d *lang.Doc, t int) bool {
	return t > 0 && d.Tokens[t-1].XPOS == "POS"
}
