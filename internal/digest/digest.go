// Package digest sums up a chapter for a teacher who could not read it: who is
// in it, where it is, what happens in order, and what has changed at its end.
//
// It invents nothing. What happens is told in the book's own sentences, chosen
// by how much the story hangs on their events ([lang.Event].Importance), some
// from every scene, with the name put in brackets where the sentence says only
// "he" or "she". Every line carries its place. It is computed, and says so: it
// can miss what matters, and take a small thing for a great one. Of the questions
// that teachers asked on actions, causes and outcomes in the stories of
// FairytaleQA (validation), one in five is answered in a single line of it, one
// in six in as many words taken at random; so it is no stand-in for reading.
// Start with [Of].
package digest

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"bookstead/internal/book"
	"bookstead/internal/lang"
	"bookstead/internal/lang/events"
)

// Digest of a chapter.
type Digest struct {
	Chapter int    `json:"chapter"` // index in the book
	Title   string `json:"title"`
	Words   int    `json:"words"`
	// Who acts or speaks in it, most first; Where are the places and the words
	// that tell them, in order.
	Who   []Person `json:"who,omitempty"`
	Where []Line   `json:"where,omitempty"`
	// Happens are the chapter's sentences that its story hangs on, in order.
	Happens []Line `json:"happens,omitempty"`
	// Changed is what is different at its end: who is new, where they have gone,
	// what was won, lost, found or decided.
	Changed []Line `json:"changed,omitempty"`
	// Note says what kind of thing this is, and what it lacked.
	Note string `json:"note"`
}

// Person is a member of the cast in the chapter.
type Person struct {
	ID    string `json:"id"`
	Name  string `json:"name"`
	Times int    `json:"times"` // named or meant
	// New is true when the chapter is the first that the person is in.
	New bool `json:"new"`
	// Place is the first mention in the chapter.
	Place book.Place `json:"place"`
	acts  int
}

// Line is a line of the digest with the passage that it stands for.
type Line struct {
	Text  string     `json:"text"`
	Place book.Place `json:"place"`
	// Why the line was chosen.
	Why []string `json:"why,omitempty"`
}

const (
	// a line for each so many words of a scene, at least a few for a chapter and
	// at most as many as can be read in a minute or two (our choice).
	wordsALine = 190
	leastLines = 5
	mostLines  = 16
	mostPeople = 8
	mostChange = 8
	// of a longer sentence so many words are shown, from the clause of its event on.
	longSentence, shownWords = 45, 32
)

const honest = "This digest was computed from the text. Its lines are the book's own sentences, chosen by measure; what is only said in speech is left out, and it can miss what matters. Each line leads to its place."

// Of sums up chapter i of an analysed book. It needs the cast, scenes and
// events; without them the digest is empty, and its note says so.
func Of(b *book.Book, d *lang.Doc, i int) Digest {
	c := b.Chapters[i]
	span := lang.Span{Start: c.Body, End: c.End}
	out := Digest{Chapter: i, Title: title(c), Words: book.Words(b.Text[c.Body:c.End]), Note: honest}
	if !d.Has(lang.LayerEvents | lang.LayerScenes | lang.LayerCast) {
		out.Note = "This chapter has not been read closely enough for a digest."
		return out
	}
	w := writer{b: b, d: d, span: span}
	out.Who = w.who()
	out.Where = w.where()
	out.Happens = w.happens(out.Words)
	out.Changed = w.changed(out.Who)
	if len(out.Happens) == 0 {
		out.Note += " No event was found in this chapter."
	}
	return out
}

func title(c book.Chapter) string {
	switch {
	case c.Label != "" && c.Title != "":
		return c.Label + ": " + c.Title
	case c.Title != "":
		return c.Title
	}
	return c.Label
}

type writer struct {
	b    *book.Book
	d    *lang.Doc
	span lang.Span
}

func (w *writer) line(text string, s lang.Span, why ...string) Line {
	return Line{Text: text, Place: w.b.Place(book.Span(s)), Why: why}
}

func (w *writer) in(start int) bool { return w.span.Start <= start && start < w.span.End }

