package people

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"bookstead/internal/lang"
)

// publish writes the cast.
func (s *story) publish() {
	d := s.d
	for q := range s.who {
		if e := s.who[q].speaker; e >= 0 {
			s.es[e].said++
		}
	}
	s.meAndYou()
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

// meAndYou ties "I" and "you" in speech to who speaks and to whom, where that is
// all but certain.
func (s *story) meAndYou() {
	d := s.d
	for t := range d.Tokens {
		q := s.said[t]
		if q < 0 || d.Tokens[t].UPOS != "PRON" || s.who[q].sure < 0.85 {
			continue
		}
		l := strings.ToLower(d.Tokens[t].Form)
		e, conf := -1, s.who[q].sure
		switch {
		case first[l]:
			e = s.who[q].speaker
		case second[l] && len(s.last[q].vocatives) > 0:
			e = s.who[q].to
		case second[l]:
			e, conf = s.who[q].to, 0.6
		}
		if e >= 0 && s.es[e].kind == "PER" {
			s.ms = append(s.ms, mention{first: t, last: t + 1, head: t, form: pronoun, kind: "PER", conf: 0.9 * conf, entity: e})
		}
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
				switch u := s.d.Tokens[a]; {
				case u.UPOS == "DET" && (strings.EqualFold(u.Form, "a") || strings.EqualFold(u.Form, "an")):
					t = "the " + strings.TrimSpace(t[len(u.Form):]) // who came in as "an old man" is the old man
				case u.UPOS == "DET" || u.XPOS == "PRP$":
					t = strings.ToLower(t[:1]) + t[1:]
				}
				add(t, 1)
			}
		}
	}
	slices.SortStableFunc(list, func(a, b alias) int { return cmp.Or(b.n-a.n, len(a.text)-len(b.text)) })
	if len(list) == 0 {
		m.Name = "the narrator"
		m.Aliases = []string{"I"}
		return
	}
	m.Name = list[0].text
	for _, a := range list[:min(12, len(list))] {
		m.Aliases = append(m.Aliases, a.text)
	}
}
