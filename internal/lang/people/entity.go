package people

import (
	"cmp"
	"slices"
	"strings"

	"bookstead/internal/lang"
)

// entity is somebody or some place, with what is known of it.
type entity struct {
	kind       string // as in Seen
	mentions   []int  // indices of mentions, in order
	forms      []*nameForm
	he, she    float64 // evidence of gender
	it         float64
	nouns      map[string]bool // what it is said to be: "cat", "doctor"
	beast      float64         // evidence of its being an animal
	plural     bool
	narrator   bool
	introduced int // sentence + 1 in which it came in by "a"; 0 never
	named      bool
	owner      int    // whose: "Mary's father"; -1 nobody's
	noun       string // head of its descriptions
	total      int    // of mentions by name or description
	said       int    // times the subject of a verb of saying
	merged     int    // the entity that it turned out to be, -1
	// youngN and grownN count descriptions that tell an age, settled is what they came to.
	youngN, grownN int
	settled        age
}

// nameForm is one way of naming: title, words, and how often.
type nameForm struct {
	titles, words []string
	article       string
	n             int
	the           int
	gender        byte
	plural        bool
	kind          string
	mentions      []int
	sentences     map[int32]bool
}

func (f *nameForm) first() string {
	if len(f.words) == 0 {
		return ""
	}
	return f.words[0]
}

func (f *nameForm) last() string {
	if len(f.words) == 0 {
		return ""
	}
	return f.words[len(f.words)-1]
}

func (f *nameForm) title() string {
	for _, t := range f.titles {
		switch t {
		case "old", "young", "little", "poor", "dear":
		default:
			return t
		}
	}
	return ""
}

// text is how the form is shown.
func (f *nameForm) text() string {
	var parts []string
	for _, t := range f.titles {
		switch t {
		case "mr", "mrs", "dr", "st", "rev", "ms", "capt", "col", "gen", "prof", "hon":
			parts = append(parts, upperFirst(t)+".")
		case "old", "young", "little", "poor", "dear":
			if f.n > 0 {
				parts = append(parts, upperFirst(t))
			}
		default:
			parts = append(parts, upperFirst(t))
		}
	}
	return strings.Join(append(parts, f.words...), " ")
}

func upperFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// genderOf is what a form itself tells.
func (f *nameForm) genderOf() byte {
	for _, t := range f.titles {
		if g := titles[t]; g != 0 {
			return g
		}
	}
	if len(f.words) == 0 {
		return 0
	}
	if t := f.title(); t == "" || len(f.words) > 1 {
		if g, ok := given[strings.ToLower(f.words[0])]; ok {
			return g
		}
	}
	if len(f.words) == 1 || f.words[1] == "of" {
		l := strings.ToLower(f.words[0])
		if g := titles[l]; g != 0 {
			return g
		}
		if g := nounGender[l]; g != 0 {
			return g
		}
	}
	if g := nounGender[strings.ToLower(f.last())]; g != 0 && len(f.words) > 1 {
		return g
	}
	return 0
}

// gather makes entities of the named mentions and notes them there.
func gather(d *lang.Doc, ms []mention, sentence []int32) []*entity {
	byKey := map[string]*nameForm{}
	var forms []*nameForm
	for i := range ms {
		m := &ms[i]
		if m.form != named {
			continue
		}
		kind := "PER"
		if m.kind != "PER" {
			kind = m.kind
		}
		pl := m.plural
		k := kind + "|" + strings.Join(m.titles, " ") + "|" + strings.Join(m.words, " ")
		if pl {
			k += "|s"
		}
		f := byKey[k]
		if f == nil {
			f = &nameForm{titles: m.titles, words: m.words, plural: pl, kind: kind, sentences: map[int32]bool{}}
			f.gender = f.genderOf()
			byKey[k] = f
			forms = append(forms, f)
		}
		f.n++
		f.sentences[sentence[m.head]] = true
		if m.article == "the" {
			f.the++
		}
		f.mentions = append(f.mentions, i)
	}
	slices.SortStableFunc(forms, func(a, b *nameForm) int {
		return cmp.Or(weight(b)-weight(a), b.n-a.n, strings.Compare(strings.Join(a.titles, " ")+a.text(), strings.Join(b.titles, " ")+b.text()))
	})
	var out []*entity
	for _, f := range forms {
		best, score := -1, 0.0
		if f.kind == "PER" && !f.plural {
			bearers := 0 // of the last name, when a title alone must tell who is meant
			sure := 0.0
			for i, e := range out {
				s := fits(e, f)
				if s > 0 && s < 3 && together(f, e) {
					s = 0
				}
				if s > 0 && s < 2 {
					bearers++
				}
				if v := s + min(0.09, float64(e.total)/10000); s > 0 && v > score {
					best, score, sure = i, v, s
				}
			}
			if f.title() != "" && len(f.words) == 1 && sure < 1.5 && bearers > 1 {
				best = -1
			}
		} else {
			for i, e := range out {
				if e.kind == f.kind && e.plural == f.plural && slices.Equal(e.forms[0].words, f.words) {
					best = i
				}
			}
		}
		if best < 0 {
			out = append(out, &entity{kind: f.kind, plural: f.plural, named: true, owner: -1, merged: -1, nouns: map[string]bool{}})
			best = len(out) - 1
		}
		e := out[best]
		e.forms = append(e.forms, f)
		e.total += f.n
		switch f.gender {
		case male:
			e.he += 2 + 2*float64(f.n)
		case female:
			e.she += 2 + 2*float64(f.n)
		}
		for _, w := range append(slices.Clone(f.titles), f.words...) {
			e.nouns[strings.ToLower(w)] = true
		}
	}
	for i, e := range out {
		for _, f := range e.forms {
			for _, k := range f.mentions {
				ms[k].entity = i
				e.mentions = append(e.mentions, k)
			}
		}
		slices.Sort(e.mentions)
	}
	return out
}

// gender of an entity, 0 when open.
func (e *entity) gender() byte {
	switch {
	case e.he >= 2 && e.he > 1.7*e.she && e.he >= 0.6*e.it:
		return male
	case e.she >= 2 && e.she > 1.7*e.he && e.she >= 0.6*e.it:
		return female
	}
	return 0
}

func (e *entity) animal() bool {
	return e.beast >= 2 && e.beast >= 0.06*float64(e.total)
}

// allows tells how well a pronoun's gender goes with the entity: 1 known to
// agree, 0.5 open, 0 not.
func (e *entity) allows(g byte) float64 {
	switch k := e.gender(); {
	case k == g || g == 0:
		return 1
	case k == 0:
		return 0.5
	}
	return 0
}
