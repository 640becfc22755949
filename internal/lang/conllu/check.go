package conllu

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// Problem is one breach of the format.
type Problem struct {
	Line    int // in the file, 0 when the sentences were not read from one
	Level   int // 1 or 2, as in the UD validation
	Message string
}

// String writes the problem as a line.
func (p Problem) String() string {
	return fmt.Sprintf("line %d: level %d: %s", p.Line, p.Level, p.Message)
}

// upos are the universal parts of speech
// (https://universaldependencies.org/u/pos/).
var upos = strings.Fields("ADJ ADP ADV AUX CCONJ DET INTJ NOUN NUM PART PRON PROPN PUNCT SCONJ SYM VERB X")

var (
	// https://universaldependencies.org/format.html#morphological-annotation
	featName   = regexp.MustCompile(`^[A-Z][A-Za-z0-9]*(\[[a-z0-9]+\])?$`)
	featValue  = regexp.MustCompile(`^[A-Z0-9][A-Za-z0-9]*$`)
	deprelForm = regexp.MustCompile(`^[a-z]+(:[a-z]+)?$`)
	depsForm   = regexp.MustCompile(`^[a-z]+(:[\p{Ll}\p{Lm}\p{Lo}\p{M}_]+)*$`)
)

// Check holds sentences to the rules of the format: numbering, ranges, empty
// fields, sent_id and text (level 1 and 2 of
// https://universaldependencies.org/validation-rules.html), tag and feature
// shapes, and a tree with one root. Columns that hold "_" throughout, because
// no annotator filled them, are not missed.
func Check(ss []Sentence) []Problem {
	c := checker{ids: map[string]bool{}}
	for i := range ss {
		c.s = &ss[i]
		c.comments()
		c.numbers()
		c.fields()
		c.tree()
		c.text()
	}
	return c.out
}

type checker struct {
	s   *Sentence
	ids map[string]bool
	out []Problem
}

// say notes a problem of row i, or of the comments when i is -1.
func (c *checker) say(i, level int, format string, args ...any) {
	line := c.s.Line
	if line > 0 && i >= 0 {
		line += len(c.s.Comments) + i
	}
	c.out = append(c.out, Problem{line, level, fmt.Sprintf(format, args...)})
}

func (c *checker) comments() {
	id, ok := c.s.Comment("sent_id")
	switch {
	case !ok || id == "":
		c.say(-1, 2, "no sent_id")
	case c.ids[id]:
		c.say(-1, 2, "sent_id %q stands twice", id)
	case strings.ContainsAny(id, " \t"):
		c.say(-1, 2, "sent_id %q holds a blank", id)
	}
	c.ids[id] = true
}

func (c *checker) numbers() {
	last, open, sub := 0, 0, 0
	for i := range c.s.Rows {
		id := c.s.Rows[i].ID
		switch {
		case id.To > 0:
			if id.N != last+1 || id.N <= open {
				c.say(i, 1, "range %s does not start at the next word", id)
			}
			open = id.To
		case id.Sub > 0:
			if id.N != last || id.Sub != sub+1 {
				c.say(i, 1, "empty node %s is out of order", id)
			}
			sub = id.Sub
		default:
			if id.N != last+1 {
				c.say(i, 1, "word %s where %d was due", id, last+1)
			}
			last, sub = id.N, 0
		}
	}
	if last == 0 {
		c.say(-1, 1, "no words")
	}
	if open > last {
		c.say(len(c.s.Rows)-1, 1, "a range ends at %d, behind the last word", open)
	}
}

func (c *checker) fields() {
	for i := range c.s.Rows {
		r := &c.s.Rows[i]
		for k, f := range [...]string{r.Form, r.Lemma, r.UPOS, r.XPOS, r.Feats, r.Head, r.Deprel, r.Deps, r.MiscField} {
			switch {
			case f == "":
				c.say(i, 1, "column %d is empty", k+2)
			case strings.TrimSpace(f) != f || strings.Contains(f, "  "):
				c.say(i, 1, "column %d has stray blanks", k+2)
			case strings.Contains(f, " ") && k != 0 && k != 1 && k != 8:
				c.say(i, 1, "column %d holds a blank", k+2)
			}
		}
		if r.ID.To > 0 {
			typo := r.Feats == "Typo=Yes"
			if r.Lemma != "_" || r.UPOS != "_" || r.XPOS != "_" || r.Feats != "_" && !typo || r.Head != "_" || r.Deprel != "_" || r.Deps != "_" {
				c.say(i, 2, "a range may hold nothing but its form and MISC")
			}
			continue
		}
		if r.UPOS != "_" && !slices.Contains(upos, r.UPOS) {
			c.say(i, 2, "no such part of speech: %s", r.UPOS)
		}
		c.feats(i, r.Feats)
		if r.ID.Word() && r.Deprel != "_" && !deprelForm.MatchString(r.Deprel) {
			c.say(i, 2, "relation %q is not in its form", r.Deprel)
		}
		c.deps(i, r)
		c.misc(i, r.MiscField)
	}
}

