package vocabulary

import (
	"context"
	"math"
	"slices"
	"strings"

	"bookstead/internal/lexicon"
	"bookstead/internal/sense"
)

// Gloss says what a word means where it stands.
type Gloss struct {
	Unit  sense.Unit
	Sense lexicon.Sense
	Sure  float64 // how likely the sense is, 0 to 1
	// Meaning has at most eight words, all easier than the word.
	Meaning string
	// Synonym can stand in the word's place as it is; "" when none can.
	Synonym string
	// Next are the next two meanings to choose from, of this sense or another.
	Next []Choice
	// Why says what speaks for the sense.
	Why string
}

// Choice is another meaning that a teacher may take.
type Choice struct {
	Meaning string
	Sense   lexicon.Sense
}

// At glosses the unit that a token belongs to; ok is false when its meaning is
// not known, or none can be told in easier words.
func (g *Glosser) At(token int) (gl Gloss, ok bool) {
	u, ok := g.judge.UnitAt(token)
	if !ok {
		return Gloss{}, false
	}
	return g.Gloss(u)
}

// ReadAhead reads the places of many tokens at once, on all processors, before
// they are asked for one by one.
func (g *Glosser) ReadAhead(ctx context.Context, tokens []int) error {
	var units []sense.Unit
	for _, t := range tokens {
		if u, ok := g.judge.UnitAt(t); ok {
			units = append(units, u)
		}
	}
	return g.judge.ReadAhead(ctx, units)
}

// Unit returns the unit that a token belongs to.
func (g *Glosser) Unit(token int) (sense.Unit, bool) { return g.judge.UnitAt(token) }

// Senses ranks the senses of a unit.
func (g *Glosser) Senses(u sense.Unit) []sense.Ranked { return g.judge.Rank(u) }

// Explained is a sense with what can be said of it.
type Explained struct {
	sense.Ranked
	Meaning, Synonym string
}

// Explain ranks the senses of a unit and says each, where it can be said.
func (g *Glosser) Explain(u sense.Unit) []Explained {
	ranked := g.judge.Rank(u)
	subs := g.substitutes(u, ranked, nil)
	out := make([]Explained, len(ranked))
	for i, r := range ranked {
		out[i].Ranked = r
		if r.Offensive {
			continue
		}
		for _, p := range g.phrases(u.Lemma, g.d.Tokens[u.Head].XPOS, r.Sense, subs) {
			if out[i].Meaning == "" {
				out[i].Meaning = p.text
			}
			if p.synonym && p.value >= 0.5 && out[i].Synonym == "" {
				out[i].Synonym = p.text
			}
		}
	}
	return out
}

// phrase is one way to say a sense.
type phrase struct {
	text    string
	sense   lexicon.Sense
	synonym bool    // stands in the word's place
	value   float64 // 0 to 1: how good a meaning it is
	likely  float64 // of the sense
	why     string  // for the sense
}

// mostSenses is how many senses of a word are thought of, and leastLikely how
// likely each must be, unless it is the first.
const (
	mostSenses  = 3
	leastLikely = 0.12
)

// asLikely is the part of the first sense's likelihood from which another may be
// told in its stead, because it can be told better.
const asLikely = 0.75

// Gloss glosses a unit.
func (g *Glosser) Gloss(u sense.Unit) (gl Gloss, ok bool) {
	ranked := g.judge.Rank(u)
	if len(ranked) == 0 || ranked[0].Offensive || g.fixed(u) {
		return Gloss{}, false
	}
	subs := g.substitutes(u, ranked, nil)
	tag := g.d.Tokens[u.Head].XPOS
	var all []phrase
	for i, r := range ranked {
		if i >= mostSenses || r.Offensive || i > 0 && r.Score < leastLikely {
			break
		}
		for _, p := range g.phrases(u.Lemma, tag, r.Sense, subs) {
			p.likely, p.why = r.Score, r.Why
			all = append(all, p)
		}
	}
	slices.SortStableFunc(all, func(a, b phrase) int { return cmp(b.rank(), a.rank()) })
	best := slices.IndexFunc(all, func(p phrase) bool { return p.likely >= asLikely*ranked[0].Score })
	if best < 0 {
		return Gloss{}, false
	}
	gl = Gloss{Unit: u, Sense: all[best].sense, Sure: all[best].likely, Meaning: all[best].text, Why: all[best].why}
	for _, p := range all {
		if p.synonym && p.sense.Synset == gl.Sense.Synset && p.value >= 0.5 {
			gl.Synonym = p.text
			break
		}
	}
	seen := map[string]bool{gl.Meaning: true}
	for _, p := range all {
		if len(gl.Next) < 2 && !seen[p.text] {
			seen[p.text] = true
			gl.Next = append(gl.Next, Choice{p.text, p.sense})
		}
	}
	return gl, true
}

