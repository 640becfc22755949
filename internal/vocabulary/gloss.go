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

// definitions are the plain phrases that can be made of a dictionary definition:
// each of its clauses whole, or up to where it can be cut, without brackets and
// labels, in plainer words, and with a verb in the form of the word.
func (g *Glosser) definitions(lemma, xpos string, s lexicon.Sense) []string {
	var out []string
	for _, clause := range strings.FieldsFunc(unbracket(s.Gloss), func(r rune) bool { return r == ';' || r == ':' }) {
		clause = plainer(strings.Trim(strings.Join(strings.Fields(clause), " "), " ,"))
		for _, c := range cuts(clause) {
			if complete(c) {
				out = append(out, likeTheWord(g.lex, c, xpos, s.POS))
				break
			}
		}
	}
	if s.POS == lexicon.Adverb {
		out = append(out, g.inAWay(lemma, s)...)
	}
	return out
}

// inAWay tells an adverb by the adjective it is made of: "in a quiet way".
func (g *Glosser) inAWay(lemma string, s lexicon.Sense) []string {
	var out []string
	for _, a := range g.lex.Derivations(s) {
		if a.POS != lexicon.Adjective || a.Offensive {
			continue
		}
		words := a.Synonyms
		for _, id := range g.lex.Similar(a.Synset) {
			if sy, ok := g.lex.Synset(id); ok && !sy.Offensive {
				words = append(words, sy.Lemmas...)
			}
		}
		best, least := "", g.measure.Sense(s)
		for _, y := range words {
			if d := g.measure.Word(y.Lemma); !y.Offensive && d < least && plain(y.Lemma) && !g.circular(y.Lemma, lemma) {
				best, least = y.Lemma, d
			}
		}
		if best != "" {
			out = append(out, "in "+article(best)+" "+best+" way")
		}
	}
	return out
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

// stops are where a clause may end early.
var stops = []string{", especially", ", usually", ", often", ", as ", ", such as ", ", or ", ", and ", ", ", " especially ", " usually ", " often ", " such as ", " as if ", " so as to ", " in order to ",
	" that ", " which ", " who ", " when ", " while ", " because ", " by ", " with ", " for ", " from ", " or ", " and "}

// cuts are a clause and what is left of it when it ends early, the longest that
// is short enough first.
func cuts(clause string) []string {
	var out []string
	if len(strings.Fields(clause)) <= mostWords {
		out = append(out, clause)
	} else {
		for _, stop := range stops {
			for rest := clause; ; {
				i := strings.LastIndex(rest, stop)
				if i <= 0 {
					break
				}
				rest = rest[:i]
				if n := len(strings.Fields(rest)); n <= mostWords {
					if n >= 2 {
						out = append(out, strings.TrimSpace(rest))
					}
					break
				}
			}
			if len(out) > 0 {
				break
			}
		}
	}
	return out
}

// complete refuses a phrase that was cut where it cannot end, or that needs what
// is gone.
func complete(s string) bool {
	f := strings.Fields(s)
	if len(f) == 0 || strings.ContainsAny(s, `"0123456789`) {
		return false
	}
	switch f[len(f)-1] {
	case "a", "an", "the", "of", "or", "and", "to", "in", "with", "by", "for", "on", "from", "as", "that", "is", "are", "being", "not", "very", "some", "any", "having", "who", "whose", "at", "into",
		"something", "someone", "usually", "especially", "its", "their", "it", "be", "become", "made", "used", "which", "than", "one", "other", "more", "less", "most", "can", "may", "does", "do", "has", "have", "person", "quality", "state":
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
