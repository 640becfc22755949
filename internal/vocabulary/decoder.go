package vocabulary

import (
	"fmt"
	"slices"
	"strings"

	"bookstead/internal/book"
	"bookstead/internal/lang"
	"bookstead/internal/lexicon"
	"bookstead/internal/passage"
	"bookstead/internal/phonics"
)

// Decoder tells which words of a text can be read at a step of a sequence, and
// what stands in the way of the others. Start with [NewDecoder].
type Decoder struct {
	lex     *lexicon.Lexicon
	speaker *phonics.Speaker
	steps   *phonics.Sequence
	// byHeart are the published service words (Dolch 1936) and the first hundred of
	// Fry (1980): a class learns them as wholes.
	byHeart map[string]bool
	words   map[string]decoded
}

// decoded is how a word is said and read.
type decoded struct {
	reading phonics.Reading
	source  phonics.Source
	ok      bool
}

// NewDecoder makes a decoder for a sequence, nil for the usual one.
func NewDecoder(lex *lexicon.Lexicon, steps *phonics.Sequence) (*Decoder, error) {
	speaker, err := phonics.NewSpeaker(lex)
	if err != nil {
		return nil, fmt.Errorf("making words ready to be said: %w", err)
	}
	if steps == nil {
		steps = phonics.UsualSequence()
	}
	d := &Decoder{lex: lex, speaker: speaker, steps: steps, byHeart: map[string]bool{}, words: map[string]decoded{}}
	for _, l := range lex.Dolch() {
		for _, w := range l.Words {
			d.byHeart[fold(w)] = true
		}
	}
	for _, w := range lex.Fry() {
		d.byHeart[fold(w)] = true
	}
	return d, nil
}

// Steps is the sequence.
func (d *Decoder) Steps() *phonics.Sequence { return d.steps }

// surface is the word at token i as printed, "don't" as one; "" for what is no
// word or was the rest of the word before.
func surface(doc *lang.Doc, i int) string {
	t := &doc.Tokens[i]
	if t.Multi < 0 || !lang.IsWord(t.Form) {
		return ""
	}
	end := t.End
	if t.Multi > 1 {
		end = doc.Tokens[min(len(doc.Tokens), i+int(t.Multi))-1].End
	}
	return fold(doc.Text[t.Start:end])
}

// read is how the word at token i is read; ok is false for what is no word.
func (d *Decoder) read(doc *lang.Doc, i int) (word string, r decoded) {
	if word = surface(doc, i); word == "" {
		return "", decoded{}
	}
	return word, d.say(word, partOf(&doc.Tokens[i]))
}

func (d *Decoder) say(word string, part phonics.Part) decoded {
	key := word
	if phonics.Ways(word) != nil {
		key += "/" + string(rune(part))
	}
	if r, ok := d.words[key]; ok {
		return r
	}
	var r decoded
	said, ok := d.speaker.Say(word, part)
	if ok {
		r = decoded{d.steps.Read(word, said.Phones), said.Source, true}
	}
	d.words[key] = r
	return r
}

// can reports whether a reader at a step reads the word: by its letters, or
// because it is one of the words known by heart.
func (d *Decoder) can(word string, r decoded, step int) bool {
	if d.byHeart[word] {
		return true
	}
	ok, _ := d.steps.DecodableAt(r.reading, step)
	return r.ok && ok
}

// Share counts the words of a passage, and those that a reader at the step can
// read. Words known by heart count as read.
func (d *Decoder) Share(p passage.Passage, step int) phonics.Share {
	var s phonics.Share
	d.each(p, func(i int, word string, r decoded) { s.Add(d.can(word, r, step)) })
	return s
}

func (d *Decoder) each(p passage.Passage, do func(i int, word string, r decoded)) {
	for si := p.First; si < p.Last; si++ {
		if !p.Prose(si) {
			continue
		}
		for i := p.Doc.Sentences[si].First; i < p.Doc.Sentences[si].Last; i++ {
			if w, r := d.read(p.Doc, i); w != "" {
				do(i, w, r)
			}
		}
	}
}

// Hurdle is a spelling that keeps a reader from words of a text.
type Hurdle struct {
	Label string // "igh as in night"
	Step  int    // that teaches it, 0 for none
	Times int    // words that need it, each time counted
	Words []string
}

// mostExamples of a hurdle.
const mostExamples = 6

// Missing are the spellings that a reader at the step lacks for a passage, those
// that more words need first. Blends and long words are named when nothing else
// is missing.
func (d *Decoder) Missing(p passage.Passage, step int) []Hurdle {
	by := map[string]*Hurdle{}
	var out []*Hurdle
	add := func(label string, at int, word string) {
		h := by[label]
		if h == nil {
			h = &Hurdle{Label: label, Step: at}
			by[label] = h
			out = append(out, h)
		}
		h.Times++
		if len(h.Words) < mostExamples && !slices.Contains(h.Words, word) {
			h.Words = append(h.Words, word)
		}
	}
	d.each(p, func(_ int, word string, r decoded) {
		if d.can(word, r, step) || !r.ok {
			return
		}
		_, missing := d.steps.DecodableAt(r.reading, step)
		for _, c := range missing {
			add(d.steps.Label(c), d.steps.StepOf(c), word)
		}
		if len(missing) == 0 {
			if r.reading.Feature == phonics.Blends {
				add("consonants side by side", r.reading.Step, word)
			} else {
				add("words of more than one syllable", r.reading.Step, word)
			}
		}
	})
	slices.SortStableFunc(out, func(a, b *Hurdle) int { return b.Times - a.Times })
	flat := make([]Hurdle, len(out))
	for i, h := range out {
		flat[i] = *h
	}
	return flat
}

