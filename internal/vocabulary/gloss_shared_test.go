//go:build bench

package vocabulary

import (
	"compress/gzip"
	"context"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"bookstead/internal/lang"
	"bookstead/internal/lang/english"
	"bookstead/internal/lexicon"
	"bookstead/internal/sense"
)

// slot is a word in its sentence with the substitutes that people gave.
type slot struct {
	lemma string // "" when the data does not tell
	pos   lexicon.POS
	words []string // tokens, or
	text  string   // running text
	at    int      // token, or character of the text
	gold  map[string]float64
	given []string // to be ranked
}

func sharedFile(t *testing.T, name string) string {
	t.Helper()
	dir := "../../../shared"
	if d := os.Getenv("BOOKSTEAD_SHARED"); d != "" {
		dir = d
	}
	f, err := os.Open(filepath.Join(dir, "bench/substitution", name))
	if err != nil {
		t.Fatalf("the data is missing: %v", err)
	}
	defer f.Close()
	var r io.Reader = f
	if strings.HasSuffix(name, ".gz") {
		if r, err = gzip.NewReader(f); err != nil {
			t.Fatal(err)
		}
	}
	raw, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	return string(raw)
}

var dataPOS = map[string]lexicon.POS{"N": lexicon.Noun, "V": lexicon.Verb, "J": lexicon.Adjective, "R": lexicon.Adverb,
	"NOUN": lexicon.Noun, "VERB": lexicon.Verb, "ADJ": lexicon.Adjective, "ADV": lexicon.Adverb}

// coinco reads every eighth of the odd targets of CoInCo's development part; some
// of the even ones helped to fit the weights.
func coinco(t *testing.T) []slot {
	gold, pool := map[string]map[string]float64{}, map[string][]string{}
	for _, line := range strings.Split(sharedFile(t, "coinco_dev.no_problematic.gold.gz"), "\n") {
		key, list, ok := strings.Cut(line, " :: ")
		if !ok {
			continue
		}
		lemma := strings.Fields(key)[0]
		m := map[string]float64{}
		for _, x := range strings.Split(list, ";") {
			x = strings.TrimSpace(x)
			at := strings.LastIndexByte(x, ' ')
			if at < 0 {
				continue
			}
			m[x[:at]], _ = strconv.ParseFloat(x[at+1:], 64)
			if !strings.Contains(x[:at], " ") && !slices.Contains(pool[lemma], x[:at]) {
				pool[lemma] = append(pool[lemma], x[:at])
			}
		}
		gold[key] = m
	}
	var out []slot
	for _, line := range strings.Split(sharedFile(t, "coinco_dev.no_problematic.preprocessed.gz"), "\n") {
		c := strings.Split(line, "\t")
		if len(c) < 4 {
			continue
		}
		if id, _ := strconv.Atoi(c[1]); id%16 != 1 {
			continue
		}
		at, _ := strconv.Atoi(c[2])
		dot := strings.LastIndexByte(c[0], '.')
		out = append(out, slot{lemma: c[0][:dot], pos: dataPOS[c[0][dot+1:]], words: strings.Fields(c[3]), at: at, gold: gold[c[0]+" "+c[1]], given: pool[c[0]]})
	}
	return out
}

func swords(t *testing.T) []slot {
	var s struct {
		Contexts map[string]struct{ Context string }
		Targets  map[string]struct {
			ContextID string `json:"context_id"`
			Offset    int
			POS       string
		}
		Substitutes map[string]struct {
			TargetID   string `json:"target_id"`
			Substitute string
		}
		Labels map[string][]string `json:"substitute_labels"`
	}
	if err := json.Unmarshal([]byte(sharedFile(t, "swords-v1.1_dev.json.gz")), &s); err != nil {
		t.Fatal(err)
	}
	by := map[string]*slot{}
	var ids []string
	for id, x := range s.Targets {
		by[id] = &slot{pos: dataPOS[x.POS], text: s.Contexts[x.ContextID].Context, at: x.Offset, gold: map[string]float64{}}
		ids = append(ids, id)
	}
	for id, x := range s.Substitutes {
		yes := 0.0
		for _, l := range s.Labels[id] {
			if strings.HasPrefix(l, "TRUE") {
				yes++
			}
		}
		it := by[x.TargetID]
		it.gold[x.Substitute] = yes / float64(len(s.Labels[id]))
		it.given = append(it.given, x.Substitute)
	}
	slices.Sort(ids)
	var out []slot
	for _, id := range ids {
		slices.Sort(by[id].given)
		out = append(out, *by[id])
	}
	return out
}

func lexMTurk(t *testing.T) []slot {
	var out []slot
	for n, line := range strings.Split(strings.ToValidUTF8(sharedFile(t, "lex.mturk.txt"), "?"), "\n") {
		c := strings.Split(strings.TrimRight(line, "\r"), "\t")
		if n == 0 || len(c) < 3 {
			continue
		}
		it := slot{words: strings.Fields(strings.Trim(strings.ReplaceAll(c[0], `""`, `"`), `"`)), gold: map[string]float64{}}
		it.at = slices.IndexFunc(it.words, func(w string) bool { return strings.EqualFold(w, c[1]) })
		if it.at < 0 {
			t.Fatalf("no %q in %q", c[1], c[0])
		}
		for _, w := range c[2:] {
			if w = strings.ToLower(strings.TrimSpace(w)); w != "" {
				it.gold[w]++
			}
		}
		out = append(out, it)
	}
	return out
}

