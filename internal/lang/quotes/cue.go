package quotes

import (
	"strings"

	"bookstead/internal/lang"
)

// saying are verbs that tell of speaking (our list).
var saying = func() map[string]bool {
	m := map[string]bool{}
	for w := range strings.FieldsSeq("say ask answer reply cry exclaim shout whisper call murmur mutter add continue return remark observe inquire enquire demand declare repeat begin gasp sob sigh laugh groan growl snap scream shriek roar plead beg order command suggest explain retort protest announce promise admit agree insist interrupt respond speak tell think chuckle grumble grunt stammer cackle sneer scold urge warn yell hiss whimper moan breathe falter venture persist conclude propose rejoin ejaculate resume pursue interpose echo quote assent bawl bellow bleat bark bray crow croak drawl faltered implore object pant pipe proceed query quoth rasp sing sniff snarl squeak squeal stutter wail wonder state mumble note muse reflect confess assure comment counter thunder titter whine lisp entreat vociferate apostrophize read hear") {
		m[w] = true
	}
	return m
}()

// cue is a telling of who speaks.
type cue struct {
	verb, who, to int // tokens, -1 for none
	// rank: 3 beside the speech, 2 before it, 1 somewhere near.
	rank int
}

var noCue = cue{verb: -1, who: -1, to: -1}

type finder struct {
	d *lang.Doc
	// inside marks tokens of the paragraph at hand that are speech, from base on.
	inside []bool
	base   int
}

// paragraph takes the quoted stretches of a paragraph and appends quotations.
func (f *finder) paragraph(pi int, spans []lang.Span) {
	d := f.d
	p := d.Paragraphs[pi]
	first, last := d.TokenAt(p.Start), d.TokenAt(p.End)
	if first >= last {
		return
	}
	kept := spans[:0]
	for i, s := range spans {
		if !f.only(p, s, i == 0) {
			kept = append(kept, s)
		}
	}
	spans = kept
	if len(spans) == 0 {
		return
	}
	f.base = first
	f.inside = append(f.inside[:0], make([]bool, last-first)...)
	for _, s := range spans {
		for t := d.TokenAt(s.Start); t < last && d.Tokens[t].Start < s.End; t++ {
			f.inside[t-first] = true
		}
	}
	var now *lang.Quotation
	var nowCue cue
	end := first // the token behind the last part
	for i, s := range spans {
		a, z := d.TokenAt(s.Start), d.TokenAt(s.End)
		next := last
		if i+1 < len(spans) {
			next = d.TokenAt(spans[i+1].Start)
		}
		before := f.before(end, a, pi, i == 0 && a == first)
		after := f.after(z, next, a)
		c := after
		if c.verb < 0 || before.verb >= 0 && before.rank > after.rank {
			c = before
		}
		if now != nil && f.goesOn(nowCue, before, after, end, a) {
			now.Parts = append(now.Parts, s)
			now.End = s.End
			if nowCue.verb < 0 && c.verb >= 0 {
				nowCue = c
				f.set(now, c)
			}
		} else {
			d.Quotations = append(d.Quotations, lang.Quotation{Start: s.Start, End: s.End, Parts: []lang.Span{s}})
			now, nowCue = &d.Quotations[len(d.Quotations)-1], c
			f.set(now, c)
		}
		end = z
	}
}

// goesOn tells whether a stretch of speech belongs to the quotation before it:
// it does unless its own cue names another speaker.
func (f *finder) goesOn(now, before, after cue, end, at int) bool {
	words := at - end
	own := after
	if before.verb >= 0 && before.verb != now.verb {
		own = before
	}
	if own.verb < 0 || own.verb == now.verb {
		return words < 90
	}
	if now.verb < 0 {
		return words < 30 && before.verb < 0
	}
	if now.who >= 0 && own.who >= 0 {
		a, b := f.d.Tokens[now.who], f.d.Tokens[own.who]
		if strings.EqualFold(a.Form, b.Form) {
			return words < 60
		}
		// "said Mary … she added": a pronoun that may be the same person
		return (b.UPOS == "PRON" && !strings.EqualFold(b.Form, "I") && a.UPOS != "PRON" || own.who == now.who) && words < 60
	}
	return words < 40
}

// only tells whether a quoted stretch is no speech: words set in marks in the
// midst of a sentence.
func (f *finder) only(p lang.Paragraph, s lang.Span, first bool) bool {
	d := f.d
	a, z := d.TokenAt(s.Start), d.TokenAt(s.End)
	if z-a > 8 || s.Start == p.Start {
		return false
	}
	inner := strings.TrimRight(d.Text[s.Start:s.End], "\"”’'_ ")
	if inner == "" {
		return true
	}
	if strings.ContainsAny(inner[len(inner)-1:], ".,!?;:-") || strings.HasSuffix(inner, "—") || strings.HasSuffix(inner, "…") {
		return false
	}
	if a == 0 {
		return false
	}
	before := d.Tokens[a-1]
	if strings.ContainsAny(before.Form, ",:;.!?-—(\"”’") {
		return false
	}
	return !(before.UPOS == "VERB" && saying[strings.ToLower(before.Lemma)])
}