func (w *writer) who() []Person {
	var out []Person
	acts := map[string]int{}
	first, last := events.InSpan(w.d, w.span)
	for _, e := range w.d.Events[first:last] {
		if !e.Stative {
			acts[e.Agent]++
		}
	}
	for k := range w.d.Cast {
		m := &w.d.Cast[k]
		if m.Kind == lang.Place || len(m.Mentions) == 0 {
			continue
		}
		p := Person{ID: m.ID, Name: m.Name, acts: acts[m.ID]}
		for _, x := range m.Mentions {
			if !w.in(x.Start) {
				continue
			}
			if p.Times++; p.Times == 1 {
				p.Place = w.b.Place(book.Span{Start: x.Start, End: x.End})
				p.New = x.Start == m.Mentions[0].Start
			}
		}
		if p.Times > 1 {
			out = append(out, p)
		}
	}
	slices.SortStableFunc(out, func(a, b Person) int { return cmp.Compare(b.Times, a.Times) })
	return out[:min(len(out), mostPeople)]
}

// scenes are those of the chapter.
func (w *writer) scenes() []lang.Scene {
	var out []lang.Scene
	for _, s := range w.d.Scenes {
		if s.Start < w.span.End && s.End > w.span.Start {
			s.Start, s.End = max(s.Start, w.span.Start), min(s.End, w.span.End)
			out = append(out, s)
		}
	}
	if len(out) == 0 {
		out = []lang.Scene{{Start: w.span.Start, End: w.span.End}}
	}
	return out
}

func (w *writer) where() []Line {
	var out []Line
	last := ""
	for _, s := range w.scenes() {
		name := ""
		at := s.Where
		if m := w.d.Member(s.Place); m != nil {
			name = m.Name
		} else if at.End > at.Start {
			name = clean(w.d.Text[at.Start:at.End])
		}
		if name == "" || name == last || nowhere(name) {
			continue
		}
		last = name
		name = place(name)
		if at.End <= at.Start {
			at = lang.Span{Start: s.Start, End: s.Start}
			if i := w.d.SentenceAt(s.Start); i >= 0 {
				at = w.d.SentenceSpan(i)
			}
		}
		out = append(out, w.line(name, at))
	}
	return out
}

// nowhere reports whether words that tell where name no place of the story.
func nowhere(s string) bool {
	f := strings.Fields(strings.ToLower(s))
	switch strings.Trim(f[len(f)-1], ".,;:!?”’\"'") {
	case "heels", "feet", "foot", "knees", "hand", "hands", "arm", "arms", "head", "ground", "way", "side", "floor", "eyes", "face", "air", "back", "direction", "lap", "shoulder", "it", "them", "her", "him":
		return true
	}
	return false
}

// place is the words that tell where without the preposition before them.
func place(s string) string {
	for _, p := range [...]string{"in to ", "into ", "to ", "in ", "at ", "on ", "upon ", "from ", "through ", "by ", "near ", "toward ", "towards ", "inside ", "within "} {
		if rest, ok := strings.CutPrefix(s, p); ok {
			return rest
		}
	}
	return s
}

func clean(s string) string { return strings.Join(strings.Fields(s), " ") }

// choice is a sentence that may stand in the digest.
type choice struct {
	sentence int
	event    *lang.Event
	score    float64
}

// happens chooses sentences scene by scene, so many for its length.
func (w *writer) happens(words int) []Line {
	total := min(mostLines, max(leastLines, int(math.Round(float64(words)/wordsALine))))
	all := w.choices()
	var picked []choice
	used := map[string]bool{}
	take := func(from, to, n int) {
		for _, c := range all {
			if n == 0 {
				return
			}
			s := w.d.SentenceSpan(c.sentence)
			key := c.event.Agent + "|" + c.event.Lemma + "|" + c.event.Patient
			if s.Start < from || s.Start >= to || used[key] || near(picked, c.sentence) {
				continue
			}
			used[key] = true
			picked = append(picked, c)
			n--
		}
	}
	scenes := w.scenes()
	for _, s := range scenes {
		n := int(math.Floor(float64(total) * float64(s.End-s.Start) / float64(w.span.End-w.span.Start)))
		take(s.Start, s.End, min(n, total-len(picked)))
	}
	take(w.span.Start, w.span.End, total-len(picked)) // what rounding left, wherever it is best
	slices.SortFunc(picked, func(a, b choice) int { return a.sentence - b.sentence })
	var out []Line
	for _, c := range picked {
		out = append(out, w.tell(c))
	}
	return out
}

// near reports whether a sentence next to this one was taken: two neighbours
// tell one thing.
func near(picked []choice, sentence int) bool {
	return slices.ContainsFunc(picked, func(c choice) bool { return c.sentence >= sentence-1 && c.sentence <= sentence+1 })
}

