package vocabulary

import (
	"fmt"
	"slices"
	"strings"

	"bookstead/internal/kit"
	"bookstead/internal/lang"
	"bookstead/internal/lexicon"
	"bookstead/internal/passage"
	"bookstead/internal/phonics"
)

// Blank stands for the word in a sentence to fill in.
const Blank = "______"

// exercise adds what is worked with: a sentence from elsewhere in the book with
// a blank, how the word is built, and why it is the part of speech that it is.
func (e *engine) exercise(c *kit.Content, w candidate) {
	c.Gap, c.GapWord = e.gap(w)
	c.Build = e.built(w)
	c.Reason = reason(e.passages[w.passage].Doc, w.token, w.pos)
}

// gap finds the best sentence of the book, other than the one shown, that has
// the word as the same part of speech, later ones before earlier ones: they
// are still to be read.
func (e *engine) gap(w candidate) (sentence, word string) {
	best, bestAt := 0.45, -1
	var in passage.Passage
	for _, at := range e.where(w.lemma) {
		p := e.passages[at.passage]
		t := &p.Doc.Tokens[at.token]
		if at.sentence == w.sentence || t.Multi != 0 || upos(w.pos) != t.UPOS {
			continue
		}
		n := p.Doc.Sentences[at.sentence]
		if n.Last-n.First < 6 || n.Last-n.First > 32 {
			continue
		}
		v := e.printable(at.passage, at.sentence)
		if at.passage > w.passage {
			v += 0.1
		}
		if v > best && !e.kept(p, at.sentence) && e.once(p.Doc, at.sentence, w.lemma) {
			best, bestAt, in = v, at.token, p
		}
	}
	if bestAt < 0 {
		return "", ""
	}
	t := in.Doc.Tokens[bestAt]
	si := in.Doc.SentenceAt(t.Start)
	sp := in.Doc.SentenceSpan(si)
	text := in.Doc.Text[sp.Start:t.Start] + "\x00" + in.Doc.Text[t.End:sp.End]
	whole := in.Balanced(si)
	plainText := strings.Join(strings.Fields(strings.ReplaceAll(text, "\x00", t.Form)), " ")
	at := strings.Index(whole, plainText)
	gapped := strings.Join(strings.Fields(strings.ReplaceAll(text, "\x00", Blank)), " ")
	if at >= 0 {
		gapped = whole[:at] + gapped + whole[at+len(plainText):]
	}
	return gapped, t.Form
}

// kept reports that a sentence is kept back from children.
func (e *engine) kept(p passage.Passage, sentence int) bool {
	v, ok := e.warned[sentence]
	if !ok {
		v = e.lex.Warning(p.Sentence(sentence)) != ""
		e.warned[sentence] = v
	}
	return v
}

// once reports that a sentence has the word's family only once: a second would
// give the answer away.
func (e *engine) once(d *lang.Doc, sentence int, lemma string) bool {
	n := 0
	for i := d.Sentences[sentence].First; i < d.Sentences[sentence].Last; i++ {
		if l := fold(d.Tokens[i].Lemma); l == lemma || len(l) > 3 && family(l) == family(lemma) {
			n++
		}
	}
	return n == 1
}

func upos(pos lexicon.POS) string {
	return map[lexicon.POS]string{lexicon.Noun: "NOUN", lexicon.Verb: "VERB", lexicon.Adjective: "ADJ", lexicon.Adverb: "ADV"}[pos]
}

// spot is one place of a lemma.
type spot struct{ passage, sentence, token int }

// where are the places of a lemma in prose.
func (e *engine) where(lemma string) []spot {
	if e.spots == nil {
		e.spots = map[string][]spot{}
		for pi, p := range e.passages {
			for si := p.First; si < p.Last; si++ {
				if !p.Prose(si) {
					continue
				}
				for i := p.Doc.Sentences[si].First; i < p.Doc.Sentences[si].Last; i++ {
					if l := fold(p.Doc.Tokens[i].Lemma); len(l) > 3 {
						e.spots[l] = append(e.spots[l], spot{pi, si, i})
					}
				}
			}
		}
	}
	return e.spots[lemma]
}

// what common affixes do, in words for a child. Common knowledge.
var affixMeaning = map[string]string{
	"un-": "not", "dis-": "not, or the opposite", "im-": "not", "in-": "not", "non-": "not", "mis-": "badly or wrongly", "re-": "again", "pre-": "before",
	"fore-": "before", "over-": "too much, or above", "under-": "too little, or below", "out-": "out, or better than",
	"-ful": "full of", "-less": "without", "-ness": "the state of being", "-ly": "in such a way", "-able": "that can be", "-ible": "that can be", "-er": "one who, or more",
	"-or": "one who", "-ment": "the act or result of", "-ish": "somewhat like", "-ward": "toward", "-y": "having, or like", "-hood": "the time or state of being", "-ship": "the state of being",
	"-some": "likely to", "-en": "to make, or made of", "-dom": "the state of being", "-tion": "the act of",
}

