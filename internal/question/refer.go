package question

import (
	"slices"
	"strings"

	"bookstead/internal/lang"
	"bookstead/internal/lexicon"
)

// entity is somebody or something that the text speaks of, in the cast or not.
type entity struct {
	member *lang.Member // nil when not in the cast
	head   string       // lemma of the noun
	at     int          // token of the mention that names it best
	gender byte         // m, f, or 0 when not known
	thing  bool
	plural bool
	count  int
}

// reference is what a token refers to: an index into engine.entities.
type reference struct {
	entity int
	sure   float64 // 0..1
}

var (
	males   = set("man boy king prince father son brother husband uncle grandfather lord gentleman fellow lad duke wizard priest monk sir nephew knight emperor master papa grandpa bridegroom landlord rooster cock bull stag")
	females = set("woman girl queen princess mother daughter sister wife aunt grandmother lady maid maiden duchess witch nun madam niece empress mistress mamma mama grandma bride landlady hen cow stepmother step-mother widow fairy housewife")
	// folk are words for people that the word net does not call people first.
	folk = set("people folk family crowd crew army band troop")
)

var pronounGender = map[string]byte{"he": 'm', "him": 'm', "his": 'm', "she": 'f', "her": 'f', "hers": 'f', "it": 'n', "its": 'n', "they": 'p', "them": 'p', "their": 'p', "theirs": 'p'}

// kindOf says what a noun names: a person or animal, and of which gender.
func (e *engine) kindOf(lemma string) (animate bool, gender byte) {
	switch {
	case males[lemma]:
		return true, 'm'
	case females[lemma]:
		return true, 'f'
	case folk[lemma]:
		return true, 0
	}
	if v, ok := e.animate[lemma]; ok {
		return v, 0
	}
	s := e.lex.Senses(lemma, lexicon.Noun)
	v := len(s) > 0 && (s[0].Lexname == "noun.person" || s[0].Lexname == "noun.animal")
	e.animate[lemma] = v
	return v, 0
}

// place reports whether the first sense of a noun is a place or a thing that
// one can be in, at or near.
func (e *engine) lexname(lemma string, pos lexicon.POS) string {
	if v, ok := e.lexnames[string(pos)+lemma]; ok {
		return v
	}
	v := ""
	if s := e.lex.Senses(lemma, pos); len(s) > 0 {
		v = s[0].Lexname
	}
	e.lexnames[string(pos)+lemma] = v
	return v
}

// resolve finds what every noun and pronoun of the telling refers to: the cast
// where it knows, else the last thing of that name, and for a pronoun what is
// most in view: subjects before objects, the near before the far (after
// Lappin and Leass 1994).
func (e *engine) resolve() {
	e.refs = make([]reference, len(e.d.Tokens))
	for i := range e.refs {
		e.refs[i].entity = -1
	}
	byMember := map[string]int{}
	for i := range e.d.Cast {
		m := &e.d.Cast[i]
		x := entity{member: m, at: -1, plural: m.Kind == lang.Group, thing: m.Kind == lang.Place}
		switch m.Gender {
		case "male":
			x.gender = 'm'
		case "female":
			x.gender = 'f'
		}
		byMember[m.ID] = len(e.entities)
		e.entities = append(e.entities, x)
		for _, mn := range m.Mentions {
			first, head := e.d.TokenAt(mn.Start), -1
			for t := first; t < len(e.d.Tokens) && e.d.Tokens[t].Start < mn.End; t++ {
				if h := e.d.Tokens[t].Head; head < 0 && (h < first || h >= 0 && e.d.Tokens[h].Start >= mn.End) {
					head = t
				}
			}
			if head >= 0 && e.refs[head].sure < mn.Confidence {
				e.refs[head] = reference{byMember[m.ID], mn.Confidence}
			}
		}
	}
	defer e.doubt()
	byHead := map[string]int{}
	var view []sighting
	for si := range e.d.Sentences {
		s := e.d.Sentences[si]
		view = slices.DeleteFunc(view, func(x sighting) bool { return x.sentence < si-4 })
		for i := s.First; i < s.Last; i++ {
			t := e.d.Tokens[i]
			switch {
			case t.UPOS == "NOUN" || t.UPOS == "PROPN" && rel(t.Deprel) != "flat" && rel(t.Deprel) != "compound":
				e.sight(byHead, i)
			case t.UPOS == "PRON" && pronounGender[e.lower(i)] != 0 && rel(t.Deprel) != "expl" && e.sayingAt[i] < 0:
				if e.refs[i].entity < 0 || e.refs[i].sure < 0.5 {
					e.point(view, si, i)
				}
			}
			if r := e.refs[i]; r.entity >= 0 && (e.sayingAt[i] < 0) {
				view = append(view, sighting{r.entity, si, i, role[rel(t.Deprel)]})
				e.entities[r.entity].count++
			}
		}
	}
}

// sighting is a mention that a pronoun can point back to.
type sighting struct {
	entity, sentence, token int
	weight                  float64
}

// role weighs the grammatical parts (Lappin and Leass 1994, table 1).
var role = map[string]float64{"nsubj": 80, "obj": 50, "iobj": 40, "obl": 40, "conj": 50, "nmod": 20, "root": 60, "appos": 20}