// fixed reports that the unit is part of a longer expression of grammar, "in
// spite of", which the dictionary does not hold as a whole.
func (g *Glosser) fixed(u sense.Unit) bool {
	if g.d.Tokens[u.Head].Deprel == "fixed" {
		return true
	}
	s := g.d.Sentences[g.d.SentenceAt(g.d.Tokens[u.Head].Start)]
	for i := u.Last; i < min(s.Last, u.Last+3); i++ {
		if t := g.d.Tokens[i]; t.Deprel == "fixed" && t.Head >= u.First && t.Head < u.Last {
			return true
		}
	}
	h := g.d.Tokens[u.Head]
	return u.Last-u.First == 1 && u.Head > s.First && u.Last < s.Last && bound[fold(g.d.Tokens[u.Head-1].Form)+" "+fold(h.Form)+" "+fold(g.d.Tokens[u.Last].Form)]
}

// bound are expressions of grammar that trees take for free words.
var bound = map[string]bool{"in spite of": true, "in front of": true, "by means of": true, "for sake of": true, "in case of": true, "on account of": true, "in order to": true, "by dint of": true, "in lieu of": true, "on behalf of": true, "in search of": true, "in view of": true, "by virtue of": true, "at odds with": true, "in accordance with": true, "in favour of": true, "in favor of": true}

func (p phrase) rank() float64 { return p.value + 0.25*math.Log(p.likely+1e-6) }

// OfSense says a sense without a place to look at: for lists of words.
func (g *Glosser) OfSense(lemma, xpos string, s lexicon.Sense) (meaning, synonym string, ok bool) {
	var subs []Substitute
	for _, y := range s.Synonyms {
		if l := strings.ToLower(y.Lemma); !y.Offensive && l == y.Lemma {
			p := substituteParts{tag: g.share(l, s.Synset), alike: usualAlike}
			subs = append(subs, Substitute{Lemma: l, Form: likeIn(l, xpos, s.POS), Sense: s, how: asSynonym, parts: p, Score: p.tag})
		}
	}
	slices.SortStableFunc(subs, func(a, b Substitute) int { return cmp(b.Score, a.Score) })
	for _, p := range g.phrases(lemma, xpos, s, subs) {
		if meaning == "" {
			meaning = p.text
		}
		if p.synonym && synonym == "" {
			synonym = p.text
		}
	}
	return meaning, synonym, meaning != ""
}

// leastWorth is the value from which a phrase says enough.
const leastWorth = 0.3

// usualAlike stands for the likeness of synonyms where it is not known.
const usualAlike = 0.5

// phrases are the ways to say a sense in easier words, best first.
func (g *Glosser) phrases(lemma, xpos string, s lexicon.Sense, subs []Substitute) []phrase {
	most := g.measure.Sense(s) - easierBy
	var out []phrase
	seen := map[string]bool{}
	add := func(p phrase) {
		if p.text == "" || seen[p.text] || p.value < leastWorth || len(strings.Fields(p.text)) > mostWords {
			return
		}
		// A word with one innocent meaning among others explains nothing to a child.
		if slices.ContainsFunc(strings.Fields(p.text), func(w string) bool {
			o, _ := g.lex.Offensive(strings.Trim(w, ",;"))
			return o.Level != lexicon.Fine
		}) {
			return
		}
		if _, _, _, bad := g.lex.OffensiveIn(p.text); bad {
			return
		}
		seen[p.text] = true
		p.sense = s
		out = append(out, p)
	}
	for _, c := range subs {
		if c.Sense.Synset != s.Synset || !g.says(c.Lemma, lemma, most) || g.hardest(c.Form) > most || !c.usualEnough() || c.Form != c.Lemma && !g.lex.Correct(headOf(c.Form, s.POS)) {
			continue
		}
		add(phrase{text: c.Form, synonym: true, value: g.worth(c)})
	}
	for _, d := range g.definitions(lemma, xpos, s) {
		hard := g.hardest(d.text)
		if hard > most {
			if d.text, hard = g.lighten(d.text, s.POS, most); d.text == "" {
				continue
			}
			d.loss += 0.12
		}
		if hard > most || g.circular(d.text, lemma) {
			continue
		}
		n := float64(len(strings.Fields(d.text)))
		if n <= 2 && d.loss > 0 { // no more than what kind of thing it is
			d.loss += 0.25
		}
		add(phrase{text: d.text, value: 0.8 - 0.03*math.Abs(n-4) - 0.05*max(0, hard-4) - d.loss})
	}
	if s.POS == lexicon.Noun && s.Lexname != "noun.person" {
		for _, c := range subs {
			if c.how == asKind && c.Sense.Synset == s.Synset && g.says(c.Lemma, lemma, most) && concrete[s.Lexname] && c.parts.phrase == 0 {
				add(phrase{text: "a kind of " + c.Lemma, value: 0.36})
				break
			}
		}
	}
	slices.SortStableFunc(out, func(a, b phrase) int { return cmp(b.value, a.value) })
	return out
}

