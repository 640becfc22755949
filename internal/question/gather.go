package question

import (
	"strings"

	"bookstead/internal/lang/inflect"
)

// gathered asks what must be put together from several places of the passage:
// what somebody found or ate in all, and how somebody's feeling changed. It takes
// the sound candidates that ask for a single one of these.
func (e *engine) gathered(all []candidate) []candidate {
	return append(e.collected(all), e.changed(all)...)
}

var collecting = set("see find eat drink buy meet carry bring wear catch steal receive build plant visit cook")

// collected joins the things that one person did one thing to, in sentences that
// stand apart.
func (e *engine) collected(all []candidate) []candidate {
	type key struct {
		entity int
		verb   string
	}
	by := map[key][]candidate{}
	var order []key
	for _, x := range all {
		if !strings.HasPrefix(x.form, "obj-W") || x.c.spoken >= 0 || x.c.negation >= 0 || len(x.c.aux) > 0 || !collecting[e.lemma(x.c.root)] || len(strings.Fields(x.a)) > 7 || !e.sound(&x) {
			continue
		}
		r := e.refs[x.c.subject]
		if r.entity < 0 {
			continue
		}
		k := key{r.entity, e.lemma(x.c.root)}
		if by[k] == nil {
			order = append(order, k)
		}
		if strings.HasPrefix(x.form, "obj-Who") != (len(by[k]) == 0 && strings.HasPrefix(x.form, "obj-Who") || len(by[k]) > 0 && strings.HasPrefix(by[k][0].form, "obj-Who")) {
			continue // things and people apart
		}
		new := true
		for _, y := range by[k] {
			new = new && y.c.sentence != x.c.sentence && !strings.EqualFold(y.a, x.a) && e.lemma(y.c.object) != e.lemma(x.c.object)
		}
		if new {
			by[k] = append(by[k], x)
		}
	}
	var out []candidate
	for _, k := range order {
		xs := by[k]
		if len(xs) < 2 || len(xs) > 4 || e.name(k.entity) == "" {
			continue
		}
		who := e.name(k.entity)
		word := "things"
		if strings.HasPrefix(xs[0].form, "obj-Who") {
			word = "people or animals"
		}
		var things []string
		for _, x := range xs {
			things = append(things, x.a)
		}
		n := []string{"", "", "two", "three", "four"}[len(xs)]
		answer := strings.Join(things[:len(things)-1], ", ") + " and " + things[len(things)-1]
		x := xs[0]
		x.form, x.kind = "gathered", askAction
		x.q = "Which " + n + " " + word + " did " + who + " " + k.verb + " in this part of the book?"
		x.a, x.full = answer, sentence(who+" "+inflect.Verb(k.verb, inflect.Past)+" "+answer)
		x.last = xs[len(xs)-1].last
		out = append(out, x)
	}
	return out
}

// changed asks how somebody's feeling changed from one half of the passage to
// the other.
func (e *engine) changed(all []candidate) []candidate {
	var out []candidate
	seen := map[int]bool{}
	for i, x := range all {
		if x.kind != askFeeling || !strings.HasPrefix(x.form, "feel-") || strings.HasPrefix(x.form, "feel-implied") || x.c.spoken >= 0 || !e.steady(&x) {
			continue
		}
		who := e.refs[x.c.subject].entity
		if who < 0 || seen[who] || e.name(who) == "" || !strings.HasPrefix(x.full, upperFirst(e.name(who))) {
			continue
		}
		for j := len(all) - 1; j > i; j-- {
			y := all[j]
			if y.kind != askFeeling || strings.HasPrefix(y.form, "feel-implied") || e.refs[y.c.subject].entity != who || y.c.spoken >= 0 || y.c.sentence < x.c.sentence+12 || !e.steady(&y) || valence(x.a) == 0 || valence(x.a) != -valence(y.a) || !strings.HasPrefix(y.full, upperFirst(e.name(who))) {
				continue
			}
			seen[who] = true
			z := x
			z.form = "changed"
			z.q = "How did the feelings of " + e.name(who) + " change in this part of the book?"
			z.a = "first " + x.a + ", later " + y.a
			z.full = "At first " + strings.TrimSuffix(x.full, ".") + ". Later, " + sentence(lowerName(e, who, y.full))
			z.last = y.last
			out = append(out, z)
			break
		}
	}
	return out
}

var (
	glad  = set("happy glad delighted pleased cheerful joyful joy proud merry contented content comfortable thankful grateful relieved hopeful excited satisfied jolly calm overjoyed interested")
	sorry = set("sad unhappy angry afraid frightened scared lonely lonesome miserable wretched cross sorry anxious worried ashamed disappointed jealous tired weary gloomy terrified uncomfortable uneasy upset vexed furious troubled discouraged dismayed alarmed nervous frantic heartbroken")
)

// valence is 1 for a glad feeling, -1 for a bad one, 0 when it is neither.
func valence(s string) int {
	for _, w := range rougeWords(s) {
		switch {
		case glad[w]:
			return 1
		case sorry[w]:
			return -1
		}
	}
	return 0
}

// lowerName makes the first letter of a sentence small when it is not that of a
// name.
func lowerName(e *engine, x int, s string) string {
	if n := e.name(x); strings.HasPrefix(s, upperFirst(n)) && upperFirst(n) != n {
		return lowerFirst(s)
	}
	return s
}

// steady is sound but for being too plain to be asked alone.
func (e *engine) steady(x *candidate) bool {
	f := e.flaw(x)
	if len(strings.Fields(x.full)) > 16 || len(x.c.aux) > 0 && e.lemma(x.c.aux[0]) == "have" {
		return false
	}
	return f == "" || f == "trivial" && x.kind == askFeeling
}
