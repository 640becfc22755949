package lemma

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"bookstead/internal/lang"
)

// kind is a word with one of its lemmas, under one tag.
type kind struct{ low, lemma string }

// Seen counts the forms of a corpus without lemmas, by tags as [Key] writes
// them and by form in small letters.
type Seen map[string]map[string]int

// Add counts tagged tokens.
func (s Seen) Add(tokens []lang.Token) {
	for i := range tokens {
		t := &tokens[i]
		switch t.XPOS {
		case "VB", "VBP", "VBD", "VBN", "VBG", "VBZ", "NN", "NNS":
		default:
			continue
		}
		k := key(t.UPOS, t.XPOS)
		if s[k] == nil {
			s[k] = map[string]int{}
		}
		s[k][lower(t.Form)]++
	}
}

// Train learns from gold docs and returns the text of model.txt. Forms seen in
// a corpus join in with the lemma that spelling allows and the corpus knows
// best ("hoping": hope, not hop). The same docs give the same text.
func Train(seen Seen, docs ...*lang.Doc) string {
	counts := map[string]map[kind]int{}
	cases := map[string]*[shapes][2]int{}
	for _, d := range docs {
		for i := range d.Tokens {
			t := &d.Tokens[i]
			if t.Lemma == "" || strings.Contains(t.Feats, "Typo=Yes") && open(t.UPOS) || t.XPOS == "GW" {
				continue
			}
			key := key(t.UPOS, t.XPOS)
			if counts[key] == nil {
				counts[key] = map[kind]int{}
				cases[key] = &[shapes][2]int{}
			}
			low := lower(t.Form)
			counts[key][kind{low, t.Lemma}]++
			// Do capitals live on in the lemma? Only what it shares counts.
			if n := shared(low, strings.ToLower(t.Lemma)); n > 0 && len(low) == len(t.Form) {
				switch {
				case t.Lemma[:n] == t.Form[:n] && t.Form[:n] != low[:n]:
					cases[key][shapeOf(t.Form)][0]++
				case t.Lemma[:n] == low[:n]:
					cases[key][shapeOf(t.Form)][1]++
				}
			}
		}
	}
	silver(seen, counts)
	var out strings.Builder
	for _, key := range slices.Sorted(maps.Keys(counts)) {
		t := &tag{rules: map[string]rule{"": {}}, words: map[string]string{}}
		for s, c := range cases[key] {
			t.keep[s] = c[0] > c[1]
		}
		learnRules(t, counts[key])
		learnWords(t, key, counts[key])
		write(&out, key, t)
	}
	return out.String()
}

// shared returns how many bytes two words have in common at their start.
func shared(a, b string) int {
	n := 0
	for n < len(a) && n < len(b) && a[n] == b[n] {
		n++
	}
	return n
}

func open(upos string) bool {
	switch upos {
	case "NOUN", "VERB", "ADJ", "ADV", "PROPN":
		return true
	}
	return false
}

// silver adds the forms that a corpus has and the gold docs have not.
func silver(seen Seen, counts map[string]map[kind]int) {
	known := map[string]map[string]bool{}
	for k, c := range counts {
		known[k] = map[string]bool{}
		for x := range c {
			known[k][x.low] = true
		}
	}
	verbs := map[string]int{}
	for _, k := range []string{"VERB/VB", "VERB/VBP"} {
		for w, n := range seen[k] {
			verbs[w] += n
		}
	}
	irr := &Model{tags: map[string]*tag{}}
	irr.addIrregular()
	for _, x := range []struct {
		key   string
		bases map[string]int
	}{{"VERB/VBD", verbs}, {"VERB/VBG", verbs}, {"VERB/VBZ", verbs}, {"NOUN/NNS", seen["NOUN/NN"]}} {
		for form, n := range seen[x.key] {
			if n < 2 || known[x.key][form] || irr.tags[x.key] != nil && irr.tags[x.key].words[form] != "" {
				continue
			}
			best, most := "", 2
			for _, c := range bases(form, x.key) {
				if x.bases[c] > most {
					best, most = c, x.bases[c]
				}
			}
			if best != "" {
				counts[x.key][kind{form, best}] = 2
			}
		}
	}
}