// sight gives a noun its entity: the last of that name when it is definite,
// else a new one.
func (e *engine) sight(byHead map[string]int, i int) {
	t := e.d.Tokens[i]
	if r := e.refs[i]; r.entity >= 0 {
		x := &e.entities[r.entity]
		if x.at < 0 {
			x.at = i
		}
		x.head = e.lemma(i)
		byHead[e.lemma(i)] = r.entity
		return
	}
	for _, k := range e.kids[i] { // "her grandson Wilfred" is Wilfred
		r := e.rel(k)
		if t.UPOS == "NOUN" && (r == "appos" || r == "flat") && e.d.Tokens[k].UPOS == "PROPN" && k == i+1 && e.refs[k].entity >= 0 {
			e.refs[i] = e.refs[k]
			byHead[e.lemma(i)] = e.refs[k].entity
			return
		}
	}
	l := e.lemma(i)
	plural := strings.Contains(t.Feats, "Number=Plur") || t.XPOS == "NNS"
	key := l
	if plural {
		key += "+"
	}
	det := e.child(i, "det")
	indefinite := det >= 0 && (e.lower(det) == "a" || e.lower(det) == "an" || e.lower(det) == "another")
	if x, ok := byHead[key]; ok && !indefinite {
		e.refs[i] = reference{x, 0.9}
		return
	}
	animate, gender := e.kindOf(l)
	if t.UPOS == "PROPN" {
		animate = true
	}
	byHead[key] = len(e.entities)
	e.refs[i] = reference{len(e.entities), 0.9}
	if e.child(i, "conj") >= 0 {
		plural = true
	}
	e.entities = append(e.entities, entity{head: l, at: i, gender: gender, thing: !animate, plural: plural})
}

// point resolves the pronoun at i to what is most in view and fits.
func (e *engine) point(view []sighting, si, i int) {
	g := pronounGender[e.lower(i)]
	subject := -1 // an object is not its own subject
	if r := e.rel(i); r == "obj" || r == "iobj" || r == "obl" {
		if h := e.d.Tokens[i].Head; h >= 0 {
			if k := e.child(h, "nsubj"); k >= 0 {
				subject = e.refs[k].entity
			}
		}
	}
	score := map[int]float64{}
	var order []int
	for _, s := range view {
		x := e.entities[s.entity]
		fits, w := false, 1.0
		switch g {
		case 'm', 'f':
			fits = !x.plural && !x.thing && (x.gender == g || x.gender == 0)
		case 'n':
			fits = !x.plural && x.gender == 0 && (x.thing || x.member != nil || e.lexname(x.head, lexicon.Noun) != "noun.person" || x.head == "baby" || x.head == "child") && (x.member == nil || x.member.Kind == lang.Place || x.member.Kind == lang.Animal)
		case 'p':
			fits = x.plural
			if x.thing && e.rel(i) == "nsubj" {
				w = 0.4
			}
		}
		if !fits || s.entity == subject || s.token == e.d.Tokens[i].Head {
			continue
		}
		w *= s.weight + 100
		if g != 'n' && g != 'p' && x.gender == 0 {
			w *= 0.85
		}
		if e.d.Sentences[si].Paragraph != e.d.Sentences[s.sentence].Paragraph {
			w *= 0.8
		}
		for k := s.sentence; k < si; k++ {
			w /= 2
		}
		if _, ok := score[s.entity]; !ok {
			order = append(order, s.entity)
		}
		score[s.entity] += w
	}
	best, second := -1, 0.0
	for _, x := range order {
		if best < 0 || score[x] > score[best] {
			if best >= 0 {
				second = max(second, score[best])
			}
			best = x
		} else {
			second = max(second, score[x])
		}
	}
	if best < 0 {
		return
	}
	sure := 0.3 + 0.5*(score[best]-second)/score[best]
	if second == 0 {
		sure = 0.8
	}
	if x := e.entities[best]; g == 'n' || g == 'p' || x.member == nil && x.gender != g {
		sure *= 0.7 // too often wrong to stand without a second look
	}
	e.refs[i] = reference{best, sure}
	if x := &e.entities[best]; x.gender == 0 && (g == 'm' || g == 'f') && second == 0 {
		x.gender = g
	}
}

// doubt lowers the sureness of a possessive that was taken for somebody else
// than the subject of its clause, when the subject would do: "Toto wagged his
// tail".
func (e *engine) doubt() {
	for i, t := range e.d.Tokens {
		r := e.refs[i]
		if t.UPOS == "PRON" && t.XPOS == "PRP" && r.entity >= 0 && e.sayingAt[i] < 0 && !strings.HasSuffix(e.lower(i), "self") {
			if d := rel(t.Deprel); d == "obj" || d == "iobj" || d == "obl" { // nobody asks himself
				v := t.Head
				for n := 0; v >= 0 && n < 3 && e.child(v, "nsubj") < 0 && e.rel(v) == "conj"; n++ {
					v = e.d.Tokens[v].Head
				}
				if v >= 0 {
					if k := e.child(v, "nsubj"); k >= 0 && e.refs[k].entity == r.entity {
						e.refs[i].sure *= 0.4
					}
				}
			}
		}
		if t.UPOS != "PRON" || t.XPOS != "PRP$" || r.entity < 0 || e.sayingAt[i] >= 0 {
			continue
		}
		k := t.Head
		for n := 0; k >= 0 && n < 4 && e.d.Tokens[k].UPOS != "VERB"; n++ {
			k = e.d.Tokens[k].Head
		}
		if k < 0 {
			continue
		}
		sub := e.child(k, "nsubj")
		if sub < 0 || sub > i {
			continue
		}
		x, y := e.refs[sub].entity, r.entity
		if x < 0 || x == y {
			continue
		}
		a, b := e.entities[x], e.entities[y]
		if a.plural == b.plural && (a.gender == 0 || b.gender == 0 || a.gender == b.gender) && !a.thing {
			e.refs[i].sure *= 0.6
		}
	}
}