func (f *finder) set(q *lang.Quotation, c cue) {
	d := f.d
	q.Verb, q.Who, q.To, q.Cue = c.verb, c.who, c.to, lang.Span{}
	if c.verb < 0 {
		return
	}
	a, z := c.verb, c.verb
	if c.who >= 0 {
		wa, wz := d.PhraseOf(c.who)
		a, z = min(a, wa), max(z, wz-1)
	}
	q.Cue = lang.Span{Start: d.Tokens[a].Start, End: d.Tokens[z].End}
}

func (f *finder) spoken(t int) bool {
	t -= f.base
	return t >= 0 && t < len(f.inside) && f.inside[t]
}

// after reads the telling behind a stretch of speech that starts at token a and
// ends before from: "…," said Mary.
func (f *finder) after(from, to, a int) cue {
	d := f.d
	end := from
	for end < to && !stop(d.Tokens[end].Form) {
		end++
	}
	if end == from {
		return noCue
	}
	// Behind a full stop a new sentence of telling begins, unless it is short and
	// says so.
	closed := from >= 2 && d.Tokens[from-2].Form == "."
	start := from
	small := d.Tokens[start].Form != "" && !upper(d.Tokens[start].Form)
	best := noCue
	for t := start; t < min(end, start+16); t++ {
		tok := d.Tokens[t]
		if tok.UPOS != "VERB" && tok.UPOS != "AUX" || f.spoken(t) {
			continue
		}
		says := saying[strings.ToLower(tok.Lemma)] && tok.XPOS != "NN"
		if !says && (t > start+3 || closed || tok.XPOS != "VBD" || !small && t == start) {
			continue
		}
		who := f.subject(t)
		if who < 0 {
			if says && best.verb < 0 && t < start+2 {
				best = cue{t, -1, f.told(t), 1}
			}
			continue
		}
		if !says && !(small && beside(who, t) && !strings.ContainsAny(d.Tokens[who].Form, "\"")) {
			continue
		}
		if !says && tok.UPOS == "AUX" {
			continue
		}
		rank := 3
		if closed && t > start+8 || !small && t > start+6 {
			rank = 1
		}
		return cue{t, who, f.told(t), rank}
	}
	return best
}

func beside(a, b int) bool { return a-b < 5 && b-a < 5 }

// before reads the telling in front of a stretch of speech: Mary said, “…”.
func (f *finder) before(from, to, pi int, alone bool) cue {
	d := f.d
	if alone { // the telling may stand in the paragraph before: And he said:
		if pi == 0 {
			return noCue
		}
		p := d.Paragraphs[pi-1]
		if p.Kind == "heading" || p.End <= p.Start {
			return noCue
		}
		to, from = d.TokenAt(p.End), d.TokenAt(p.Start)
		if to <= from {
			return noCue
		}
		if l := d.Tokens[to-1].Form; l != ":" && l != "," && l != "—" && l != "--" && l != ":--" && l != ":—" {
			return noCue
		}
	}
	if to <= from {
		return noCue
	}
	mark := d.Tokens[to-1].Form
	leads := mark == "," || mark == ":" || strings.HasPrefix(mark, "—") || strings.HasPrefix(mark, "-") || strings.HasPrefix(mark, ":") || !stop(mark)
	start := to - 1
	for start > from && !full(d.Tokens[start-1].Form) {
		start--
	}
	if !leads {
		start = to - 1
		for start > from && !full(d.Tokens[start-1].Form) {
			start--
		}
	}
	best := noCue
	for t := to - 1; t >= max(start, to-40); t-- {
		tok := d.Tokens[t]
		if tok.UPOS != "VERB" || f.spoken(t) {
			continue
		}
		if !saying[strings.ToLower(tok.Lemma)] {
			continue
		}
		who := f.subject(t)
		if who < 0 {
			continue
		}
		rank := 2
		if !leads {
			rank = 1
		}
		best = cue{t, who, f.told(t), rank}
		break
	}
	if best.verb < 0 && leads && mark != "," { // He looked up: “…”
		for t := to - 1; t >= max(start, to-40); t-- {
			if tok := d.Tokens[t]; tok.UPOS == "VERB" && !f.spoken(t) && (tok.Deprel == "root" || tok.Deprel == "conj") {
				if who := f.subject(t); who >= 0 {
					return cue{t, who, f.told(t), 1}
				}
			}
		}
	}
	return best
}