// bases lists what a regular form may come from by the rules of spelling.
func bases(form, key string) []string {
	end := map[string]string{"VERB/VBD": "ed", "VERB/VBG": "ing", "VERB/VBZ": "s", "NOUN/NNS": "s"}[key]
	stem, ok := strings.CutSuffix(form, end)
	if !ok || len(stem) < 2 {
		return nil
	}
	if end == "s" {
		out := []string{stem}
		if e, ok := strings.CutSuffix(stem, "e"); ok && len(e) > 1 {
			switch {
			case strings.HasSuffix(e, "i"):
				return []string{e[:len(e)-1] + "y", stem}
			case strings.HasSuffix(e, "s"), strings.HasSuffix(e, "x"), strings.HasSuffix(e, "z"), strings.HasSuffix(e, "ch"), strings.HasSuffix(e, "sh"), strings.HasSuffix(e, "o"):
				out = append(out, e)
			}
		}
		return out
	}
	n := len(stem)
	out := []string{stem + "e"}
	if !(n == 3 && vowel(stem[1]) && !vowel(stem[0]) && !vowel(stem[2]) && strings.IndexByte("wxy", stem[2]) < 0) {
		out = append(out, stem) // not "hop" from "hoping": that is "hopping"
	}
	if n > 2 && stem[n-1] == stem[n-2] && !vowel(stem[n-1]) {
		out = append(out, stem[:n-1])
	}
	if stem[n-1] == 'i' && end == "ed" {
		return []string{stem[:n-1] + "y"}
	}
	return out
}

func vowel(c byte) bool { return strings.IndexByte("aeiou", c) >= 0 }

// learnRules finds the endings whose words share a change that shorter endings
// do not foretell.
func learnRules(t *tag, counts map[kind]int) {
	byEnding := map[string]map[rule]int{}
	for k := range counts {
		low := strings.ToLower(k.lemma)
		n := shared(k.low, low)
		r := rule{len(k.low) - n, low[n:]}
		if r.cut > 5 || len(r.add) > 4 || n == 0 {
			continue
		}
		for e := 0; e <= min(longestEnding, len(k.low)); e++ {
			ending := k.low[len(k.low)-e:]
			if byEnding[ending] == nil {
				byEnding[ending] = map[rule]int{}
			}
			byEnding[ending][r]++
		}
	}
	endings := slices.SortedFunc(maps.Keys(byEnding), func(a, b string) int {
		return cmp.Or(len(a)-len(b), cmp.Compare(a, b))
	})
	for _, e := range endings {
		rs := byEnding[e]
		best, most := rule{}, -1
		for r, n := range rs {
			if n > most || n == most && (r.cut < best.cut || r.cut == best.cut && r.add < best.add) {
				best, most = r, n
			}
		}
		inherited := rule{}
		for n := len(e) - 1; n >= 0; n-- {
			if r, ok := t.rules[e[len(e)-n:]]; ok {
				inherited = r
				break
			}
		}
		if best != inherited && most >= rs[inherited]+2 || e == "" {
			t.rules[e] = best
		}
	}
}

// learnWords notes the words that the rules get wrong.
func learnWords(t *tag, key string, counts map[kind]int) {
	lemmas := map[string]map[string]int{}
	for k, n := range counts {
		if lemmas[k.low] == nil {
			lemmas[k.low] = map[string]int{}
		}
		lemmas[k.low][k.lemma] += n
	}
	m := &Model{tags: map[string]*tag{key: t}}
	m.addIrregular()
	handmade := maps.Clone(t.words)
	defer func() {
		for w, l := range handmade {
			if t.words[w] == l {
				delete(t.words, w)
			}
		}
	}()
	upos, xpos, _ := strings.Cut(key, "/")
	for low, ls := range lemmas {
		best, most, total := "", -1, 0
		for l, n := range ls {
			total += n
			if n > most || n == most && l < best {
				best, most = l, n
			}
		}
		usual := low
		if upos == "PROPN" && low != "" {
			usual = strings.ToUpper(low[:1]) + low[1:]
		}
		if m.Of(usual, upos, xpos) == best || low == best && t.keep[small] {
			continue
		}
		if total >= 2 && 3*most >= 2*total || total == 1 && oddOnce(xpos) {
			t.words[low] = best
		}
	}
}

// oddOnce are the tags under which a single odd word is likely a true one.
func oddOnce(xpos string) bool {
	switch xpos {
	case "VBD", "VBN", "VBZ", "VBG", "NNS", "JJR", "JJS", "RBR", "RBS":
		return true
	}
	return false
}

func write(out *strings.Builder, key string, t *tag) {
	for s, keep := range t.keep {
		if keep {
			fmt.Fprintf(out, "case\t%s\t%s\tkeep\n", key, shapeNames[s])
		}
	}
	for _, e := range slices.Sorted(maps.Keys(t.rules)) {
		fmt.Fprintf(out, "rule\t%s\t%s\t%d\t%s\n", key, e, t.rules[e].cut, t.rules[e].add)
	}
	for _, w := range slices.Sorted(maps.Keys(t.words)) {
		fmt.Fprintf(out, "word\t%s\t%s\t%s\n", key, w, t.words[w])
	}
}