func (c *checker) feats(i int, feats string) {
	if feats == "_" {
		return
	}
	before := ""
	for f := range strings.SplitSeq(feats, "|") {
		name, values, ok := strings.Cut(f, "=")
		if !ok || !featName.MatchString(name) {
			c.say(i, 2, "feature %q is not in its form", f)
			continue
		}
		if low := strings.ToLower(name); low <= before {
			c.say(i, 2, "feature %s is out of order or stands twice", name)
		} else {
			before = low
		}
		vs := strings.Split(values, ",")
		if !slices.IsSorted(vs) {
			c.say(i, 2, "values of %s are out of order", name)
		}
		for _, v := range vs {
			if !featValue.MatchString(v) {
				c.say(i, 2, "value %q of %s is not in its form", v, name)
			}
		}
	}
}

func (c *checker) deps(i int, r *Row) {
	if r.Deps == "_" {
		return
	}
	for d := range strings.SplitSeq(r.Deps, "|") {
		head, rel, ok := strings.Cut(d, ":")
		if _, err := parseID(head); head != "0" && err != nil || !ok || !depsForm.MatchString(rel) {
			c.say(i, 2, "enhanced dependency %q is not in its form", d)
		}
	}
}

func (c *checker) misc(i int, misc string) {
	if strings.HasPrefix(misc, "|") || strings.HasSuffix(misc, "|") || strings.Contains(misc, "||") {
		c.say(i, 1, "MISC has an empty part")
	}
	seen := 0
	for kv := range strings.SplitSeq(misc, "|") {
		if v, ok := strings.CutPrefix(kv, "SpaceAfter="); ok {
			seen++
			if v != "No" {
				c.say(i, 2, "SpaceAfter may only be No")
			}
		}
	}
	if seen > 1 {
		c.say(i, 2, "SpaceAfter stands twice")
	}
}

func (c *checker) tree() {
	var heads []int // by word, -1 unset
	var rows []int
	set := 0
	for i := range c.s.Rows {
		r := &c.s.Rows[i]
		if !r.ID.Word() {
			continue
		}
		h, err := strconv.Atoi(r.Head)
		if r.Head == "_" {
			h = -1
		} else if set++; err != nil || h < 0 {
			c.say(i, 2, "head %q is no word number", r.Head)
			h = -1
		}
		if h >= 0 && (h == 0) != (r.Deprel == "root") {
			c.say(i, 2, "head 0 and relation root go together")
		}
		heads, rows = append(heads, h), append(rows, i)
	}
	if set == 0 {
		return
	}
	roots := 0
	for w, h := range heads {
		switch {
		case h == 0:
			roots++
		case h < 0:
			c.say(rows[w], 2, "a word without a head in a sentence with a tree")
		case h > len(heads):
			c.say(rows[w], 2, "head %d lies outside the sentence", h)
			return
		case h == w+1:
			c.say(rows[w], 2, "a word is its own head")
		}
	}
	if roots != 1 {
		c.say(-1, 2, "%d roots", roots)
	}
	for w := range heads {
		steps := 0
		for at := w + 1; at > 0 && heads[at-1] >= 0; at = heads[at-1] {
			if steps++; steps > len(heads) {
				c.say(rows[w], 2, "the tree runs in a circle")
				return
			}
		}
	}
}

func (c *checker) text() {
	want, ok := c.s.Comment("text")
	if !ok {
		c.say(-1, 2, "no text")
		return
	}
	var b strings.Builder
	skip := 0
	for i := range c.s.Rows {
		r := &c.s.Rows[i]
		switch {
		case r.ID.Sub > 0:
			continue
		case r.ID.To > 0:
			skip = r.ID.To
		case r.ID.N <= skip:
			if _, ok := r.Misc("SpaceAfter"); ok {
				c.say(i, 2, "SpaceAfter inside a multiword token")
			}
			continue
		}
		b.WriteString(r.Form)
		b.WriteString(oneLine(spaceAfter(r)))
	}
	if got := strings.TrimRight(b.String(), " "); got != strings.TrimRight(want, " ") {
		c.say(-1, 2, "the words do not give back the text: %q, %q", got, want)
	}
}
