package names

import (
	"context"
	"slices"
	"strings"

	"bookstead/internal/lang"
)

// genders of the third-person pronouns.
var genders = map[string]string{"he": "male", "him": "male", "his": "male", "himself": "male", "she": "female", "her": "female", "hers": "female", "herself": "female"}

// reach is how many sentences back a pronoun may point.
const reach = 3

// pronouns resolves third-person pronouns of the telling (not of speech) to the
// latest person of their gender named in the last sentences. Where two people
// of that gender are near, the one named as the subject wins with less
// confidence; where none is, the pronoun stays open.
func pronouns(ctx context.Context, d *lang.Doc) error {
	type seen struct{ member, sentence, token int }
	var recent []seen
	starts := map[int]int{} // token -> member
	for c := range d.Cast {
		if d.Cast[c].Kind == lang.Place {
			continue
		}
		for _, m := range d.Cast[c].Mentions {
			starts[d.TokenAt(m.Start)] = c
		}
	}
	added := make([][]lang.Mention, len(d.Cast))
	inside := speech(d)
	for si, s := range d.Sentences {
		if si%1024 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		recent = slices.DeleteFunc(recent, func(x seen) bool { return x.sentence < si-reach })
		for i := s.First; i < s.Last; i++ {
			if c, ok := starts[i]; ok {
				recent = append(recent, seen{c, si, i})
				continue
			}
			g := genders[strings.ToLower(d.Tokens[i].Form)]
			if g == "" || inside[i] {
				continue
			}
			best, others := -1, map[int]bool{}
			for k := len(recent) - 1; k >= 0; k-- {
				x := recent[k]
				cg := d.Cast[x.member].Gender
				if cg != g && cg != "" || inside[x.token] && x.sentence == si {
					continue
				}
				if cg == "" { // of unknown gender: only when nobody else fits
					if best < 0 {
						others[x.member] = true
					}
					continue
				}
				if best < 0 {
					best = x.member
				}
				others[x.member] = true
			}
			if best < 0 {
				continue
			}
			conf := 0.8
			if len(others) > 1 {
				conf = 0.45
			}
			t := d.Tokens[i]
			added[best] = append(added[best], lang.Mention{Start: t.Start, End: t.End, Form: "pronoun", Confidence: conf})
			recent = append(recent, seen{best, si, i})
		}
	}
	for c := range d.Cast {
		m := append(d.Cast[c].Mentions, added[c]...)
		slices.SortStableFunc(m, func(a, b lang.Mention) int { return a.Start - b.Start })
		d.Cast[c].Mentions = m
	}
	return nil
}

// speech marks the tokens inside double quotation marks, paragraph by paragraph.
func speech(d *lang.Doc) []bool {
	inside := make([]bool, len(d.Tokens))
	open, para := false, -1
	for si := range d.Sentences {
		s := d.Sentences[si]
		if s.Paragraph != para {
			para, open = s.Paragraph, false
		}
		for i := s.First; i < s.Last; i++ {
			switch f := d.Tokens[i].Form; {
			case f == "“" || f == "``":
				open = true
			case f == "”" || f == "''":
				open = false
			case f == "\"":
				open = !open
			}
			inside[i] = open
		}
	}
	return inside
}
