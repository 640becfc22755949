package quotes

import (
	"strings"

	"bookstead/internal/lang"
)

// speech are verbs that tell of speaking (our list).
var speech = func() map[string]bool {
	m := map[string]bool{}
	for _, w := range strings.Fields("say ask answer reply cry exclaim shout whisper call murmur mutter add continue return remark observe inquire enquire demand declare repeat begin gasp sob sigh laugh groan growl snap scream shriek roar plead beg order command suggest explain retort protest announce promise admit agree insist interrupt respond speak tell think chuckle grumble grunt stammer cackle sneer scold urge warn yell hiss whimper moan breathe falter venture persist conclude propose") {
		m[w] = true
	}
	return m
}()

// talk is a conversation as it goes on: the last two who spoke.
type talk struct {
	last, before string
	who          []found // by token
}

func (t *talk) spoke(id string) {
	if id != "" && id != t.last {
		t.before, t.last = t.last, id
	}
}

// attribute names the speaker of a paragraph's speech.
func (t *talk) attribute(d *lang.Doc, p lang.Paragraph, q *lang.Quotation) {
	id, cue, conf := t.byCue(d, p, q)
	if id == "" && t.before != "" && cue == (lang.Span{}) {
		id, conf = t.before, 0.6 // turn and turn about
	}
	q.Speaker, q.Cue, q.Confidence = id, cue, conf
	if called := t.vocative(d, q); called != "" && called != id {
		q.Addressee = called
	} else if id != "" && t.last != id {
		q.Addressee = t.last
	} else if id != "" {
		q.Addressee = t.before
	}
	if q.Addressee == q.Speaker {
		q.Addressee = ""
	}
	if id == "" {
		t.before, t.last = t.last, ""
		return
	}
	t.spoke(id)
}

// byCue reads the telling part of the paragraph: a speech verb with its subject
// nearest to the quotation; without one, the only person named in it.
func (t *talk) byCue(d *lang.Doc, p lang.Paragraph, q *lang.Quotation) (id string, cue lang.Span, conf float64) {
	first, last := d.TokenAt(p.Start), d.TokenAt(p.End)
	inside := func(t lang.Token) bool {
		for _, s := range q.Parts {
			if s.Start <= t.Start && t.Start < s.End {
				return true
			}
		}
		return false
	}
	bestDist := 1 << 30
	for i := first; i < last; i++ {
		tok := d.Tokens[i]
		if tok.UPOS != "VERB" || !speech[strings.ToLower(tok.Lemma)] || inside(tok) {
			continue
		}
		dist := distance(tok, q)
		if dist > 160 || dist >= bestDist {
			continue
		}
		// The subject stands within a few words on either side.
		if m, at, c := t.subject(d, i, first, last, inside); m != "" {
			bestDist, id, conf = dist, m, c
			a, z := min(i, at), max(i, at)
			cue = lang.Span{Start: d.Tokens[a].Start, End: d.Tokens[z].End}
		} else if id == "" {
			cue = lang.Span{Start: tok.Start, End: tok.End}
		}
	}
	if id != "" {
		return id, cue, conf
	}
	seen := ""
	for i := first; i < last; i++ {
		if inside(d.Tokens[i]) {
			continue
		}
		if f := t.who[i]; f.id != "" && f.conf >= 0.5 {
			if seen != "" && seen != f.id {
				return "", cue, 0
			}
			seen = f.id
		}
	}
	if seen != "" {
		return seen, cue, 0.55
	}
	return "", cue, 0
}

func distance(t lang.Token, q *lang.Quotation) int {
	best := 1 << 30
	for _, s := range q.Parts {
		if t.Start >= s.End {
			best = min(best, t.Start-s.End)
		} else {
			best = min(best, s.Start-t.End)
		}
	}
	return max(0, best)
}

// subject looks for the speaker beside the verb at i: behind it first ("said
// Mary"), then before it ("Mary said").
func (t *talk) subject(d *lang.Doc, i, first, last int, inside func(lang.Token) bool) (id string, at int, conf float64) {
	if d.Has(lang.LayerTrees) {
		for k := max(first, i-12); k < min(last, i+13); k++ {
			if x := d.Tokens[k]; x.Head == i && strings.HasPrefix(x.Deprel, "nsubj") && !inside(x) {
				if f := t.who[k]; f.id != "" {
					return f.id, k, f.conf
				}
			}
		}
	}
	for k := i + 1; k < min(last, i+6) && !inside(d.Tokens[k]); k++ {
		if f := t.who[k]; f.id != "" {
			return f.id, k, f.conf
		}
		if u := d.Tokens[k].UPOS; u == "PUNCT" || u == "VERB" {
			break
		}
	}
	for k := i - 1; k >= max(first, i-6) && !inside(d.Tokens[k]); k-- {
		if f := t.who[k]; f.id != "" {
			return f.id, k, f.conf
		}
		if d.Tokens[k].UPOS == "PUNCT" {
			break
		}
	}
	return "", 0, 0
}

// found is the cast entry mentioned at a token, with the confidence of it.
type found struct {
	id   string
	conf float64
}

// index finds the mention at every token; places are left out, they don't speak.
func index(d *lang.Doc) []found {
	who := make([]found, len(d.Tokens))
	for c := range d.Cast {
		m := &d.Cast[c]
		if m.Kind == lang.Place {
			continue
		}
		for _, x := range m.Mentions {
			for i := d.TokenAt(x.Start); i < len(d.Tokens) && d.Tokens[i].Start < x.End; i++ {
				who[i] = found{m.ID, 0.95 * x.Confidence}
			}
		}
	}
	return who
}

// vocative finds a name called inside the speech: set off by commas or at its end.
func (t *talk) vocative(d *lang.Doc, q *lang.Quotation) string {
	for _, s := range q.Parts {
		for i := d.TokenAt(s.Start); i < len(d.Tokens) && d.Tokens[i].Start < s.End; i++ {
			if d.Tokens[i].UPOS != "PROPN" {
				continue
			}
			f := t.who[i]
			if f.id == "" || f.conf < 0.5 {
				continue
			}
			before, after := "", ""
			if i > 0 {
				before = d.Tokens[i-1].Form
			}
			if i+1 < len(d.Tokens) {
				after = d.Tokens[i+1].Form
			}
			if (before == "," || strings.ContainsAny(before, "“\"‘'")) && strings.ContainsAny(after, ",.!?”\"’") {
				return f.id
			}
		}
	}
	return ""
}