func upper(s string) bool { return s[0] >= 'A' && s[0] <= 'Z' }

func stop(s string) bool { return s == "." || s == "!" || s == "?" || s == ";" }
func full(s string) bool { return s == "." || s == "!" || s == "?" || s == "”" || s == "\"" }

// subject is the token of who does what the verb at v tells, -1 when it isn't said.
func (f *finder) subject(v int) int {
	d := f.d
	at := v
	for range 5 {
		lo, hi := max(0, at-24), min(len(d.Tokens), at+25)
		for k := lo; k < hi; k++ {
			if x := d.Tokens[k]; x.Head == at && strings.HasPrefix(x.Deprel, "nsubj") && !f.spoken(k) && noun(x) {
				return k
			}
		}
		if at == v { // "… but answered; Mary then observed": the nearest before is surer than a far one
			for k := v - 1; k >= max(0, v-4) && !f.spoken(k); k-- {
				x := d.Tokens[k]
				if x.UPOS == "ADV" || x.UPOS == "AUX" {
					continue
				}
				if x.UPOS == "PROPN" && (x.Head >= v || x.Head < v-12 || strings.HasPrefix(d.Tokens[max(x.Head, 0)].Deprel, "nsubj")) || nominative(x) {
					return f.head(k)
				}
				break
			}
		}
		r, _, _ := strings.Cut(d.Tokens[at].Deprel, ":")
		h := d.Tokens[at].Head
		if h < 0 || f.spoken(h) || r != "conj" && r != "xcomp" && r != "advcl" && r != "parataxis" {
			break
		}
		at = h
	}
	// by place: "said Mary", "Mary said"
	for k := v + 1; k < min(len(d.Tokens), v+6) && !f.spoken(k); k++ {
		if x := d.Tokens[k]; noun(x) && x.Deprel != "obl" && x.Deprel != "nmod" {
			return f.head(k)
		} else if x.UPOS == "PUNCT" || x.UPOS == "VERB" || x.UPOS == "ADP" || x.UPOS == "SCONJ" {
			break
		}
	}
	for k := v - 1; k >= max(0, v-4) && !f.spoken(k); k-- {
		if x := d.Tokens[k]; noun(x) {
			return f.head(k)
		} else if x.UPOS == "PUNCT" || x.UPOS == "VERB" {
			break
		}
	}
	return -1
}

// head climbs from a word of a name to the word that stands for it.
func (f *finder) head(k int) int {
	d := f.d
	for range 4 {
		switch r, _, _ := strings.Cut(d.Tokens[k].Deprel, ":"); r {
		case "compound", "flat", "amod", "det", "nmod":
			if h := d.Tokens[k].Head; h >= 0 && h-k < 6 && k-h < 6 && noun(d.Tokens[h]) && !f.spoken(h) && (r != "nmod" || d.Tokens[k].XPOS == "PRP$" || strings.HasSuffix(d.Tokens[k].Deprel, "poss")) {
				k = h
				continue
			}
		}
		break
	}
	return k
}

func nominative(t lang.Token) bool {
	switch strings.ToLower(t.Form) {
	case "i", "he", "she", "we", "they":
		return true
	}
	return false
}

func noun(t lang.Token) bool {
	if t.UPOS == "PRON" {
		switch strings.ToLower(t.Form) {
		case "it", "this", "that", "which", "what", "there", "who", "whom":
			return strings.EqualFold(t.Form, "it")
		}
		return t.XPOS == "PRP" || t.XPOS == "NN"
	}
	return t.UPOS == "PROPN" || t.UPOS == "NOUN" || t.UPOS == "NUM"
}

// told is the token of whom the verb at v is said to, -1 when it isn't said.
func (f *finder) told(v int) int {
	d := f.d
	for k := max(0, v-12); k < min(len(d.Tokens), v+16); k++ {
		x := d.Tokens[k]
		if x.Head != v || f.spoken(k) || !noun(x) {
			continue
		}
		r, _, _ := strings.Cut(x.Deprel, ":")
		switch r {
		case "obj", "iobj":
			switch strings.ToLower(d.Tokens[v].Lemma) {
			case "ask", "tell", "answer", "beg", "assure", "interrupt", "entreat", "implore", "urge", "warn", "remind":
				return k
			}
		case "obl":
			for c := k - 1; c >= max(0, k-6); c-- {
				if d.Tokens[c].Head == k && d.Tokens[c].Deprel == "case" && strings.EqualFold(d.Tokens[c].Form, "to") {
					return k
				}
			}
		}
	}
	return -1
}