// built tells how a word is made and names relatives: "hope + -less (without).
// Family: hopeful, hopelessness."
func (e *engine) built(w candidate) string {
	var out []string
	base := w.lemma
	if b, ok := phonics.BuildIn(e.lex, w.lemma); ok {
		base = b.Base
		var parts []string
		note := func(affix string) string {
			if m := affixMeaning[affix]; m != "" {
				return fmt.Sprintf("%s (%s)", affix, m)
			}
			return affix
		}
		if b.Prefix != "" {
			parts = append(parts, note(b.Prefix+"-"))
		}
		parts = append(parts, b.Base)
		for _, s := range b.Suffixes {
			parts = append(parts, note("-"+s))
		}
		out = append(out, strings.Join(parts, " + "))
	}
	if f := e.relatives(w.lemma, base, w.pos); len(f) > 0 {
		out = append(out, "family: "+strings.Join(f, ", "))
	}
	return strings.Join(out, "; ")
}

// relatives are up to three common words that WordNet derives from the word or
// its base, or the reverse.
func (e *engine) relatives(lemma, base string, pos lexicon.POS) []string {
	type relative struct {
		word string
		zipf float64
	}
	var all []relative
	have := map[string]bool{lemma: true, base: true, "terrorist": true, "terrorism": true} // nothing for a word list of children
	for _, l := range []string{lemma, base} {
		for _, ps := range lexicon.PartsOfSpeech() {
			senses := e.lex.Senses(l, ps)
			for _, s := range senses[:min(2, len(senses))] {
				for _, d := range e.lex.Derivations(s) {
					r := fold(d.Lemma)
					z, ok := e.lex.Zipf(r)
					if _, bad := e.lex.Offensive(r); bad || d.Offensive || have[r] || !ok || z < 2.2 || !plain(r) || len(r) < 4 || r[:3] != base[:min(3, len(base))] {
						continue
					}
					have[r] = true
					all = append(all, relative{r, z})
				}
			}
		}
	}
	slices.SortStableFunc(all, func(a, b relative) int { return cmp(b.zipf, a.zipf) })
	var out []string
	for _, r := range all[:min(3, len(all))] {
		out = append(out, r.word)
	}
	return out
}

// reason tells by what a child can see which part of speech a word is here; ""
// when nothing shows.
func reason(d *lang.Doc, i int, pos lexicon.POS) string {
	t := &d.Tokens[i]
	head := func() string {
		if t.Head < 0 {
			return ""
		}
		return d.Tokens[t.Head].Form
	}
	child := func(rel ...string) string {
		for j := max(0, i-12); j < min(len(d.Tokens), i+12); j++ {
			if d.Tokens[j].Head == i && slices.Contains(rel, d.Tokens[j].Deprel) {
				return d.Tokens[j].Form
			}
		}
		return ""
	}
	switch pos {
	case lexicon.Noun:
		if det := child("det"); det != "" {
			return fmt.Sprintf("a noun: it names something, and “%s” stands before it", strings.ToLower(det))
		}
		if own := child("nmod:poss"); own != "" {
			return fmt.Sprintf("a noun: it names something, and “%s” says whose", strings.ToLower(own))
		}
		if t.XPOS == "NNS" {
			return "a noun: it names things, and its ending says more than one"
		}
		return "a noun: it names something"
	case lexicon.Verb:
		who := child("nsubj")
		switch {
		case who != "" && t.XPOS == "VBD":
			return fmt.Sprintf("a verb: it tells what “%s” did", who)
		case who != "":
			return fmt.Sprintf("a verb: it tells what “%s” does", who)
		case t.XPOS == "VBG":
			return "a verb: it tells what is being done, as its ending -ing shows"
		}
		return "a verb: it tells what is done"
	case lexicon.Adjective:
		if t.Deprel == "amod" && head() != "" {
			return fmt.Sprintf("an adjective: it tells what kind of %s", head())
		}
		if who := child("nsubj"); who != "" {
			return fmt.Sprintf("an adjective: it describes “%s”", who)
		}
		return "an adjective: it tells what something is like"
	case lexicon.Adverb:
		if t.Deprel == "advmod" && t.Head >= 0 {
			return fmt.Sprintf("an adverb: it tells how, when or where, and goes with “%s”", head())
		}
		return "an adverb: it tells how, when or where"
	}
	return ""
}
