// Package people finds the cast of a book and who speaks.
package people

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"

	"bookstead/internal/lang"
	"bookstead/internal/lexicon"
)

// Caster is the annotator of LayerCast.
type Caster struct {
	Seen []Seen
}

// Needs says what must have been run.
func (Caster) Needs() lang.Layer {
	return lang.LayerTokens | lang.LayerSentences | lang.LayerTags | lang.LayerTrees | lang.LayerQuotations
}

// Gives says what is run.
func (Caster) Gives() lang.Layer { return lang.LayerCast }

// Annotate fills Doc.Cast and names speakers and those spoken to in
// Doc.Quotations.
func (c Caster) Annotate(ctx context.Context, d *lang.Doc) error {
	lex, err := lexicon.Open()
	if err != nil {
		return err
	}
	s, err := read(ctx, d, lex, c.Seen)
	if err != nil {
		return err
	}
	if err := s.speakers(ctx); err != nil {
		return err
	}
	// Who speaks tells who "he" is beside the speech, and that who is meant
	// behind it; then it is asked once more who speaks.
	s.unmask()
	s.findRoles()
	s.settleAges()
	if err := s.resolve(ctx, s.cues()); err != nil {
		return err
	}
	if err := s.speakers(ctx); err != nil {
		return err
	}
	s.publish()
	d.Done(lang.LayerCast)
	return nil
}

// read finds who is meant where, before it is asked who speaks.
func read(ctx context.Context, d *lang.Doc, lex *lexicon.Lexicon, seen []Seen) (*story, error) {
	s := newStory(d, lex, seen)
	s.findNarrator()
	s.evidence()
	s.settleAges()
	return s, s.resolve(ctx, nil)
}

// publish writes the cast.
func (s *story) publish() {
	d := s.d
	for q := range s.who {
		if e := s.who[q].speaker; e >= 0 {
			s.es[e].said++
		}
	}
	by := make([][]int, len(s.es))
	for i := range s.ms {
		if e := s.ms[i].entity; e >= 0 {
			by[e] = append(by[e], i)
		}
	}
	s.ids = make([]string, len(s.es))
	id := s.ids
	type entry struct {
		e     int
		m     lang.Member
		first int
	}
	var cast []entry
	for i, e := range s.es {
		if e.merged >= 0 || len(by[i]) == 0 || e.kind == "ORG" || e.kind == "VEH" {
			continue
		}
		m := lang.Member{Kind: lang.Person}
		strong := 0
		slices.SortStableFunc(by[i], func(a, b int) int { return s.ms[a].first - s.ms[b].first })
		for _, k := range by[i] {
			x := &s.ms[k]
			f := map[form]string{named: "name", described: "nominal", pronoun: "pronoun"}[x.form]
			if x.form != pronoun {
				strong++
			}
			m.Mentions = append(m.Mentions, lang.Mention{Start: d.Tokens[x.first].Start, End: d.Tokens[x.last-1].End, Form: f, Confidence: x.conf})
			if x.form == named && len(x.titles) > 0 && len(x.words) > 0 {
				for t := x.first; t < x.last; t++ {
					if honorific[titleKey(d.Tokens[t].Form)] && capital(d.Tokens[t].Form) && (x.article != "the" || titleKey(d.Tokens[t].Form) != "lord") {
						m.Mentions = append(m.Mentions, lang.Mention{Start: d.Tokens[t].Start, End: d.Tokens[t].End, Form: "title", Confidence: x.conf})
					}
				}
			}
		}
		if !e.named && !e.narrator && e.said == 0 && strong < 3 && !s.hasName(by[i]) {
			continue
		}
		switch {
		case e.kind != "PER":
			m.Kind = lang.Place
		case e.plural:
			m.Kind = lang.Group
		case e.animal():
			m.Kind = lang.Animal
		}
		if m.Kind != lang.Place {
			switch e.gender() {
			case male:
				m.Gender = "male"
			case female:
				m.Gender = "female"
			}
		}
		s.name(e, &m, by[i])
		cast = append(cast, entry{i, m, m.Mentions[0].Start})
	}
	slices.SortStableFunc(cast, func(a, b entry) int { return cmp.Or(a.first-b.first, a.e-b.e) })
	d.Cast = nil
	for k := range cast {
		cast[k].m.ID = fmt.Sprintf("c%d", k+1)
		id[cast[k].e] = cast[k].m.ID
		d.Cast = append(d.Cast, cast[k].m)
	}
	for q := range d.Quotations {
		x := &d.Quotations[q]
		x.Speaker, x.Addressee = "", ""
		if e := s.who[q].speaker; e >= 0 {
			x.Speaker = id[e]
		}
		if e := s.who[q].to; e >= 0 && e != s.who[q].speaker {
			x.Addressee = id[e]
		}
		x.Confidence = s.who[q].sure
	}
}

func (s *story) hasName(ms []int) bool {
	for _, k := range ms {
		m := &s.ms[k]
		if m.form == described {
			for t := m.first; t < m.last; t++ {
				if nameToken(s.d, t) {
					return true
				}
			}
		}
	}
	return false
}

// name gives a member its name and aliases.
func (s *story) name(e *entity, m *lang.Member, ms []int) {
	type alias struct {
		text string
		n    int
	}
	var list []alias
	add := func(text string, n int) {
		if text == "" {
			return
		}
		for i := range list {
			if list[i].text == text {
				list[i].n += n
				return
			}
		}
		list = append(list, alias{text, n})
	}
	for _, f := range e.forms {
		t := f.text()
		if 10*f.the > 6*f.n {
			t = "the " + t
		}
		add(t, f.n)
		if ti := f.title(); ti != "" && m.Title == "" {
			m.Title = (&nameForm{titles: []string{ti}}).text()
		}
	}
	if !e.named {
		for _, k := range ms {
			if x := &s.ms[k]; x.form == described {
				a, z := s.d.PhraseOf(x.head)
				a, z = max(a, x.first), min(z, x.last)
				t := strings.Join(strings.Fields(s.d.Text[s.d.Tokens[a].Start:s.d.Tokens[z-1].End]), " ")
				if u := s.d.Tokens[a]; u.UPOS == "DET" || u.XPOS == "PRP$" {
					t = strings.ToLower(t[:1]) + t[1:]
				}
				add(t, 1)
			}
		}
	}
	slices.SortStableFunc(list, func(a, b alias) int { return cmp.Or(b.n-a.n, len(a.text)-len(b.text)) })
	if len(list) == 0 {
		m.Name = "I"
		m.Aliases = []string{"I"}
		return
	}
	m.Name = list[0].text
	for _, a := range list[:min(12, len(list))] {
		m.Aliases = append(m.Aliases, a.text)
	}
}
