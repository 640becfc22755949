package answer

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"bookstead/internal/lang"
)

// SlipKind is a kind of slip.
type SlipKind string

const (
	Spelling   SlipKind = "spelling"
	CapitalI   SlipKind = "capital" // a name, the word I, the first word
	Apostrophe SlipKind = "apostrophe"
	Twice      SlipKind = "twice" // a word written two times
	Article    SlipKind = "article"
	Mixed      SlipKind = "mixed up" // a word that sounds like the one meant
	EndMark    SlipKind = "end mark"
)

// Slip is one thing to put right, with what may have been meant.
type Slip struct {
	Kind       SlipKind
	Start, End int // bytes of the answer
	Text       string
	Meant      []string // the likeliest first; never an offensive word
}

// mostSlips are told of one answer: a child mends no more at a time.
const mostSlips = 12

// surface is a word as it is written, contractions in one.
type surface struct {
	start, end  int
	first, last int // tokens, half-open
	text        string
}

func surfaces(d *lang.Doc) []surface {
	var out []surface
	for i := 0; i < len(d.Tokens); {
		n := max(1, int(d.Tokens[i].Multi))
		for i+n < len(d.Tokens) && d.Tokens[i+n].Multi < 0 {
			n++
		}
		s := surface{start: d.Tokens[i].Start, end: d.Tokens[i+n-1].End, first: i, last: i + n}
		s.text = d.Text[s.start:s.end]
		out = append(out, s)
		i += n
	}
	return out
}

// mechanics finds slips, in the order of the answer.
func (k *Key) mechanics(t *text) []Slip {
	d := t.doc
	var out []Slip
	add := func(kind SlipKind, s surface, meant ...string) {
		out = append(out, Slip{kind, s.start, s.end, s.text, meant})
	}
	words := surfaces(d)
	looked := 0
	for n, s := range words {
		low := normal(s.text)
		var next, before surface
		if n+1 < len(words) {
			next = words[n+1]
		}
		if n > 0 {
			before = words[n-1]
		}
		switch {
		case low == "i" && s.text == "i" || strings.HasPrefix(s.text, "i'") && len(s.text) <= 4:
			add(CapitalI, s, "I"+s.text[1:])
		case apostrophes[low] != "" && !k.known[low]:
			add(Apostrophe, s, cased(apostrophes[low], s.text))
		case (low == "cant" || low == "wont" || low == "im") && !k.known[low]:
			add(Apostrophe, s, cased(map[string]string{"cant": "can’t", "wont": "won’t", "im": "I’m"}[low], s.text))
		case n > 0 && low == normal(before.text) && lang.IsWord(s.text) && !doubled[low]:
			add(Twice, s)
		case (low == "a" || low == "an") && next.first == s.last && next.text != "" && k.judge.wrongArticle(low, next.text):
			add(Article, s, cased(map[string]string{"a": "an", "an": "a"}[low], s.text))
		case k.mixed(d, words, n) != "":
			add(Mixed, s, cased(k.mixed(d, words, n), s.text))
		case k.names[low] != "" && s.text == low && !k.judge.lex.Correct(s.text):
			add(CapitalI, s, k.names[low])
		case k.misspelled(d, s, n > 0 && !endsSentence(before.text)):
			var meant []string
			if near := nearest(low, k.known); near != "" {
				meant = append(meant, k.spell(near, s.text))
			}
			if looked < mostSuggested {
				looked++
				for _, m := range k.judge.lex.Suggest(s.text) {
					if !slices.Contains(meant, m) && len(meant) < 3 {
						meant = append(meant, m)
					}
				}
			}
			add(Spelling, s, meant...)
		}
	}
	for _, s := range d.Sentences {
		if wordsIn(d, s) && !capital(d, s) {
			if f := firstWord(d, s); f >= 0 && !slices.ContainsFunc(out, func(x Slip) bool { return x.Start == d.Tokens[f].Start }) {
				tok := d.Tokens[f]
				out = append(out, Slip{CapitalI, tok.Start, tok.End, tok.Form, []string{upperFirst(tok.Form)}})
			}
		}
		if wordsIn(d, s) && !ended(d, s) {
			end := d.Tokens[s.Last-1]
			out = append(out, Slip{EndMark, end.End, end.End, "", []string{"."}})
		}
	}
	slices.SortStableFunc(out, func(a, b Slip) int { return a.Start - b.Start })
	return out[:min(len(out), mostSlips)]
}

func endsSentence(s string) bool { return strings.ContainsAny(s, ".!?“\"") }

func firstWord(d *lang.Doc, s lang.Sentence) int {
	for i := s.First; i < s.Last; i++ {
		if lang.IsWord(d.Tokens[i].Form) {
			return i
		}
	}
	return -1
}

