package vocabulary

import (
	"strings"

	"bookstead/internal/lang/inflect"
	"bookstead/internal/lexicon"
)

// gloss is what is said about a word: a meaning of at most eight words and a
// synonym that can stand in its place.
type gloss struct {
	meaning, synonym string
	next             []Choice
}

// mostWords of a meaning on a child's page.
const mostWords = 8

// definition is a plain phrase made of a dictionary definition, and what it lost
// on the way, from 0 for nothing.
type definition struct {
	text string
	loss float64
}

// definitions are the plain phrases that can be made of a dictionary definition:
// each of its clauses whole, or up to where it can be cut, without brackets and
// labels, in plainer words, and with a verb in the form of the word.
func (g *Glosser) definitions(lemma, xpos string, s lexicon.Sense) []definition {
	var out []definition
	for _, clause := range strings.FieldsFunc(unbracket(s.Gloss), func(r rune) bool { return r == ';' || r == ':' }) {
		clause = plainer(strings.Trim(strings.Join(strings.Fields(clause), " "), " ,"))
		for _, c := range cuts(clause, s.POS) {
			c.text = strings.Trim(c.text, " ,")
			if s.POS == lexicon.Verb {
				c.text = strings.TrimPrefix(c.text, "to ")
			}
			if complete(c.text) && (c.loss == 0 || whole(c.text, s.POS) && (s.POS != lexicon.Noun || g.endsWell(strings.Fields(c.text)))) {
				c.text = likeTheWord(g.lex, c.text, xpos, s.POS)
				out = append(out, c)
			}
		}
	}
	if s.POS == lexicon.Adverb {
		out = append(out, g.inAWay(lemma, s)...)
	}
	return out
}

// inAWay tells an adverb by words used like the adjective it is made of: "in a
// quiet way".
func (g *Glosser) inAWay(lemma string, s lexicon.Sense) []definition {
	most := g.measure.Sense(s) - easierBy
	best, most2 := "", 0.0
	for _, a := range g.lex.Derivations(s) {
		if a.POS != lexicon.Adjective || a.Offensive {
			continue
		}
		own := g.vector(strings.ToLower(a.Lemma))
		try := func(y lexicon.Synonym, id lexicon.SynsetID, bonus float64) {
			w := strings.ToLower(y.Lemma)
			if y.Offensive || !plain(w) || w != y.Lemma || g.measure.Word(w) > most || g.circular(w, lemma) {
				return
			}
			alike, tag := usualAlike, g.share(w, id)
			if own != nil {
				alike = product(own, g.vector(w))
			}
			if v := alike + bonus + 0.06*max(-3, tag) - 0.02*g.measure.Word(w); alike >= 0.42 && tag > -1.6 && v > most2 {
				best, most2 = w, v
			}
		}
		for _, y := range a.Synonyms {
			try(y, a.Synset, 0.1)
		}
		for _, id := range g.lex.Similar(a.Synset) {
			if sy, ok := g.lex.Synset(id); ok && !sy.Offensive {
				for _, y := range sy.Lemmas {
					try(y, id, 0)
				}
			}
		}
	}
	if best == "" {
		return nil
	}
	return []definition{{"in " + article(best) + " " + best + " way", 0.1}}
}

func article(word string) string {
	if strings.ContainsRune("aeiou", rune(word[0])) {
		return "an"
	}
	return "a"
}