// What a sentence gains when it states a cause, and loses when somebody speaks in
// it; events alone weigh up to 1. Chosen on the stories of FairytaleQA (train) by
// how often teachers' questions on actions, causes and outcomes are answered in
// the sentences taken.
const (
	forCause  = 0.1
	forSpeech = 0.1
)

// speech reports whether a quotation reaches into a stretch.
func (w *writer) speech(s lang.Span) bool {
	i, _ := slices.BinarySearchFunc(w.d.Quotations, s.Start, func(q lang.Quotation, at int) int { return q.End - at })
	return i < len(w.d.Quotations) && w.d.Quotations[i].Start < s.End && w.d.Quotations[i].End > s.Start
}

// choices are the sentences in which the teller tells something that happens,
// the best first: by their weightiest event, see [forCause].
func (w *writer) choices() []choice {
	var out []choice
	at := map[int]int{}
	first, last := events.InSpan(w.d, w.span)
	for i := range events.Story(w.d) {
		if i < first {
			continue
		}
		if i >= last {
			break
		}
		e := &w.d.Events[i]
		if w.says(e) {
			continue
		}
		k, ok := at[e.Sentence]
		if !ok {
			at[e.Sentence] = len(out)
			out = append(out, choice{e.Sentence, e, e.Importance})
			continue
		}
		if e.Importance > out[k].event.Importance {
			out[k].score += e.Importance - out[k].event.Importance
			out[k].event = e
		}
	}
	causes := map[int]bool{}
	for i := first; i < last; i++ {
		if e := &w.d.Events[i]; e.Cause.End > e.Cause.Start {
			causes[e.Sentence] = true
		}
	}
	for k := range out {
		c := &out[k]
		if c.event.Agent == "" && c.event.Subject.None() { // hangs in the air
			c.score -= 0.2
		}
		if causes[c.sentence] {
			c.score += forCause
		}
		if w.speech(w.d.SentenceSpan(c.sentence)) {
			c.score -= forSpeech
		}
	}
	slices.SortStableFunc(out, func(a, b choice) int {
		return cmp.Or(cmp.Compare(b.score, a.score), cmp.Compare(a.sentence, b.sentence))
	})
	return out
}

// tell is the sentence of a choice, with names for bare pronouns.
func (w *writer) tell(c choice) Line {
	s := w.d.SentenceSpan(c.sentence)
	shown := s
	before, behind := "", ""
	x := w.d.Sentences[c.sentence]
	if words := x.Last - x.First; words > longSentence {
		from := x.First
		if i := w.d.TokenAt(c.event.Start); x.Last-i >= shownWords/2 && i > x.First+shownWords/2 {
			from, shown.Start, before = i, w.d.Tokens[i].Start, "… "
		}
		if last := from + shownWords; last < x.Last-shownWords/4 {
			shown.End, behind = w.d.Tokens[last-1].End, " …"
		}
	}
	return w.line(before+w.named(shown)+behind, s, c.event.Reasons...)
}

// named is a stretch of text with the name behind the first pronoun of each
// person that it does not name itself.
func (w *writer) named(s lang.Span) string {
	type put struct {
		at   int
		name string
	}
	var puts []put
	for k := range w.d.Cast {
		m := &w.d.Cast[k]
		if m.Kind == lang.Place {
			continue
		}
		from, _ := slices.BinarySearchFunc(m.Mentions, s.Start, func(x lang.Mention, at int) int { return x.Start - at })
		for _, x := range m.Mentions[from:] {
			if x.Start >= s.End {
				break
			}
			word := strings.ToLower(w.d.Text[x.Start:x.End])
			if x.Form == "pronoun" && (word == "he" || word == "she" || word == "him" || word == "her" || word == "they") {
				if word == "her" && w.possessive(x.End) {
					continue
				}
				puts = append(puts, put{x.End, m.Name})
			}
			break // the first mention decides
		}
	}
	slices.SortFunc(puts, func(a, b put) int { return a.at - b.at })
	var out strings.Builder
	at := s.Start
	for _, p := range puts {
		fmt.Fprintf(&out, "%s [%s]", w.d.Text[at:p.at], p.name)
		at = p.at
	}
	out.WriteString(w.d.Text[at:s.End])
	return clean(out.String())
}

// possessive reports whether the token that ends at a place belongs to a noun
// behind it.
func (w *writer) possessive(end int) bool {
	i := w.d.TokenAt(end - 1)
	return i < len(w.d.Tokens) && strings.HasPrefix(w.d.Tokens[i].Deprel, "nmod:poss")
}