// spell writes a known word with the capital of a name or of the slip.
func (k *Key) spell(word, like string) string {
	if n := k.names[word]; n != "" {
		return n
	}
	return cased(word, like)
}

// cased gives a word the first letter's case of another.
func cased(word, like string) string {
	if r, _ := utf8.DecodeRuneInString(like); unicode.IsUpper(r) {
		return upperFirst(word)
	}
	return word
}

func upperFirst(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}

func lowerFirst(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToLower(r)) + s[n:]
}

// misspelled reports a word that is in no dictionary. A capital inside a
// sentence makes it a name, which no dictionary holds.
func (k *Key) misspelled(d *lang.Doc, s surface, inside bool) bool {
	low := normal(s.text)
	if strings.Trim(low, "abcdefghijklmnopqrstuvwxyz'-") != "" || strings.Trim(low, "'-") == "" {
		return false
	}
	if k.known[low] || known(k.known, low) {
		return false
	}
	if r, _ := utf8.DecodeRuneInString(s.text); unicode.IsUpper(r) && (inside || d.Tokens[s.first].UPOS == "PROPN") && strings.ToUpper(s.text) != s.text {
		return false
	}
	lex := k.judge.lex
	if lex.Correct(s.text) || lex.Correct(low) {
		return false
	}
	for _, end := range []string{"'s", "s'", "'", "in'"} {
		if b, ok := strings.CutSuffix(low, end); ok && (lex.Correct(b) || k.known[b] || k.names[b] != "") {
			return false
		}
	}
	return true
}

func known(words map[string]bool, s string) bool {
	for _, p := range strings.Split(s, "-") {
		if !words[p] {
			return false
		}
	}
	return true
}

var doubled = set("that had very so bye ha no yes there now oh her really far more many long is had")

var apostrophes = map[string]string{"dont": "don’t", "didnt": "didn’t", "doesnt": "doesn’t", "isnt": "isn’t", "wasnt": "wasn’t", "arent": "aren’t",
	"werent": "weren’t", "couldnt": "couldn’t", "wouldnt": "wouldn’t", "shouldnt": "shouldn’t", "hasnt": "hasn’t", "havent": "haven’t", "hadnt": "hadn’t",
	"thats": "that’s", "whats": "what’s", "theyre": "they’re", "youre": "you’re", "ive": "I’ve", "theyve": "they’ve"}

// wrongArticle reports "a" before a vowel's sound or "an" before another.
func (j *Judge) wrongArticle(article, next string) bool {
	if !lang.IsWord(next) || strings.ToUpper(next) == next {
		return false
	}
	said := j.lex.Pronunciations(next)
	if len(said) == 0 {
		return false
	}
	for _, p := range said {
		vowel := strings.IndexByte("AEIOU", p[0][0]) >= 0
		if vowel == (article == "an") {
			return false
		}
	}
	return normal(next)[0] != 'h' // "an historic"
}

// mixed returns the word that was meant by one that sounds like it, "" when it
// seems the right one. The rules hold where the next word leaves no doubt.
func (k *Key) mixed(d *lang.Doc, words []surface, n int) string {
	low := normal(words[n].text)
	next, before, after := "", "", ""
	if n+1 < len(words) {
		next = normal(words[n+1].text)
	}
	if n+2 < len(words) {
		after = normal(words[n+2].text)
	}
	if n > 0 {
		before = normal(words[n-1].text)
	}
	switch low {
	case "of":
		if modals[before] && n+1 < len(words) && (d.Tokens[words[n+1].first].XPOS == "VBN" || next == "been" || next == "went") {
			return "have"
		}
	case "their":
		if next == "is" || next == "are" || next == "was" || next == "were" {
			return "there"
		}
	case "there":
		if next == "own" {
			return "their"
		}
	case "your":
		if next == "a" || next == "an" || next == "the" || next == "not" || next == "welcome" || next == "going" {
			return "you’re"
		}
	case "its":
		if next == "a" || next == "an" || next == "the" || next == "not" || next == "been" || next == "because" {
			return "it’s"
		}
	case "then":
		if n > 0 && d.Tokens[words[n-1].last-1].XPOS == "JJR" || before == "more" || before == "less" || before == "rather" {
			return "than"
		}
	case "to":
		if next == "much" || next == "many" || next == "late" || next == "big" || next == "small" && after != "" && d.Tokens[words[n+2].first].UPOS != "NOUN" {
			return "too"
		}
	case "loose":
		if before == "to" || modals[before] || before == "will" {
			return "lose"
		}
	case "alot":
		return "a lot"
	}
	return ""
}

var modals = set("could would should must might may")
