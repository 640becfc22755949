package main

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"bookstead/internal/lexicon/pack"
)

// guard tells which meanings and words do not belong on a child's page.
type guard struct {
	words    map[string]offence
	innocent map[string]bool // sense keys of mixed words
}

type offence struct {
	level    byte // 1 mixed, 2 dated, 3 never, as lexicon.Level
	reason   string
	unmarked bool // a mixed word whose senses are offensive only when so marked
}

// marks are the reasons why a meaning is offensive, by what its definition
// says. The place in the list is the code in the pack, counted from 1. Each cue
// is the start of a word or of some words; behind an arrow stands what must
// follow it, as a regular expression, when the start alone says too little; a bar
// at the end stands for the end of a word.
var marks = []struct {
	reason string
	cues   []cue
}{
	{"the dictionary marks this meaning as vulgar, insulting or a slur", cues(
		"obscene -> (term|word|for)", "obscenity -> (term|word|for)", "vulgar -> (slang|term|word|name)", "is vulgar|",
		"offensive -> (term|name|word|slang|language|british)", "(offensive", "(sometimes offensive", "considered offensive",
		"derogatory", "disparaging", "pejorative -> (term|today)", "used pejorative", "ethnic slur", "insulting -> (term|name|word)",
		"coarse -> (term|word|insulting)")},
	{"this meaning is about sex", cues(
		"sexual -> "+sexual, "sexually -> "+sexual, "have sex|", "had sex|", "having sex|",
		"anal sex", "to submit to sex", "homosexual", "lesbian", "coital", "coitus", "copulat", "orgasm", "masturbat", "prostitut", "brothel",
		"pornograph", "erotic", "promiscu", "incest", "fellat", "sodom", "lewd", "lecher", "lascivious", "adultery", "adulterer", "adulteress",
		"adulterous", "fornicat", "transvest", "striptease", "nymphomania", "seduce", "seducer")},
	{"this meaning is about private parts of the body", cues(
		"penis", "vagina", "vulva", "genital", "testic", "scrot", "pubic", "semen|", "containing spermatozoa", "male reproductive gland",
		"sex organ", "mammary", "milk-secreting", "part of the human body that you sit on", "the anus|", "for anus", "clitor", "foreskin",
		"contracepti")},
	{"this meaning is about the toilet", cues(
		"defecat", "urinat", "feces|", "bowel movement", "intestinal gas", "excrete -> (urine|feces)", "eliminate urine")},
	{"this meaning is about drugs", cues(
		"street name -> (for|of)", "street names -> (for|of)", "cocaine", "heroin|", "marijuana", "hashish", "illegal drug", "narcotic drug", "drug addict", "hallucinogen")},
}

const sexual = `(intercourse|activit|acts?\b|relation|desire|arous|attract|excit|gratif|pleasure|practice|partner|advance|favor|behavior|orient|love|passion|organ|appetite|exploit|abuse|assault|stimul|perver|promiscu|conduct|interest|urge|drive|fantas|morality|liber|virginity|nature|climax)`

// cue is one sign in a definition, in lower case.
type cue struct {
	start string
	then  *regexp.Regexp // nil when the start is enough
}

func cues(texts ...string) []cue {
	var out []cue
	for _, text := range texts {
		start, then, more := strings.Cut(text, " -> ")
		whole, bar := strings.CutSuffix(start, "|")
		c := cue{start: whole}
		switch {
		case more:
			c.then = regexp.MustCompile("^ ?" + then)
		case bar:
			c.then = regexp.MustCompile("^($|[^a-z])")
		}
		out = append(out, c)
	}
	return out
}

func (c cue) in(definition string) bool {
	for from := 0; ; {
		i := strings.Index(definition[from:], c.start)
		if i < 0 {
			return false
		}
		at := from + i
		from = at + len(c.start)
		before := byte(' ')
		if at > 0 {
			before = definition[at-1]
		}
		if 'a' <= before && before <= 'z' {
			continue // in the middle of a word
		}
		if c.then == nil || c.then.MatchString(definition[from:]) {
			return true
		}
	}
}

// usages are the synsets that WordNet's usage pointers name for such words.
var usages = []string{"obscenity", "ethnic slur", "disparagement"}