// Met is a spelling where a book first has it.
type Met struct {
	Label string
	Step  int
	Word  string // as printed
	Place book.Place
	Times int // in the whole book
}

// Order is, for each passage, the spellings that the book meets there for the
// first time, in the order of the text. Words that no step can read and names
// are left out.
func (d *Decoder) Order(passages []passage.Passage) [][]Met {
	out := make([][]Met, len(passages))
	type at struct{ passage, index int }
	seen := map[phonics.Correspondence]at{}
	for pi, p := range passages {
		d.each(p, func(i int, word string, r decoded) {
			t := &p.Doc.Tokens[i]
			if !r.ok || t.UPOS == "PROPN" || r.source == phonics.Predicted || len(r.reading.Never) > 0 {
				return
			}
			for _, c := range r.reading.Needs() {
				if a, ok := seen[c]; ok {
					out[a.passage][a.index].Times++
					continue
				}
				seen[c] = at{pi, len(out[pi])}
				out[pi] = append(out[pi], Met{Label: d.steps.Label(c), Step: d.steps.StepOf(c), Word: word, Times: 1,
					Place: p.Book.Place(book.Span{Start: t.Start, End: t.Start + len(word)})})
			}
		})
	}
	return out
}

// Line is a sentence or a phrase of a book that a reader can read alone.
type Line struct {
	Text     string
	Place    book.Place
	Sentence bool     // a whole sentence, else a phrase
	Shows    []string // the practised words in it
}

// Lines of practice: the longest sentence, and the lengths of a phrase, in words.
const (
	longestLine    = 12
	shortestLine   = 3
	shortestPhrase = 2
	longestPhrase  = 6
)

// Lines finds sentences and short phrases of a passage in which a reader at the
// step can read every word, for practice: first those with more of the words
// that are being practised, sentences before phrases, no text twice, at most
// most. Nothing that is kept back from children is among them.
func (d *Decoder) Lines(p passage.Passage, step int, practised map[string]bool, most int) []Line {
	var out []Line
	have := map[string]bool{}
	add := func(first, last int, sentence bool) {
		l := Line{Sentence: sentence}
		for i := first; i < last; i++ {
			w, r := d.read(p.Doc, i)
			if w == "" {
				if t := &p.Doc.Tokens[i]; t.Multi >= 0 && t.UPOS != "PUNCT" { // a figure or a sign
					return
				}
				continue
			}
			if !d.can(w, r, step) {
				return
			}
			if practised[w] && !slices.Contains(l.Shows, w) {
				l.Shows = append(l.Shows, w)
			}
		}
		start, end := p.Doc.Tokens[first].Start, p.Doc.Tokens[last-1].End
		l.Text = strings.Join(strings.Fields(p.Doc.Text[start:end]), " ")
		key := fold(l.Text)
		if have[key] || d.lex.Warning(l.Text) != "" {
			return
		}
		have[key] = true
		l.Place = p.Book.Place(book.Span{Start: start, End: end})
		out = append(out, l)
	}
	for si := p.First; si < p.Last; si++ {
		if !p.Prose(si) {
			continue
		}
		s := p.Doc.Sentences[si]
		if n := wordsIn(p.Doc, s.First, s.Last); n >= shortestLine && n <= longestLine && p.Balanced(si) == p.Sentence(si) {
			before := len(out)
			add(s.First, s.Last, true)
			if len(out) > before {
				continue // its phrases are in it
			}
		}
		for _, ph := range phrases(p.Doc, s) {
			add(ph.Start, ph.End, false)
		}
	}
	slices.SortStableFunc(out, func(a, b Line) int {
		if n := len(b.Shows) - len(a.Shows); n != 0 {
			return n
		}
		if a.Sentence != b.Sentence {
			if a.Sentence {
				return -1
			}
			return 1
		}
		return 0
	})
	var kept []Line // a phrase within another shows nothing new
	for _, l := range out {
		if !slices.ContainsFunc(kept, func(k Line) bool {
			return strings.Contains(" "+fold(k.Text)+" ", " "+fold(l.Text)+" ") || strings.Contains(" "+fold(l.Text)+" ", " "+fold(k.Text)+" ")
		}) {
			kept = append(kept, l)
		}
	}
	return kept[:min(most, len(kept))]
}

func wordsIn(d *lang.Doc, first, last int) int {
	n := 0
	for i := first; i < last; i++ {
		if surface(d, i) != "" {
			n++
		}
	}
	return n
}

// phrases are the runs of tokens that a noun heads in its tree, with its
// preposition: "the red boat", "in the cold rain". Each is whole and unbroken.
func phrases(d *lang.Doc, s lang.Sentence) []lang.Span {
	var out []lang.Span
	for h := s.First; h < s.Last; h++ {
		if d.Tokens[h].UPOS != "NOUN" {
			continue
		}
		first, last := h, h+1
		count := 0
		inside := func(i int) bool {
			for up, n := i, 0; up >= 0 && n < 12; up, n = d.Tokens[up].Head, n+1 {
				if up == h {
					return true
				}
			}
			return false
		}
		for i := s.First; i < s.Last; i++ {
			if inside(i) && d.Tokens[i].UPOS != "PUNCT" {
				first, last = min(first, i), max(last, i+1)
				count++
			}
		}
		whole := count == last-first
		for i := first; i < last && whole; i++ {
			switch d.Tokens[i].Deprel {
			case "cc", "conj", "appos", "acl:relcl", "parataxis", "acl":
				whole = i == h
			}
		}
		if fold(d.Tokens[first].Form) == "of" { // "of the tree" is half a phrase
			first++
		}
		if n := wordsIn(d, first, last); whole && n >= shortestPhrase && n <= longestPhrase && last == h+1 {
			out = append(out, lang.Span{Start: first, End: last})
		}
	}
	return out
}