// lighten leaves out what is too hard and can go: the adjectives before a noun,
// the adverbs beside a verb, with the "and" or "or" that joins them; "" when a hard
// word must stay.
func (g *Glosser) lighten(text string, pos lexicon.POS, most float64) (string, float64) {
	if pos != lexicon.Noun && pos != lexicon.Verb {
		return "", 0
	}
	var out []string
	f := strings.Fields(text)
	for i, w := range f {
		bare := strings.Trim(w, ",")
		if g.hardest(bare) <= most {
			out = append(out, w)
			continue
		}
		next := ""
		if i+1 < len(f) {
			next = strings.Trim(f[i+1], ",")
		}
		adverb := strings.HasSuffix(bare, "ly") && g.lex.HasLemma(bare, lexicon.Adverb)
		modifier := i > 0 && g.lex.HasLemma(bare, lexicon.Adjective) && !g.mostlyNoun(bare) && (g.mostlyNoun(next) || g.lex.HasLemma(next, lexicon.Adjective) || next == "and" || next == "or") && !strings.HasSuffix(bare, "less")
		if !adverb && !modifier {
			return "", 0
		}
		n := len(out)
		switch {
		case n > 0 && (out[n-1] == "and" || out[n-1] == "or"): // "cruel and oppressive ruler"
			out = out[:n-1]
		case n > 0 && modifier && (strings.HasSuffix(out[n-1], "ly") || out[n-1] == "very"): // "a particularly baffling problem"
			out = out[:n-1]
		case next == "and" || next == "or":
			f[i+1] = ""
		}
	}
	out = strings.Fields(strings.Join(out, " "))
	if len(out) < 2 || !complete(strings.Join(out, " ")) || pos == lexicon.Noun && !g.endsWell(out) {
		return "", 0
	}
	for i := range out[:len(out)-1] {
		if out[i] == "a" || out[i] == "an" {
			out[i] = article(out[i+1])
		}
	}
	text = strings.Trim(strings.Join(out, " "), " ,")
	return text, g.hardest(text)
}

// endsWell reports that a shortened phrase for a noun ends in a noun or tells
// what something does.
func (g *Glosser) endsWell(words []string) bool {
	last := strings.Trim(words[len(words)-1], ",")
	if g.mostlyNoun(last) {
		return len(words) > 2 || words[0] != "of"
	}
	for _, w := range words[:len(words)-1] {
		if w == "that" || w == "who" || w == "which" || w == "to" {
			return !g.mostlyAdjective(last)
		}
	}
	return false
}

// mostlyNoun reports that a form is used as a noun more than as an adjective, an
// adverb or, in a form of a verb, as that.
func (g *Glosser) mostlyNoun(form string) bool {
	n := g.used(form, lexicon.Noun)
	return n > 0 && n >= g.used(form, lexicon.Adjective) && n >= g.used(form, lexicon.Adverb)
}

func (g *Glosser) mostlyAdjective(form string) bool {
	a := g.used(form, lexicon.Adjective)
	return a > g.used(form, lexicon.Noun) && a > g.used(form, lexicon.Verb)
}

// used is how often a form is tagged as a part of speech, with one for each sense.
func (g *Glosser) used(form string, pos lexicon.POS) int {
	n := 0
	for _, l := range g.lex.Lemmas(form, pos) {
		for _, s := range g.lex.Senses(l, pos) {
			n += s.Count + 1
		}
	}
	return n
}

