package people

import "strings"

// findNarrator makes an entity of the "I" that tells the story, if there is one.
func (s *story) findNarrator() {
	telling, i := 0, 0
	for t := range s.d.Tokens {
		if s.said[t] >= 0 {
			continue
		}
		telling++
		if x := &s.d.Tokens[t]; x.UPOS == "PRON" && (x.Form == "I" || x.Form == "me" || x.Form == "my") {
			i++
		}
	}
	if i < 6 || 250*i < telling {
		return
	}
	s.es = append(s.es, &entity{kind: "PER", owner: -1, merged: -1, narrator: true, nouns: map[string]bool{}})
	s.narrator = len(s.es) - 1
	s.callMe(i)
}

// callMe ties the narrator, who says "I" i times, to the name that the telling
// gives ("my name is Jim", "they called me Jim", "I, Jim") or that others call.
func (s *story) callMe(i int) {
	d := s.d
	votes := map[int]int{}
	for k := range s.ms {
		m := &s.ms[k]
		if m.form != named || m.kind != "PER" || m.entity < 0 || m.first < 2 {
			continue
		}
		a, b := strings.ToLower(d.Tokens[m.first-1].Form), strings.ToLower(d.Tokens[m.first-2].Form)
		c := ""
		if m.first > 2 {
			c = strings.ToLower(d.Tokens[m.first-3].Form)
		}
		told := s.said[m.head] < 0
		hit := told && (c == "my" && b == "name" && (a == "is" || a == "was")) ||
			told && a == "me" && (b == "called" || b == "named" || b == "call" || b == "christened") ||
			told && a == "," && d.Tokens[m.first-2].Form == "I" && m.last < len(d.Tokens) && d.Tokens[m.last].Form == ","
		if !hit || c != "my" && 400*s.es[m.entity].total < i { // a name that somebody gives once and the book forgets
			continue
		}
		votes[m.entity]++
	}
	calls := s.onlyCalled(2 + i/400) // in a long book, often
	best, most := -1, 0
	for e := range s.es {
		if n := 2*votes[e] + calls[e]; n > most {
			best, most = e, n
		}
	}
	if best >= 0 {
		s.join(s.narrator, best)
	}
}

// onlyCalled counts the calls by name of those who are hardly ever named by the
// telling, as the one who tells is not; fewer than least count for nothing.
func (s *story) onlyCalled(least int) map[int]int {
	calls, all, telling := map[int]int{}, map[int]int{}, map[int]int{}
	for i := range s.ms {
		m := &s.ms[i]
		if m.form != named || m.kind != "PER" || m.entity < 0 || m.plural {
			continue
		}
		all[m.entity]++
		q := s.said[m.head]
		if q < 0 {
			telling[m.entity]++
			continue
		}
		for _, p := range s.d.Quotations[q].Parts {
			if p.Start <= s.d.Tokens[m.head].Start && s.d.Tokens[m.head].Start < p.End && s.setOff(m.first, m.last, p) {
				calls[m.entity]++
			}
		}
	}
	for e := range s.es {
		l := strings.ToLower(s.es[e].nameWord())
		if nounGender[l] != 0 || kin[l] || l == "" || calls[e] < least || 5*telling[e] > all[e] || 3*calls[e] < all[e] {
			delete(calls, e)
		}
	}
	return calls
}

// join makes one entity of two: what was from is to.
func (s *story) join(from, to int) {
	for i := range s.ms {
		if s.ms[i].entity == from {
			s.ms[i].entity = to
		}
	}
	for i := range s.who {
		if s.who[i].speaker == from {
			s.who[i].speaker = to
		}
	}
	a, b := s.es[from], s.es[to]
	a.merged = to
	b.he, b.she, b.it = b.he+a.he, b.she+a.she, b.it+a.it
	b.forms = append(b.forms, a.forms...)
	b.total += a.total
	for n := range a.nouns {
		b.nouns[n] = true
	}
	if s.narrator == from {
		s.narrator = to
		b.narrator = true
	}
}

// nameWord is the first word of the most usual name.
func (e *entity) nameWord() string {
	best, n := "", 0
	for _, f := range e.forms {
		if f.n > n && len(f.words) > 0 {
			best, n = f.words[0], f.n
		}
	}
	return best
}
