package people

import (
	"slices"
	"strings"
)

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

// cutShort tells whether one name begins the other: Huck and Huckleberry.
func cutShort(a, b string) bool {
	if len(b) < len(a) {
		a, b = b, a
	}
	return len(a) > 2 && strings.HasPrefix(b, a)
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
	return n >= 3 && 12*n >= min(f.n, e.total)
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
			if ranked(s) && (t == "mrs" || t == "miss") || ranked(t) && (s == "mrs" || s == "miss") {
				return 0 // his wife, his daughter
			}
			if (s == "dr" || t == "dr") && (s == "mr" || t == "mr") && min(f.n, x.n) > 4 {
				return 0 // two brothers
			}
			return 2.5
		}
		return 0
	case len(f.words) > 1 && len(x.words) > 1:
		if f.last() == x.last() && (sameName(x.first(), f.first()) || initial(x.first(), f.first()) || cutShort(x.first(), f.first())) && f.words[1] != "of" {
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
			case (sameName(x.first(), w) || len(x.first()) > len(w)+2 && cutShort(x.first(), w)) && plainTitle(x.title()):
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

// ranked tells whether a title is that of an office.
func ranked(t string) bool { return !plainTitle(t) && titles[t] != female }

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
