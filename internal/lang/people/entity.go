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

// weight orders forms: full names first, then titles, then words alone.
func weight(f *nameForm) int {
	w := 4 * min(3, len(f.words))
	if f.title() != "" {
		w += 2
		if len(f.words) == 1 {
			w-- // a full name is known before "Miss Lennox" is joined to it
		}
	}
	return w
}

func sameName(a, b string) bool {
	if a == b {
		return true
	}
	la, lb := strings.ToLower(a), strings.ToLower(b)
	for s := range strings.SplitSeq(shortFor[la], ",") {
		if s == lb {
			return true
		}
	}
	for s := range strings.SplitSeq(shortFor[lb], ",") {
		if s == la {
			return true
		}
	}
	return false
}

// initial tells whether one name is the first letter of the other: J. and Jane.
func initial(a, b string) bool {
	if len(b) < len(a) {
		a, b = b, a
	}
	return len(strings.TrimRight(a, ".")) == 1 && len(b) > 2 && a[0] == b[0]
}

// fits scores how well a form belongs to an entity, 0 for not at all.
func fits(e *entity, f *nameForm) float64 {
	if e.kind != "PER" || e.plural {
		return 0
	}
	g := f.gender
	if g == male && e.she > e.he || g == female && e.he > e.she {
		return 0
	}
	best := 0.0
	if t := f.title(); g == 0 && t != "" && len(f.words) > 0 && e.she > e.he {
		if _, ok := titles[t]; ok && (t == "dr" || t == "doctor" || t == "judge" || t == "professor" || t == "prof") {
			return 0
		}
	}
	for _, x := range e.forms {
		if titleClash(x, f) {
			return 0
		}
		best = max(best, alike(x, f))
	}
	return best
}

// together tells whether a form and an entity are named in the same sentences,
// so that they are two: "Mr. Laurence and Laurie".
func together(f *nameForm, e *entity) bool {
	n := 0
	for s := range f.sentences {
		for _, x := range e.forms {
			if x.sentences[s] {
				n++
				break
			}
		}
	}
	return n >= 3 && 8*n >= min(f.n, e.total)
}

// titleClash tells whether two forms cannot be one person's: Mrs. and Miss.
func titleClash(a, b *nameForm) bool {
	s, t := a.title(), b.title()
	if s == "" || t == "" || s == t {
		return false
	}
	return s == "mrs" && t == "miss" || s == "miss" && t == "mrs" || s == "mr" && t == "sir" || (s == "mr" || s == "mrs" || s == "miss") && (t == "aunt" || t == "uncle") && a.last() == b.last() && len(a.words) == 1
}

// alike scores two forms: 3 the same words, 2 a first name, 1 a last name.
func alike(x, f *nameForm) float64 {
	switch {
	case len(f.words) == 0 || len(x.words) == 0:
		if slices.Equal(x.titles, f.titles) && len(f.words) == len(x.words) {
			return 3
		}
		return 0
	case slices.Equal(x.words, f.words):
		s, t := x.title(), f.title()
		switch {
		case s == t:
			return 3
		case s == "" || t == "":
			if len(f.words) > 1 || isGiven(f.words[0]) || role(f) {
				return 3
			}
			if s+t == "mrs" || s+t == "miss" {
				return 1.2 // a last name alone is more often a man's
			}
			return 1.4
		case titles[s] == titles[t] || titles[s] == 0 || titles[t] == 0:
			if kinTitle(s) != kinTitle(t) && !isGiven(f.words[0]) {
				return 0
			}
			if (s == "dr" || t == "dr") && (s == "mr" || t == "mr") && min(f.n, x.n) > 4 {
				return 0 // two brothers
			}
			return 2.5
		}
		return 0
	case len(f.words) > 1 && len(x.words) > 1:
		if f.last() == x.last() && (sameName(x.first(), f.first()) || initial(x.first(), f.first())) && f.words[1] != "of" {
			return 3
		}
		if contains(x.words, f.words) || contains(f.words, x.words) {
			return 2
		}
		return 0
	case len(f.words) == 1 && len(x.words) > 1:
		w := f.words[0]
		if f.title() == "" {
			switch {
			case x.first() == w:
				return 2
			case sameName(x.first(), w) && plainTitle(x.title()):
				return 1.9
			case x.last() == w:
				if x.gender == female && given[strings.ToLower(x.first())] == female && f.the == 0 {
					return 0.6
				}
				if x.title() == "mr" {
					return 1.3
				}
				return 1
			}
			return 0
		}
		switch {
		case x.last() == w && x.title() == f.title():
			if f.title() == "miss" {
				return 1.4
			}
			return 2
		case x.last() == w && kinTitle(f.title()):
			return 0
		case x.last() == w && f.title() == "mrs":
			if x.title() == "mrs" {
				return 2
			}
			return 0
		case x.last() == w:
			return 1
		case x.first() == w || sameName(x.first(), w) && plainTitle(x.title()) && plainTitle(f.title()):
			return 1.5
		}
		return 0
	case len(f.words) == 1 && len(x.words) == 1:
		if sameName(x.words[0], f.words[0]) && x.title() == "" && f.title() == "" {
			return 1
		}
	}
	return 0
}

func isGiven(w string) bool { _, ok := given[strings.ToLower(w)]; return ok }

// role tells whether a form is a role rather than a name: the Queen.
func role(f *nameForm) bool { return 2*f.the > f.n }

// plainTitle tells whether one who is called so may be called by a short name.
func plainTitle(t string) bool {
	switch t {
	case "", "mr", "miss", "master", "mistress", "mester", "mister":
		return true
	}
	return kinTitle(t)
}

func kinTitle(t string) bool {
	switch t {
	case "aunt", "auntie", "aunty", "uncle", "mother", "father", "sister", "brother", "grandma", "grandpa", "grandmother", "grandfather", "cousin", "granny":
		return true
	}
	return false
}

func contains(long, short []string) bool {
	if len(short) >= len(long) {
		return false
	}
	for i := 0; i+len(short) <= len(long); i++ {
		if slices.Equal(long[i:i+len(short)], short) {
			return true
		}
	}
	return false
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
