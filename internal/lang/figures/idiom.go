package figures

import (
	_ "embed"
	"strings"

	"bookstead/internal/lang"
	"bookstead/internal/lexicon"
)

//go:embed idioms.txt
var idiomList string

//go:embed proverbs.txt
var proverbList string

// idiom is a phrase with its meaning.
type idiom struct {
	words   []string
	meaning string
}

// readIdioms reads lines of phrase, tab, meaning, by the phrase's first word.
func readIdioms(list string) map[string][]idiom {
	m := map[string][]idiom{}
	for line := range strings.Lines(list) {
		line = strings.TrimRight(line, "\n")
		if line == "" || line[0] == '#' {
			continue
		}
		phrase, meaning, _ := strings.Cut(line, "\t")
		w := strings.Fields(phrase)
		m[w[0]] = append(m[w[0]], idiom{w, meaning})
	}
	return m
}

// readProverbs reads the same; the words of a proverb are cut as a text's are.
func readProverbs(list string) map[string][]idiom {
	m := map[string][]idiom{}
	for first, all := range readIdioms(list) {
		for _, x := range all {
			x.words = letters(strings.Join(x.words, " "))
			m[x.words[0]] = append(m[x.words[0]], x)
		}
		_ = first
	}
	return m
}

// letters are the words of a text without apostrophes and hyphens.
func letters(s string) []string {
	return strings.Fields(unmarked.Replace(fold(s)))
}

var unmarked = strings.NewReplacer("'", "", "-", " ")

// matchIdiom looks for an idiom that begins at token i.
func (f *finder) matchIdiom(i int) {
	try := func(all []idiom) {
		for _, x := range all {
			end, ok := f.match(x.words, i)
			if !ok {
				continue
			}
			meaning := x.meaning
			if meaning == "" {
				meaning = f.gloss(strings.Join(x.words, " "))
			}
			score := 0.7
			if len(x.words) > 3 {
				score = 0.85
			} else if len(x.words) < 3 {
				score = 0.6
			}
			f.add(Idiom, i, end, score, "It means: "+meaning+".")
		}
	}
	low, lemma := f.low(i), f.lemma(i)
	try(f.idioms[low])
	if lemma != low {
		try(f.idioms[lemma])
	}
	if f.d.Tokens[i].XPOS == "PRP$" {
		try(f.idioms["one's"])
	}
}

// gloss is what WordNet says of a phrase.
func (f *finder) gloss(phrase string) string {
	for _, pos := range lexicon.PartsOfSpeech() {
		if s := f.lex.Senses(phrase, pos); len(s) > 0 {
			return s[0].Gloss
		}
	}
	return "something else than its words"
}

// match reports whether the words of an idiom stand from token i on, and where
// they end.
func (f *finder) match(want []string, i int) (last int, ok bool) {
	k := i
	for n := 0; n < len(want); n++ {
		w := want[n]
		if k >= f.s.Last {
			return 0, false
		}
		t := &f.d.Tokens[k]
		switch w {
		case "one's", "someone's":
			switch {
			case t.XPOS == "PRP$":
				k++
			case (t.UPOS == "PROPN" || t.UPOS == "NOUN") && f.low(k+1) == "'s":
				k += 2
			case (f.low(k) == "the" || t.XPOS == "PRP$") && f.low(k+2) == "'s":
				k += 3
			default:
				return 0, false
			}
			continue
		case "oneself":
			if !strings.HasSuffix(f.low(k), "self") && !strings.HasSuffix(f.low(k), "selves") || t.UPOS != "PRON" {
				return 0, false
			}
			k++
			continue
		case "someone", "one":
			if w == "one" && f.low(k) == "one" {
				k++
				continue
			}
			switch {
			case t.UPOS == "PRON" || t.UPOS == "PROPN":
				k++
			case (t.UPOS == "DET" || t.XPOS == "PRP$") && k+1 < f.s.Last && f.d.Tokens[k+1].UPOS == "NOUN":
				k += 2
			default:
				return 0, false
			}
			continue
		case "not":
			if l := f.low(k); l == "not" || l == "n't" || l == "never" || l == "nor" {
				k++
				continue
			}
			return 0, false
		}
		// A word of the list may be several tokens: "frying-pan", "wits'".
		parts := 0
		got := ""
		for k+parts < f.s.Last && parts < 6 && len(got) < len(w) {
			if parts > 0 && f.d.Tokens[k+parts-1].End < f.d.Tokens[k+parts].Start {
				break
			}
			got += f.low(k + parts)
			parts++
		}
		switch {
		case got == w:
			k += parts
		case f.lemma(k) == w && (t.UPOS == "VERB" || t.UPOS == "AUX" || t.UPOS == "NOUN"):
			k++
		case n > 0 && n < 3 && between(f, k) && f.d.Tokens[k-1].UPOS == "VERB" && k+1 < f.s.Last && (f.low(k+1) == w):
			k += 2 // an adverb between: "lost quite heart"
		default:
			return 0, false
		}
	}
	return k - 1, true
}

func between(f *finder, k int) bool { return f.d.Tokens[k].UPOS == "ADV" }

// matchProverb looks for a proverb that begins at token i, whatever marks stand
// between its words.
func (f *finder) matchProverb(i int) {
	if !lang.IsWord(f.d.Tokens[i].Form) {
		return
	}
	for _, x := range f.proverbs[strings.ReplaceAll(f.low(i), "'", "")] {
		f.tryProverb(x, i)
	}
	if i+1 < f.s.Last && f.d.Tokens[i].End == f.d.Tokens[i+1].Start { // "don't", cut in two
		for _, x := range f.proverbs[strings.ReplaceAll(f.low(i)+f.low(i+1), "'", "")] {
			f.tryProverb(x, i)
		}
	}
}

func (f *finder) tryProverb(x idiom, i int) {
	k, last := i, i
	for n := 0; n < len(x.words); n++ {
		for k < f.s.Last && !lang.IsWord(f.d.Tokens[k].Form) {
			k++
		}
		got := ""
		for k < f.s.Last && len(got) < len(x.words[n]) {
			if got != "" && f.d.Tokens[k-1].End < f.d.Tokens[k].Start {
				break
			}
			w := strings.ReplaceAll(f.low(k), "'", "")
			if !lang.IsWord(f.d.Tokens[k].Form) && w != "" && w != "s" && w != "t" {
				break
			}
			got += w
			last = k
			k++
		}
		if got != x.words[n] {
			return
		}
	}
	f.add(Proverb, i, last, 0.95, x.meaning)
}