// unbracket leaves out what stands in brackets.
func unbracket(s string) string {
	var b strings.Builder
	depth := 0
	for _, r := range s {
		switch {
		case r == '(':
			depth++
		case r == ')':
			depth = max(0, depth-1)
		case depth == 0:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// plainly are words and turns of dictionaries with plainer ones that mean the
// same wherever definitions use them (ours). Those at the start come first.
var plainlyAtStart = [][2]string{
	{"of or relating to or ", "to do with "}, {"of or relating to ", "to do with "}, {"relating to or ", "to do with "}, {"relating to ", "to do with "},
	{"of or pertaining to ", "to do with "}, {"pertaining to ", "to do with "}, {"characterized by or ", "showing "}, {"characterized by ", "showing "}, {"marked by ", "showing "},
	{"characterised by ", "showing "}, {"the quality of being ", "being "}, {"the state of being ", "being "}, {"the trait of being ", "being "}, {"the property of being ", "being "},
	{"a state of being ", "being "}, {"the act of ", ""}, {"an act of ", ""}, {"the action of ", ""}, {"the process of ", ""}, {"the activity of ", ""},
	{"so as to be ", ""}, {"to such an extent or degree ", "so much "}, {"used of ", "of "}, {"someone who ", "a person who "}, {"one who ", "a person who "}, {"somebody who ", "a person who "},
	{"cause to be or become ", "make "}, {"cause to become ", "make "}, {"cause to be ", "make "}, {"be in or establish ", "be in "},
}

var plainlyWithin = [][2]string{
	{" manner", " way"}, {" manners", " ways"}, {" individual ", " person "}, {" individuals ", " people "}, {" obtain ", " get "}, {" utter ", " say "},
	{" possess ", " have "}, {" possessing ", " having "}, {" construct ", " build "}, {" assist ", " help "}, {" attempt ", " try "}, {" persons ", " people "},
	{" in order to ", " to "}, {" a large number of ", " many "}, {" a great deal of ", " much "}, {" commence ", " begin "}, {" sufficient ", " enough "},
	{" numerous ", " many "}, {" located ", " set "}, {" situated ", " set "}, {" requiring ", " needing "}, {" lacking in ", " without "}, {" lacking ", " without "},
	{" especially a ", " a "}, {" resembling ", " like "}, {" accompanied by ", " with "}, {" upon ", " on "}, {" produce ", " make "}, {" something that is ", " something "},
	{" someone or something ", " someone "}, {" somebody or something ", " someone "}, {" somebody ", " someone "}, {" e.g. ", " "}, {" i.e. ", " "},
}

func plainer(s string) string {
	for _, r := range plainlyAtStart {
		if rest, ok := strings.CutPrefix(s, r[0]); ok {
			s = r[1] + rest
			break
		}
	}
	s = " " + s + " "
	for _, r := range plainlyWithin {
		s = strings.ReplaceAll(s, r[0], r[1])
	}
	return strings.TrimSpace(s)
}

// stops are where a clause may end early, the better places first; parts are what
// is lost there, from 0 to 1.
var stops = []struct {
	at   []string
	loss float64
}{
	{[]string{", especially", ", usually", ", often", ", such as ", ", as ", " especially ", " usually ", " such as ", " so as to ", " in order to "}, 0.02},
	{[]string{" that ", " which ", " who ", " where ", " when ", " while ", " because ", " as if ", " used to ", " used for ", " used in ", " made of ", " having ", " consisting ", " resulting ", " caused "}, 0.12},
	{[]string{", or ", ", and ", ", ", " or ", " and ", " without ", " about "}, 0.15},
	{[]string{" by ", " with ", " for ", " from ", " on ", " in "}, 0.2},
}

// cuts are a clause, when it is short enough, and what is left of it when it ends
// early.
func cuts(clause string, pos lexicon.POS) []definition {
	var out []definition
	if len(strings.Fields(clause)) <= mostWords {
		out = append(out, definition{clause, 0})
	}
	for i, s := range stops {
		if i == len(stops)-1 && pos != lexicon.Noun {
			break // a verb or an adjective needs what its preposition brings
		}
		for _, stop := range s.at {
			for rest := clause; ; {
				i := strings.LastIndex(rest, stop)
				if i <= 0 {
					break
				}
				shared := (stop == " and " || stop == " or " || stop == ", or " || stop == ", and ") && sharesComplement(rest[i+len(stop):])
				rest = rest[:i]
				if shared {
					continue
				}
				short := untail(rest)
				if n := len(strings.Fields(short)); n <= mostWords && n >= 2 {
					loss := s.loss
					if n < 4 { // too little is left to tell it from others
						loss += 0.15
					}
					out = append(out, definition{short, loss})
				}
			}
		}
	}
	return out
}

// sharesComplement reports that what stands behind an "and" brings what the words
// before it need too: "the care and supervision of a child".
func sharesComplement(after string) bool {
	f := strings.Fields(after)
	for i := 1; i < min(3, len(f)); i++ {
		switch f[i] {
		case "of", "to", "for", "with", "in", "from", "on", "by", "at":
			return true
		}
	}
	return false
}

// whole refuses a cut phrase that ends in the middle of something.
func whole(s string, pos lexicon.POS) bool {
	f := strings.Fields(s)
	last, before := f[len(f)-1], f[max(0, len(f)-2)]
	switch {
	case last == "if" || last == "without" || last == "marked" || last == "given" || last == "between" || last == "over" || last == "about" || last == "through":
		return false
	case before == "that" || before == "who" || before == "which" || before == "where" || before == "when":
		return false
	case last == "member" || last == "part" || last == "kind" || last == "type" || last == "form" || last == "series" || last == "pair":
		return false
	case strings.HasSuffix(last, "ly") && pos != lexicon.Adverb && pos != lexicon.Verb && len(f) > 2:
		return false
	case (strings.HasSuffix(last, "ing") || strings.HasSuffix(last, "ed")) && (before == "or" || before == "and") && pos != lexicon.Verb:
		return false
	}
	return true
}

// untail leaves out a participle at the end that lacks what it governs: "hair
// growing", "an infection caused".
func untail(s string) string {
	f := strings.Fields(s)
	for len(f) > 2 {
		w := f[len(f)-1]
		before := f[len(f)-2]
		if !strings.HasSuffix(w, "ing") && !strings.HasSuffix(w, "ed") && w != "made" && w != "worn" && w != "kept" && w != "found" && w != "held" || before == "a" || before == "the" || before == "of" || before == "or" || before == "and" || before == "an" || before == "by" || before == "to" {
			break
		}
		f = f[:len(f)-1]
	}
	return strings.Join(f, " ")
}

// complete refuses a phrase that was cut where it cannot end, or that needs what
// is gone.
func complete(s string) bool {
	f := strings.Fields(s)
	if len(f) == 0 || strings.ContainsAny(s, "\"0123456789`") || strings.Count(s, ",") == 1 && !strings.Contains(s, " or ") && !strings.Contains(s, " and ") && len(f) < 4 {
		return false
	}
	for _, w := range f { // what is named by a proper name is for those who know it
		if w[0] >= 'A' && w[0] <= 'Z' {
			return false
		}
	}
	switch f[len(f)-1] {
	case "a", "an", "the", "of", "or", "and", "to", "in", "with", "by", "for", "on", "from", "as", "that", "is", "are", "being", "not", "very", "some", "any", "having", "who", "whose", "at", "into",
		"something", "someone", "usually", "especially", "its", "their", "it", "be", "become", "made", "used", "which", "than", "one", "other", "more", "less", "most", "can", "may", "does", "do", "has", "have", "person", "quality", "state", "once", "then", "where", "how", "so", "comes", "such", "no", "different":
		return len(f) > 2 && (f[len(f)-1] == "something" || f[len(f)-1] == "someone" || f[len(f)-1] == "do" || f[len(f)-1] == "person")
	}
	switch f[0] {
	case "similar", "informal", "slang", "archaic", "see", "cf.":
		return false
	}
	return true
}

// likeTheWord gives the verb of a definition the form that the word has on the
// page: "caused to feel sad" for a past form.
func likeTheWord(lex *lexicon.Lexicon, s, xpos string, pos lexicon.POS) string {
	if pos != lexicon.Verb || xpos != "VBD" && xpos != "VBN" && xpos != "VBG" && xpos != "VBZ" {
		return s
	}
	f := strings.Fields(s)
	is := func(w string) bool { return lex.HasLemma(w, lexicon.Verb) || w == "be" || w == "have" }
	if !is(f[0]) {
		return s
	}
	f[0] = inflect.Like(f[0], xpos)
	for i := 1; i+1 < len(f); i++ {
		if f[i] == "or" || f[i] == "and" {
			if w := f[i+1]; is(w) && !lex.HasLemma(w, lexicon.Noun) && !lex.HasLemma(w, lexicon.Adjective) && !afterTo(f[:i]) || i == 1 && is(w) {
				f[i+1] = inflect.Like(w, xpos)
			}
			break
		}
	}
	return strings.Join(f, " ")
}

func afterTo(f []string) bool {
	for _, w := range f {
		if w == "to" {
			return true
		}
	}
	return false
}

// glosserOf is the glosser of the book, made when it is first asked for.
func (e *engine) glosserOf() *Glosser {
	if e.glosser == nil {
		e.glosser = NewGlosser(e.lex, e.passages[0].Doc)
	}
	return e.glosser
}

// explain makes the gloss of a sense without a place to look at. ok is false when
// nothing easier can be said.
func (e *engine) explain(lemma, xpos string, s lexicon.Sense) (gloss, bool) {
	m, syn, ok := e.glosserOf().OfSense(lemma, xpos, s)
	return gloss{meaning: m, synonym: syn}, ok
}