// concrete are the classes of things of which "a kind of" says something.
var concrete = map[string]bool{"noun.animal": true, "noun.plant": true, "noun.food": true, "noun.artifact": true, "noun.substance": true, "noun.body": true, "noun.object": true}

// easierBy is how many grades easier than the word what is said of it must be.
const easierBy = 0.1

// says reports that a word may stand for another: easier, of another family, and
// no phrase that holds it.
func (g *Glosser) says(word, lemma string, most float64) bool {
	return g.measure.Word(word) <= most && !g.circular(word, lemma) && plain(strings.ReplaceAll(word, " ", ""))
}

// usualEnough reports that a child who knows the word will take it in this
// meaning, and that it is used like the other: "deep" is no word for mysterious.
func (c Substitute) usualEnough() bool {
	p := c.parts
	switch c.how {
	case asSynonym:
		return p.tag >= -1.3 && p.alike >= 0.36 || p.tag >= -2.1 && p.alike >= 0.55 || p.alike >= 0.6 && p.fits >= -0.7
	case asSimilar:
		return p.tag >= -1.1 && p.alike >= 0.42
	case asKind:
		return c.Sense.POS == lexicon.Verb && p.tag >= -1.3 && p.alike >= 0.5
	}
	return false
}

// worth is how good a synonym is as the meaning, 0 to 1: used alike, fitting the
// place, mostly met in this meaning, and easy.
func (g *Glosser) worth(c Substitute) float64 {
	v := map[relation]float64{asSynonym: 0.72, asSimilar: 0.52, asKind: 0.3}[c.how]
	if v == 0 {
		return 0
	}
	p := c.parts
	v += 0.9*(p.alike-usualAlike) + 0.05*max(-4, min(3, p.fits)) + 0.12*max(-1.5, p.tag+1) - 0.05*max(0, g.measure.Word(c.Lemma)-4)
	if p.phrase > 0 {
		v -= 0.15
	}
	return max(0, min(0.98, v))
}

// hardest is the difficulty of the hardest word of a phrase.
func (g *Glosser) hardest(text string) float64 {
	hard := 0.0
	for _, w := range strings.FieldsFunc(fold(text), func(r rune) bool { return (r < 'a' || r > 'z') && r != '\'' }) {
		if len(w) < 2 || g.lex.Function(w) {
			continue
		}
		hard = max(hard, g.formDifficulty(w))
	}
	return hard
}

// formDifficulty is that of a form, or of its dictionary form where that is easier.
func (g *Glosser) formDifficulty(w string) float64 {
	d := g.measure.Word(w)
	for _, p := range lexicon.PartsOfSpeech() {
		for _, l := range g.lex.Lemmas(w, p) {
			d = min(d, g.measure.Word(l)+0.3)
		}
	}
	return d
}

// circular reports that a phrase uses the word or one of its family.
func (g *Glosser) circular(text, lemma string) bool {
	for _, w := range strings.FieldsFunc(fold(text), func(r rune) bool { return r < 'a' || r > 'z' }) {
		for _, l := range strings.FieldsFunc(lemma, func(r rune) bool { return r < 'a' || r > 'z' }) {
			if len(w) < 3 || len(l) < 3 || g.lex.Function(w) || g.lex.Function(l) || l != lemma && g.measure.Word(l) < 1 {
				continue // the small words of an idiom explain themselves
			}
			if w == l || family(w) == family(l) {
				return true
			}
			if d := distance(w, l); len(l) >= 6 && d <= 1 || len(l) >= 8 && d <= 2 { // "enquire" for "inquire"
				return true
			}
			short, long := w, l
			if len(short) > len(long) {
				short, long = long, short
			}
			if c := common(w, l); c >= 5 && 10*c >= 7*len(short) { // "conquering" for "conquest"
				return true
			}
			if len(short) >= 4 && strings.HasPrefix(long, short[:max(4, len(short)-1)]) && len(long)-len(short) <= 6 && common(short, long) >= max(4, len(short)-1) {
				return true
			}
		}
	}
	return false
}

// distance is the number of letters to change, add or leave out.
func distance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(a); i++ {
		last := row[0]
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			last, row[j] = row[j], min(row[j]+1, row[j-1]+1, last+cost)
		}
	}
	return row[len(b)]
}

// common is the number of letters with which both words begin.
func common(a, b string) int {
	n := 0
	for n < len(a) && n < len(b) && a[n] == b[n] {
		n++
	}
	return n
}