func (b *builder) offensive() error {
	raw, err := b.src.own("offensive.tsv")
	if err != nil {
		return err
	}
	g := &guard{words: map[string]offence{}, innocent: map[string]bool{}}
	levels := map[string]byte{"mixed": 1, "dated": 2, "never": 3}
	for line := range strings.Lines(string(raw)) {
		line = strings.TrimSuffix(line, "\n")
		if line == "" || line[0] == '#' {
			continue
		}
		f := strings.Split(line, "\t")
		level := levels[f[0]]
		if level == 0 || len(f) < 3 || (level == 1) != (len(f) == 4) {
			return fmt.Errorf("reading offensive.tsv: line %q", line)
		}
		o := offence{level: level, reason: f[1]}
		if len(f) == 4 {
			o.unmarked = f[3] == "*"
			for _, key := range strings.Fields(f[3]) {
				g.innocent[key] = true
			}
		}
		for _, w := range strings.Split(f[2], ", ") {
			if _, twice := g.words[w]; twice || w != strings.ToLower(strings.TrimSpace(w)) || w == "" {
				return fmt.Errorf("reading offensive.tsv: %q stands twice or is not in lower case", w)
			}
			g.words[w] = o
		}
	}
	delete(g.innocent, "*")
	delete(g.innocent, "-")
	b.guard = g
	var t pack.TableWriter
	for w, o := range g.words {
		t.Add(w, append([]byte{o.level}, o.reason...))
	}
	var reasons []string
	for _, m := range marks {
		reasons = append(reasons, m.reason)
	}
	if err := b.add("GUAR", []byte(strings.Join(reasons, "\n")), nil); err != nil {
		return err
	}
	data, err := t.Bytes()
	return b.add("OFFE", data, err)
}

// meaning returns the code of the mark that a synset bears, 0 for none.
func (g *guard) meaning(s *synset, db *wordnet) byte {
	definition, _ := splitGloss(strings.ToLower(s.gloss))
	for i, m := range marks {
		if slices.ContainsFunc(m.cues, func(c cue) bool { return c.in(definition) }) {
			return byte(i + 1)
		}
	}
	for _, p := range s.pointers {
		if p.symbol == ";u" {
			for _, u := range usages {
				if strings.EqualFold(db.synsets[p.target].words[0].form, u) {
					return 1
				}
			}
		}
	}
	return 0
}

// word reports whether a lemma must not be shown in the sense with this key.
func (g *guard) word(lemma, key string) bool {
	o := g.words[strings.ToLower(lemma)]
	return o.level >= 2 || o.level == 1 && !o.unmarked && !g.innocent[key]
}

// examples drops those example sentences of a gloss that hold a word which is
// never shown.
func (g *guard) examples(gloss string) string {
	definition, examples := splitGloss(gloss)
	out := definition
	for _, e := range examples {
		if !g.holdsNever(e) {
			out += `; "` + e + `"`
		}
	}
	return out
}

var wordRun = regexp.MustCompile(`[\pL'-]+`)

func (g *guard) holdsNever(text string) bool {
	for _, w := range wordRun.FindAllString(strings.ToLower(text), -1) {
		for _, end := range []string{"", "s", "es", "ed", "ing", "'s"} {
			if base, ok := strings.CutSuffix(w, end); ok && (g.words[base].level == 3 || len(end) > 1 && g.words[base+"e"].level == 3) {
				return true
			}
		}
		if o := g.words[w]; o.level == 2 && strings.Contains(o.reason, "swear") {
			return true
		}
	}
	return false
}

// splitGloss parts a gloss into its definition and its examples: the first
// quotation behind a semicolon, a colon or at the start begins the examples.
// Who said an example is left off.
func splitGloss(gloss string) (definition string, examples []string) {
	at := -1
	for i := 0; i < len(gloss); i++ {
		if gloss[i] == '"' && (i == 0 || strings.HasSuffix(gloss[:i], "; ") || strings.HasSuffix(gloss[:i], ": ")) {
			at = i
			break
		}
		if gloss[i] == '"' { // a quotation inside the definition: pass over it
			if end := strings.IndexByte(gloss[i+1:], '"'); end >= 0 {
				i += end + 1
			}
		}
	}
	if at < 0 {
		return strings.TrimRight(gloss, "; "), nil
	}
	definition = strings.TrimRight(gloss[:at], ";: ")
	for rest := gloss[at:]; ; {
		start := strings.IndexByte(rest, '"')
		if start < 0 {
			break
		}
		end := strings.IndexByte(rest[start+1:], '"')
		if end < 0 {
			break
		}
		if e := strings.TrimSpace(rest[start+1 : start+1+end]); e != "" {
			examples = append(examples, e)
		}
		rest = rest[start+end+2:]
	}
	return definition, examples
}
