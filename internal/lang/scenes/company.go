package scenes

import (
	"cmp"
	"slices"
	"strings"

	"bookstead/internal/lang"
	"bookstead/internal/lexicon"
)

// companies counts for each paragraph who acts, is acted on, or speaks in it.
func (f *finder) companies() {
	d := f.d
	add := func(p int, id string, n float64) {
		m := d.Member(id)
		if m == nil || m.Kind == lang.Place {
			return
		}
		if f.paras[p].company == nil {
			f.paras[p].company = map[string]float64{}
		}
		f.paras[p].company[id] += n
	}
	for k := range d.Events {
		e := &d.Events[k]
		if e.Saying >= 0 || e.Earlier {
			continue
		}
		p := d.Sentences[e.Sentence].Paragraph
		switch e.Modality {
		case lang.Told, lang.Wished: // who wants to do it is there
			add(p, e.Agent, e.Subject.Confidence)
			if e.Modality == lang.Told && !e.Negated && !e.Stative {
				add(p, e.Patient, 0.8*e.Object.Confidence)
				add(p, e.Recipient.Member, e.Recipient.Confidence)
				add(p, e.With.Member, e.With.Confidence)
			}
		}
	}
	for _, q := range d.Quotations {
		si := d.SentenceAt(q.Start)
		if si < 0 {
			continue
		}
		p := d.Sentences[si].Paragraph
		add(p, q.Speaker, 1.5*q.Confidence)
		add(p, q.Addressee, 0.7*q.Confidence)
	}
}

// present are those who are in the paragraphs [a, z): met with enough weight
// that one doubtful pronoun does not bring them in.
func (f *finder) present(a, z int) []string {
	sum := map[string]float64{}
	for p := a; p < z; p++ {
		for id, n := range f.paras[p].company {
			sum[id] += n
		}
	}
	var out []string
	for id, n := range sum {
		if n >= 0.7 {
			out = append(out, id)
		}
	}
	slices.SortFunc(out, func(x, y string) int {
		return cmp.Or(cmp.Compare(sum[y], sum[x]), cmp.Compare(len(x), len(y)), strings.Compare(x, y))
	})
	return out
}

// scene describes the paragraphs [a, z).
func (f *finder) scene(a, z int, start signal) lang.Scene {
	d := f.d
	s := lang.Scene{Start: d.Paragraphs[a].Start, End: d.Paragraphs[z-1].End, Break: start.kind, Cue: start.cue, Present: f.present(a, z)}
	if start.time > 0.5 || start.kind == "time" {
		s.When = start.cue
	} else if t := f.timeCue(a); t.time > 0.3 {
		s.When = t.cue
	}
	f.where(&s, a, z)
	return s
}

// where chooses the place that most of the scene's events are told at; among
// equals the first.
func (f *finder) where(s *lang.Scene, a, z int) {
	d := f.d
	type found struct {
		span   lang.Span
		member string
		n      float64
	}
	var all []found
	at := map[string]int{}
	for p := a; p < z; p++ {
		q := &f.paras[p]
		for k := max(0, q.firstEvent); k < q.lastEvent; k++ {
			e := &d.Events[k]
			r := e.Place
			if arriving[strings.ToLower(d.Tokens[e.Verb].Lemma)] && r.None() {
				r = e.Object
			}
			if r.None() || e.Saying >= 0 || e.Negated || e.Modality != lang.Told || e.Earlier || !f.places.is(d, f.refs, r.Head) {
				continue
			}
			if !e.Subject.None() && e.Agent == "" && !f.personal(e.Subject) {
				continue
			}
			key, member := strings.ToLower(d.Tokens[r.Head].Lemma), ""
			if m := f.refs[r.Head].Member; m != nil && m.Kind == lang.Place {
				key, member = m.ID, m.ID
			}
			i, ok := at[key]
			if !ok {
				i = len(all)
				at[key] = i
				all = append(all, found{span: lang.Span{Start: r.Start, End: r.End}, member: member})
			}
			w := 1.0
			switch strings.ToLower(d.Tokens[d.TokenAt(r.Start)].Form) {
			case "from", "out", "off", "past": // where they were, or are not
				w = 0.3
			}
			if p < a+2 { // told first, it sets the scene
				w *= 2
			}
			all[i].n += w
		}
	}
	best := -1
	for i, x := range all {
		if best < 0 || x.n > all[best].n {
			best = i
		}
	}
	if best >= 0 {
		s.Where, s.Place = all[best].span, all[best].member
	}
}

// places tells which nouns name a place that a scene can be at, by WordNet.
type places struct {
	lex   *lexicon.Lexicon
	roots []lexicon.SynsetID
	known map[string]bool
}

// newPlaces takes the kinds of place from WordNet: what is built, rooms,
// regions, land and water, what one travels in.
func newPlaces(lex *lexicon.Lexicon) *places {
	p := &places{lex: lex, known: map[string]bool{}}
	for _, x := range []struct {
		lemma string
		sense int
	}{{"structure", 0}, {"room", 0}, {"location", 0}, {"geological formation", 0}, {"body of water", 0}, {"vehicle", 0}, {"land", 0}, {"land", 3}, {"forest", 0}, {"forest", 1}, {"way", 5}, {"garden", 0}, {"yard", 1}} {
		if s := lex.Senses(x.lemma, lexicon.Noun); x.sense < len(s) {
			p.roots = append(p.roots, s[x.sense].Synset)
		}
	}
	return p
}

// notPlace are words that WordNet counts among places and a story does not.
var notPlace = words("door window wall gate floor fire end side top bottom corner front back foot head place way part point line edge middle distance spot face hand arm seat roof ceiling hole step stair fence direction rest bed table chair air light face area doorway ground")

// alsoPlaces are words that WordNet's first sense takes for a group or an act.
var alsoPlaces = words("village school church court market store farm settlement camp country neighborhood neighbourhood circus fair college")

func (p *places) is(d *lang.Doc, refs []lang.Ref, head int) bool {
	if m := refs[head].Member; m != nil {
		return m.Kind == lang.Place
	}
	t := &d.Tokens[head]
	w := strings.ToLower(t.Lemma)
	switch t.UPOS {
	case "ADV":
		return w == "home" || w == "upstairs" || w == "downstairs" || w == "indoors" || w == "outdoors"
	case "NOUN":
	default:
		return false
	}
	if notPlace[w] {
		return false
	}
	is, ok := p.known[w]
	if !ok {
		is = alsoPlaces[w] || p.lex.IsA(w, lexicon.Noun, 1, p.roots...)
		p.known[w] = is
	}
	return is
}