// place analyses the sentence and finds the unit.
func (it slot) place(t *testing.T, lex *lexicon.Lexicon) (*lang.Doc, sense.Unit) {
	t.Helper()
	d, at := &lang.Doc{}, it.at
	if it.text != "" {
		var err error
		if d, err = english.Cut(context.Background(), it.text, nil, english.Options{Workers: 1}); err != nil {
			t.Fatal(err)
		}
		at = d.TokenAt(len(string([]rune(it.text)[:it.at])))
	} else {
		for _, w := range it.words {
			d.Tokens = append(d.Tokens, lang.Token{Start: len(d.Text), End: len(d.Text) + len(w), Form: w})
			d.Text += w + " "
		}
		d.Paragraphs = []lang.Paragraph{{Start: 0, End: len(d.Text)}}
		d.Sentences = []lang.Sentence{{First: 0, Last: len(it.words)}}
		d.Done(lang.LayerTokens | lang.LayerSentences)
	}
	if err := english.Understand(context.Background(), d, english.Options{}); err != nil {
		t.Fatal(err)
	}
	u := sense.Unit{First: at, Last: at + 1, Head: at, Lemma: it.lemma, POS: it.pos}
	if u.POS == 0 {
		if pos, ok := sense.POSOf(d.Tokens[at].UPOS); ok {
			u.POS = pos
		} else {
			u.POS = lexicon.Noun
		}
	}
	if u.Lemma == "" {
		u.Lemma = strings.ToLower(d.Tokens[at].Lemma)
	}
	if l := lex.Lemmas(d.Tokens[at].Form, u.POS); len(l) > 0 && !lex.HasLemma(u.Lemma, u.POS) {
		u.Lemma = l[0]
	}
	return d, u
}

// floor is what WordNet alone gives: the most frequent synonym of the first sense
// that has one.
func floor(lex *lexicon.Lexicon, u sense.Unit) string {
	for _, s := range lex.Senses(u.Lemma, u.POS) {
		best, most := "", -1.0
		for _, y := range s.Synonyms {
			if z, _ := lex.Zipf(y.Lemma); z > most {
				best, most = y.Lemma, z
			}
		}
		if best != "" {
			return best
		}
	}
	return ""
}

// gap is generalized average precision (Kishida 2005), gold in the order of a ranking.
func gap(gold []float64) (float64, bool) {
	sum := func(g []float64) float64 {
		total, run := 0.0, 0.0
		for i, x := range g {
			run += x
			if x > 0 {
				total += run / float64(i+1)
			}
		}
		return total
	}
	best := slices.Clone(gold)
	slices.Sort(best)
	slices.Reverse(best)
	if most := sum(best); most > 0 {
		return sum(gold) / most, true
	}
	return 0, false
}

// TestGateSubstitutes compares the first choice and the ranking with what people
// gave, and with the floor.
func TestGateSubstitutes(t *testing.T) {
	lex, err := lexicon.Open()
	if err != nil {
		t.Fatal(err)
	}
	for _, set := range []struct {
		name  string
		items []slot
		good  float64 // a substitute of more than this is right
		least float64 // share of right first choices
	}{
		{"SWORDS, half of the people", swords(t), 0.49, 0},
		{"CoInCo", coinco(t), 0, 0},
		{"LexMTurk", lexMTurk(t), 0, 0.50},
	} {
		right, base, gaps, ranked := 0.0, 0.0, 0.0, 0.0
		for _, it := range set.items {
			d, u := it.place(t, lex)
			g := NewGlosser(lex, d)
			ok := func(s Substitute) bool { return max(it.gold[s.Form], it.gold[s.Lemma]) > set.good }
			if f := floor(lex, u); ok(Substitute{Lemma: f, Form: likeIn(f, d.Tokens[u.Head].XPOS, u.POS)}) {
				base++
			}
			if subs := g.Substitutes(u); len(subs) > 0 && ok(subs[0]) {
				right++
			}
			var order []float64
			for _, s := range g.substitutes(u, g.judge.Rank(u), it.given) {
				if slices.Contains(it.given, s.Lemma) && !strings.Contains(s.Lemma, " ") {
					order = append(order, it.gold[s.Lemma])
				}
			}
			if x, ok := gap(order); ok {
				gaps, ranked = gaps+x, ranked+1
			}
		}
		n := float64(len(set.items))
		t.Logf("%s: first choice %.3f (floor %.3f) of %d; GAP %.3f over %d", set.name, right/n, base/n, len(set.items), gaps/max(1, ranked), int(ranked))
		if right <= 1.15*base {
			t.Errorf("%s: first choice %.3f does not better the floor %.3f clearly", set.name, right/n, base/n)
		}
		if right/n < set.least {
			t.Errorf("%s: first choice %.3f is less than %.2f", set.name, right/n, set.least)
		}
	}
}
