// Package names finds the cast of a book: its people and animals and its places,
// each with all the names it goes by and where it is mentioned.
//
// [Caster] collects runs of proper nouns, tells people from places by what
// stands around them, joins the names of one person ("Mary", "Mary Lennox",
// "Miss Lennox"), and then resolves pronouns to the cast where only one person
// of the right gender is near (pronouns.go). What is not certain is left open
// or carries a low confidence. It needs tokens, sentences and tags.
package names

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"

	"bookstead/internal/lang"
)

// Caster is the annotator of LayerCast.
type Caster struct{}

// Needs says what must have been run.
func (Caster) Needs() lang.Layer { return lang.LayerTokens | lang.LayerSentences | lang.LayerTags }

// Gives says what is run.
func (Caster) Gives() lang.Layer { return lang.LayerCast }

// titles before a name, with the gender that they tell.
var titles = map[string]string{"mr": "male", "mr.": "male", "mrs": "female", "mrs.": "female", "miss": "female", "ms": "female", "ms.": "female", "dr": "", "dr.": "", "doctor": "",
	"sir": "male", "lady": "female", "lord": "male", "king": "male", "queen": "female", "prince": "male", "princess": "female", "duke": "male", "duchess": "female", "count": "male", "countess": "female",
	"captain": "", "colonel": "", "major": "", "general": "", "sergeant": "", "judge": "", "professor": "", "squire": "male", "parson": "male", "reverend": "male", "father": "male", "mother": "female", "brother": "male", "sister": "female",
	"aunt": "female", "auntie": "female", "uncle": "male", "cousin": "", "master": "male", "mistress": "female", "madam": "female", "madame": "female", "monsieur": "male", "old": "", "young": "", "little": "", "grandma": "female", "grandpa": "male", "granny": "female", "farmer": "", "widow": "female", "deacon": "male", "saint": "", "st.": "", "nurse": "female"}

// notNames are capitalised words that name nobody in a story.
var notNames = func() map[string]bool {
	m := map[string]bool{}
	for _, w := range strings.Fields("monday tuesday wednesday thursday friday saturday sunday january february march april may june july august september october november december christmas easter god lord heaven bible english french german latin greek american indian chapter part book i oh ah o yes no well why sir ma'am madam spring summer autumn winter north south east west") {
		m[w] = true
	}
	return m
}()

// name is a form that the text uses, with what was seen around it.
type name struct {
	form          string // without title
	words         []string
	title         string
	spans         []lang.Span
	the           int // times behind "the"
	place, person int // evidence
	he, she       int
}

// Annotate fills Doc.Cast.
func (Caster) Annotate(ctx context.Context, d *lang.Doc) error {
	all := collect(d)
	if ctx.Err() != nil {
		return ctx.Err()
	}
	d.Cast = build(d, all)
	if err := pronouns(ctx, d); err != nil {
		return err
	}
	d.Done(lang.LayerCast)
	return nil
}

// collect finds every run of proper nouns with its title.
func collect(d *lang.Doc) map[string]*name {
	lower := map[string]int{}
	for _, t := range d.Tokens {
		if t.UPOS != "PROPN" {
			lower[t.Form]++
		}
	}
	all := map[string]*name{}
	for si, s := range d.Sentences {
		if k := d.Paragraphs[s.Paragraph].Kind; k == "heading" || k == "caption" || k == "note" {
			continue
		}
		for i := s.First; i < s.Last; i++ {
			if !proper(d, i, s.First, lower) {
				continue
			}
			j := i + 1
			for j < s.Last && proper(d, j, s.First, lower) && d.Tokens[j-1].End+1 >= d.Tokens[j].Start {
				j++
			}
			record(d, all, si, i, j)
			i = j - 1
		}
	}
	return all
}

// proper reports whether token i is part of a name: tagged so, capitalised, and
// not a word that the text mostly writes small.
func proper(d *lang.Doc, i, first int, lower map[string]int) bool {
	t := d.Tokens[i]
	c := t.Form[0]
	if t.UPOS != "PROPN" || (c < 'A' || c > 'Z') && c < 0x80 || len(t.Form) < 2 {
		return false
	}
	l := strings.ToLower(t.Form)
	if notNames[l] {
		return false
	}
	if strings.ToUpper(t.Form) == t.Form && len(t.Form) > 4 {
		return false
	}
	return !(i == first && lower[l] > 3)
}

func record(d *lang.Doc, all map[string]*name, si, i, j int) {
	title, gender := "", ""
	a := i
	for a < j-1 {
		g, ok := titles[strings.ToLower(d.Tokens[a].Form)]
		if !ok {
			break
		}
		title, gender = d.Tokens[a].Form, g
		a++
	}
	if a == i && i > 0 && d.Tokens[i-1].Head >= -1 { // a title that was not tagged as a name
		if g, ok := titles[strings.ToLower(d.Tokens[i-1].Form)]; ok && isUpper(d.Tokens[i-1].Form) && i-1 >= d.Sentences[si].First {
			title, gender = d.Tokens[i-1].Form, g
			i--
		}
	}
	var words []string
	for k := a; k < j; k++ {
		words = append(words, d.Tokens[k].Form)
	}
	form := strings.Join(words, " ")
	key := form
	if title != "" && len(words) == 1 {
		key = title + " " + form
	}
	n := all[key]
	if n == nil {
		n = &name{form: form, words: words, title: title}
		all[key] = n
	}
	n.spans = append(n.spans, lang.Span{Start: d.Tokens[i].Start, End: d.Tokens[j-1].End})
	switch gender {
	case "male":
		n.he += 3
	case "female":
		n.she += 3
	}
	if title != "" {
		n.person += 2
	}
	n.around(d, si, i, j)
}

