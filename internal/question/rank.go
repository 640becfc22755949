package question

import (
	_ "embed"
	"fmt"
	"math"
	"strconv"
	"strings"

	"bookstead/internal/lexicon"
)

// rankText holds the weights of the ranking, a feature and its weight on a line;
// RANK.md beside it tells where they come from.
//
//go:embed rank.txt
var rankText string

// ranking weighs what a candidate is like. Its score is the chance, by a
// logistic model, that an expert would ask the same and answer so.
type ranking map[string]float64

func readRanking(text string) (ranking, error) {
	r := ranking{}
	for n, line := range strings.Split(strings.TrimSpace(text), "\n") {
		name, value, ok := strings.Cut(line, "\t")
		w, err := strconv.ParseFloat(value, 64)
		if !ok || err != nil {
			return nil, fmt.Errorf("reading the ranking, line %d: %q", n+1, line)
		}
		r[name] = w
	}
	return r, nil
}

func (r ranking) chance(features []string) float64 {
	x := r["bias"]
	for _, f := range features {
		x += r[f]
	}
	return 1 / (1 + math.Exp(-x))
}

func bucket(n int, bounds ...int) string {
	for i, b := range bounds {
		if n <= b {
			return strconv.Itoa(i)
		}
	}
	return strconv.Itoa(len(bounds))
}

// features tell what a candidate is like; where and of are its sentence and how
// many the passage has.
func (e *engine) features(x *candidate, where, of int) []string {
	ql := bucket(len(strings.Fields(x.q)), 5, 6, 7, 8, 9, 10, 12, 14, 17)
	al := bucket(len(strings.Fields(x.a)), 1, 2, 3, 4, 6, 8, 11, 15, 20)
	f := []string{
		"form=" + x.form, "kind=" + x.kind, "q=" + ql, "a=" + al, "q=" + ql + " " + x.kind, "a=" + al + " " + x.kind, "a=" + al + " " + x.form,
		"open=" + bucket(x.open, 0, 1, 2), "sure=" + bucket(int(10*x.sure), 3, 4, 5, 6, 7, 8),
		"where=" + bucket(4*where/max(1, of), 0, 1, 2), "of=" + bucket(of, 3, 5, 8, 12),
	}
	if where == 0 {
		f = append(f, "first")
	}
	c := x.c
	verb := e.lemma(c.root)
	f = append(f, "verb="+verb, "verbs="+e.lexname(verb, lexicon.Verb)+" "+x.kind)
	if c.negation >= 0 {
		f = append(f, "negated "+x.kind)
	}
	if c.passive {
		f = append(f, "passive "+x.kind)
	}
	if c.spoken >= 0 {
		f = append(f, "spoken "+x.kind)
		if x.form != "say" && x.form != "say-ask" {
			f = append(f, "spoken "+x.form)
		}
	}
	f = append(f, "rel="+c.rel+" "+x.kind)
	if c.subject >= 0 {
		t := e.d.Tokens[c.subject]
		f = append(f, "subject="+t.UPOS+" "+x.kind)
		if r := e.refs[c.subject]; r.entity >= 0 {
			n := e.entities[r.entity]
			f = append(f, "known="+bucket(n.count, 1, 2, 4, 8)+" "+x.kind)
			if n.member != nil {
				f = append(f, "cast")
			}
			if n.thing {
				f = append(f, "thing "+x.kind)
			}
		}
	}
	if strings.HasPrefix(x.form, "guess") {
		f = append(f, x.form+" "+verb, x.form+" "+e.lexname(verb, lexicon.Verb))
		st := e.d.Sentences[c.sentence]
		for i := st.First; i < st.Last; i++ {
			switch e.d.Tokens[i].UPOS {
			case "NOUN", "VERB", "ADJ", "ADV":
				f = append(f, x.form+" w="+e.lemma(i))
			}
		}
		if strings.HasPrefix(x.a, "s") && c.negation >= 0 {
			f = append(f, "guess negated")
		}
	}
	if r := x.from; r != nil {
		v := e.lemma(r.root)
		f = append(f, x.form+" from="+e.lexname(v, lexicon.Verb))
		if e.stative(r.root) {
			f = append(f, x.form+" from stative")
		}
		if len(r.aux) > 0 {
			f = append(f, x.form+" from aux="+e.lemma(r.aux[0]))
		}
		if r.negation >= 0 {
			f = append(f, x.form+" from negated")
		}
		if feelings[e.lower(r.root)] {
			f = append(f, x.form+" from feeling")
		}
		if e.refs[r.subject].entity == e.refs[c.subject].entity {
			f = append(f, x.form+" from same")
		}
		f = append(f, x.form+" far="+strconv.Itoa(r.sentence-c.sentence))
	}
	qw, aw := strings.Fields(strings.ToLower(x.q)), strings.Fields(strings.ToLower(x.a))
	if len(aw) > 0 {
		switch aw[0] {
		case "a", "an", "the", "his", "her", "their", "he", "she", "they", "it", "to", "in", "that":
			f = append(f, "begins="+aw[0]+" "+x.kind)
		}
	}
	for _, w := range qw {
		switch strings.Trim(w, "?,") {
		case "he", "she", "they", "it", "him", "her", "them", "his", "their", "its":
			f = append(f, "q has pronoun")
		case "after", "when", "because", "and", "who", "which", "that", "as":
			f = append(f, "q has "+w+" "+x.kind)
		}
	}
	content := 0
	for _, w := range aw {
		if !e.lex.Function(w) {
			content++
		}
	}
	f = append(f, "content="+bucket(content, 0, 1, 2, 3, 5, 8)+" "+x.kind)
	f = append(f, "opens="+strings.Join(qw[:min(2, len(qw))], " "))
	if strings.Contains(x.a, ",") {
		f = append(f, "a has comma "+x.kind)
	}
	return f
}
