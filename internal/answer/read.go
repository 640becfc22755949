package answer

import (
	"context"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"bookstead/internal/lang"
	"bookstead/internal/lang/english"
	"bookstead/internal/lexicon"
)

// word is one token of a text as it is compared.
type word struct {
	token  int    // index in the Doc
	form   string // in lower case, as meant: a slip of spelling is mended
	typed  string // in lower case, as written
	lemmas []string
	upos   string
	// content tells words that carry meaning from words of grammar.
	content bool
	// weight is larger for rarer words, 0.15 to 1.
	weight  float64
	negated bool   // in the reach of a negation
	denied  bool   // what a negation hangs on
	number  string // figures, for a number in words too
	sense   *meaning
	// head is the index among the words of the word it hangs on, -1 for none.
	head int
}

// text is an analysed question, reference or answer.
type text struct {
	raw   string
	doc   *lang.Doc
	words []word
	// slips counts words that are in no dictionary.
	slips int
	// focus is the first word of the last sentence: where a question asks.
	focus int
	// negations counts "not", "never" and their kind.
	negations int
}

// mostRead is how many bytes of an answer are read: five thousand words
// are no answer to a child's question, and their end changes no judgment.
const mostRead = 4000

// clip cuts a text at a space behind at most n bytes.
func clip(s string, n int) string {
	if len(s) <= n {
		return s
	}
	if i := strings.LastIndexFunc(s[:n], unicode.IsSpace); i > 0 {
		return s[:i]
	}
	for n > 0 && !utf8.RuneStart(s[n]) {
		n--
	}
	return s[:n]
}

// readable puts a star for each byte that is no UTF-8, so that places stay.
func readable(s string) string {
	if utf8.ValidString(s) {
		return s
	}
	b := []byte(s)
	for i := 0; i < len(b); {
		r, n := utf8.DecodeRune(b[i:])
		if r == utf8.RuneError && n <= 1 {
			b[i] = '*'
		}
		i += max(1, n)
	}
	return string(b)
}

// mended is the text with its slips of spelling mended.
func (t *text) mended() string {
	var b strings.Builder
	at := 0
	for i := range t.words {
		w := &t.words[i]
		if _, clitic := clitics[w.typed]; clitic || w.form == w.typed {
			continue
		}
		tok := t.doc.Tokens[w.token]
		b.WriteString(t.raw[at:tok.Start])
		b.WriteString(cased(w.form, tok.Form))
		at = tok.End
	}
	b.WriteString(t.raw[at:])
	return b.String()
}

// read analyses a text. Words that are in no dictionary are taken for the
// nearest of known, then for the likeliest suggestion.
func (j *Judge) read(ctx context.Context, raw string, known map[string]bool) (*text, error) {
	raw = readable(raw)
	t := &text{raw: raw}
	d, err := english.Cut(ctx, raw, nil, english.Options{Workers: 1})
	if err != nil {
		return nil, err
	}
	if err := english.Understand(ctx, d, english.Options{}); err != nil {
		return nil, err
	}
	t.doc = d
	at := make([]int, len(d.Tokens)) // word of a token, -1 for none
	suggested := 0
	for i := range d.Tokens {
		at[i] = -1
		tok := &d.Tokens[i]
		typed := normal(tok.Form)
		if !strings.ContainsFunc(typed, func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }) {
			continue
		}
		w := word{token: i, form: typed, typed: typed, upos: tok.UPOS}
		if f, ok := clitics[typed]; ok {
			w.form = f
		} else if strings.ContainsFunc(typed, unicode.IsLetter) && !known[typed] && !j.lex.Correct(tok.Form) && !j.lex.Correct(typed) {
			t.slips++
			if near := nearest(typed, known); near != "" {
				w.form = near
			} else if suggested < mostSuggested && tok.UPOS != "PROPN" {
				suggested++
				if s := j.lex.Suggest(typed); len(s) > 0 && !strings.Contains(s[0], " ") {
					w.form = normal(s[0])
				}
			}
		}
		lemma := normal(tok.Lemma)
		if w.form != typed {
			lemma = w.form
		}
		w.lemmas = j.lemmas(w.form, lemma)
		w.content = !j.grammar(w.form) && !j.grammar(lemma)
		w.weight = j.rarity(w.form)
		w.number = numbers[w.form]
		if w.number == "" && unicode.IsDigit(rune(w.form[0])) {
			w.number = strings.ReplaceAll(w.form, ",", "")
		}
		if w.number != "" {
			w.content = true
		}
		if negations[w.form] {
			t.negations++
		}
		at[i] = len(t.words)
		t.words = append(t.words, w)
	}
	for i := range t.words {
		w := &t.words[i]
		w.head = -1
		if h := d.Tokens[w.token].Head; h >= 0 {
			w.head = at[h]
		}
		if w.content {
			w.sense = j.meaning(w)
		}
	}
	t.scope(d, at)
	if parts := sentences(t); len(parts) > 0 {
		t.focus = parts[len(parts)-1][0]
	}
	return t, nil
}