func isUpper(s string) bool { return s != "" && s[0] >= 'A' && s[0] <= 'Z' }

// around gathers evidence: prepositions of place before, verbs of people and a
// possessive behind, the next pronoun.
func (n *name) around(d *lang.Doc, si, i, j int) {
	s := d.Sentences[si]
	if i > s.First {
		switch w := strings.ToLower(d.Tokens[i-1].Form); w {
		case "in", "at", "from", "near", "through", "across", "toward", "towards", "into":
			n.place++
		case "the":
			n.the++
			if i-1 > s.First {
				switch strings.ToLower(d.Tokens[i-2].Form) {
				case "in", "at", "from", "near", "through", "across":
					n.place++
				}
			}
		case "said", "asked", "cried", "answered", "replied", "exclaimed", "whispered", "and", "with":
			n.person++
		}
	}
	if j < s.Last {
		t := d.Tokens[j]
		switch {
		case t.UPOS == "VERB" && t.XPOS == "VBD", t.Form == "’s" || t.Form == "'s":
			n.person++
		case t.UPOS == "AUX":
			n.person++
		}
	}
	for k := j; k < min(len(d.Tokens), j+12); k++ {
		switch strings.ToLower(d.Tokens[k].Form) {
		case "he", "his", "him", "himself":
			n.he++
			return
		case "she", "her", "hers", "herself":
			n.she++
			return
		}
		if d.Tokens[k].UPOS == "PROPN" {
			return
		}
	}
}

// build joins the names of one person and orders the cast by first appearance.
func build(d *lang.Doc, all map[string]*name) []lang.Member {
	keys := make([]string, 0, len(all))
	for k := range all {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, func(a, b string) int {
		return cmp.Or(len(all[b].words)-len(all[a].words), len(all[b].spans)-len(all[a].spans), strings.Compare(a, b))
	})
	var groups [][]*name
	for _, k := range keys {
		n := all[k]
		if len(n.spans) < 2 && n.person == 0 && n.title == "" {
			continue
		}
		best, bestN := -1, 0
		for g, grp := range groups {
			if c := fits(grp, n); c > bestN {
				best, bestN = g, c
			}
		}
		if best >= 0 {
			groups[best] = append(groups[best], n)
		} else {
			groups = append(groups, []*name{n})
		}
	}
	var cast []lang.Member
	for _, g := range groups {
		if m, ok := member(g); ok {
			cast = append(cast, m)
		}
	}
	slices.SortStableFunc(cast, func(a, b lang.Member) int { return a.Mentions[0].Start - b.Mentions[0].Start })
	for i := range cast {
		cast[i].ID = fmt.Sprintf("c%d", i+1)
	}
	return cast
}

// fits scores how well a shorter name belongs to a group of names: its words
// are the first or the last of a full name, and the genders do not contradict.
func fits(group []*name, n *name) int {
	he, she, size := 0, 0, 0
	match := false
	for _, m := range group {
		he, she, size = he+m.he, she+m.she, size+len(m.spans)
		if len(m.words) > len(n.words) || m.form == n.form {
			tail := slices.Equal(m.words[len(m.words)-len(n.words):], n.words)
			head := slices.Equal(m.words[:len(n.words)], n.words)
			switch {
			case m.form == n.form && (m.title == n.title || m.title == "" || n.title == ""):
				match = true
			case head && n.title == "", tail && len(m.words) > len(n.words) && (n.title != "" || len(m.spans) > 2):
				match = true
			}
		}
	}
	if !match || he > 2*she+2 && n.she > 2*n.he+2 || she > 2*he+2 && n.he > 2*n.she+2 {
		return 0
	}
	return size
}

func member(group []*name) (lang.Member, bool) {
	var m lang.Member
	place, person, he, she, the, total := 0, 0, 0, 0, 0, 0
	forms := map[string]int{}
	for _, n := range group {
		place, person, he, she, the, total = place+n.place, person+n.person, he+n.he, she+n.she, the+n.the, total+len(n.spans)
		full := n.form
		if n.title != "" {
			full = n.title + " " + n.form
			m.Title = n.title
		}
		forms[full] += len(n.spans)
		for _, s := range n.spans {
			m.Mentions = append(m.Mentions, lang.Mention{Start: s.Start, End: s.End, Form: "name", Confidence: 0.95})
		}
	}
	if total < 2 {
		return m, false
	}
	for f := range forms {
		m.Aliases = append(m.Aliases, f)
	}
	slices.SortFunc(m.Aliases, func(a, b string) int { return cmp.Or(forms[b]-forms[a], strings.Compare(a, b)) })
	m.Name = m.Aliases[0]
	if 10*the > 6*total {
		m.Name = "the " + m.Name
	}
	slices.SortFunc(m.Mentions, func(a, b lang.Mention) int { return a.Start - b.Start })
	m.Kind = lang.Person
	if place > person && place*3 >= total && m.Title == "" {
		m.Kind = lang.Place
	} else {
		switch {
		case he > 2*she && he >= 2:
			m.Gender = "male"
		case she > 2*he && she >= 2:
			m.Gender = "female"
		}
	}
	return m, true
}