// mostSuggested bounds the slips of an answer that are looked up in the whole
// dictionary, which takes some milliseconds each.
const mostSuggested = 4

// scope marks what a negation bears on: its head and the head's own words that
// follow it.
func (t *text) scope(d *lang.Doc, at []int) {
	for i := range t.words {
		if !negations[t.words[i].form] {
			continue
		}
		h := t.words[i].head
		if h < 0 {
			continue
		}
		t.words[h].negated, t.words[h].denied = true, true
		for k := i + 1; k < len(t.words); k++ {
			if t.words[k].head == h && t.words[k].upos != "PUNCT" {
				t.words[k].negated = true
			}
		}
	}
}

// normal is a form in lower case with straight apostrophes.
func normal(s string) string { return strings.ToLower(straight.Replace(s)) }

var straight = strings.NewReplacer("’", "'", "‘", "'", "ʼ", "'")

// clitics are the parts of contractions as whole words.
var clitics = map[string]string{"n't": "not", "'re": "are", "'ve": "have", "'ll": "will", "'m": "am", "ca": "can", "wo": "will", "sha": "shall", "cannot": "not"}

var negations = set("not no never none nothing nobody neither nor without nowhere n't cannot hardly dont doesnt didnt isnt wasnt wont cant couldnt")

var numbers = map[string]string{"zero": "0", "one": "1", "two": "2", "three": "3", "four": "4", "five": "5", "six": "6", "seven": "7", "eight": "8", "nine": "9", "ten": "10", "eleven": "11", "twelve": "12", "twenty": "20", "hundred": "100", "both": "2"}

func set(words string) map[string]bool {
	m := map[string]bool{}
	for w := range strings.FieldsSeq(words) {
		m[w] = true
	}
	return m
}

// telling are words of grammar that can be the whole of an answer.
var telling = set("same other off on out up down inside outside above below under over before after between more less most least few many all both each every another against behind near through without")

// grammar reports a word that says nothing by itself.
func (j *Judge) grammar(form string) bool {
	return !telling[form] && (j.lex.Function(form) || empty[form])
}

var empty = set("n't 's 'd 'll 're 've 'm be get go thing way also really just let not")

// lemmas are all base forms that a form may have, the tagger's own first.
func (j *Judge) lemmas(form, lemma string) []string {
	out := []string{lemma}
	add := func(s string) {
		if !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	add(form)
	for _, p := range lexicon.PartsOfSpeech() {
		for _, l := range j.lex.Lemmas(form, p) {
			add(l)
		}
	}
	return out
}

// rarity weighs a word by how seldom it is heard and read.
func (j *Judge) rarity(form string) float64 {
	z, ok := j.lex.Zipf(form)
	if b, ok2 := j.lex.BookZipf(form); ok2 && (!ok || b > z) {
		z, ok = b, true
	}
	if !ok {
		return 1
	}
	return min(1, max(0.15, (7.3-z)/4))
}

// nearest returns the known word that a slip is likely to mean, "" for none.
func nearest(slip string, known map[string]bool) string {
	best, least := "", 3
	allowed := 1
	if len(slip) >= 7 {
		allowed = 2
	}
	if len(slip) < 4 {
		return ""
	}
	for k := range known {
		if len(k) < 4 || abs(len(k)-len(slip)) > allowed {
			continue
		}
		if d := distance(slip, k); d <= allowed && (d < least || d == least && k < best) {
			best, least = k, d
		}
	}
	return best
}

// distance counts the letters to change, swap, add or take away (Damerau).
func distance(a, b string) int {
	x, y := []rune(a), []rune(b)
	rows := make([][]int, len(x)+1)
	for i := range rows {
		rows[i] = make([]int, len(y)+1)
		rows[i][0] = i
	}
	for k := range rows[0] {
		rows[0][k] = k
	}
	for i := 1; i <= len(x); i++ {
		for k := 1; k <= len(y); k++ {
			c := rows[i-1][k-1]
			if x[i-1] != y[k-1] {
				c++
			}
			c = min(c, rows[i-1][k]+1, rows[i][k-1]+1)
			if i > 1 && k > 1 && x[i-1] == y[k-2] && x[i-2] == y[k-1] {
				c = min(c, rows[i-2][k-2]+1)
			}
			rows[i][k] = c
		}
	}
	return rows[len(x)][len(y)]
}

func abs(n int) int {
	if n < 0 {
		return -n
	}
	return n
}
