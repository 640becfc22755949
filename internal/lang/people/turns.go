package people

import (
	"slices"
	"strings"

	"bookstead/internal/lang"
)

// turns reads every quotation for what tells its speaker.
func (s *story) turns() []turn {
	d := s.d
	out := make([]turn, len(d.Quotations))
	order := make([]int, 0, len(s.ms)) // mentions by place
	for i := range s.ms {
		if m := &s.ms[i]; m.entity >= 0 && m.kind == "PER" && !m.plural && (m.form != pronoun || m.conf > 0.3) {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return s.ms[a].head - s.ms[b].head })
	paragraphOf := func(t int) int { return d.Sentences[s.sentence[t]].Paragraph }
	starts := make([]int, len(d.Paragraphs)+1) // first token of each paragraph
	for i := range starts {
		starts[i] = len(d.Tokens)
	}
	for i := len(d.Sentences) - 1; i >= 0; i-- {
		starts[d.Sentences[i].Paragraph] = d.Sentences[i].First
	}
	for i := len(starts) - 2; i >= 0; i-- {
		starts[i] = min(starts[i], starts[i+1])
	}
	for i := range d.Quotations {
		q := &d.Quotations[i]
		x := turn{q: q, first: d.TokenAt(q.Start), last: d.TokenAt(q.End), cue: -1, to: -1}
		x.paragraph = paragraphOf(min(x.first, len(d.Tokens)-1))
		if q.Who >= 0 {
			l := strings.ToLower(d.Tokens[q.Who].Form)
			switch {
			case first[l] && d.Tokens[q.Who].UPOS == "PRON":
				x.cueI = true
			case third[l] != 0:
				x.cueGender = third[l]
				if k, ok := s.byHead[q.Who]; ok {
					x.cue = k
				}
			default:
				x.cue = s.mentionAt(q.Who)
			}
		}
		if q.To >= 0 {
			if k := s.mentionAt(q.To); k >= 0 {
				x.to = s.ms[k].entity
			}
		}
		x.certain = x.cueI && s.narrator >= 0
		if x.cue >= 0 && s.ms[x.cue].entity >= 0 {
			m := &s.ms[x.cue]
			x.certain = m.form == named || s.newcomer(m.entity, m)
		}
		s.calls(&x)
		if i > 0 {
			p := &out[i-1]
			x.gap = x.paragraph - p.paragraph - 1
			if x.paragraph == p.paragraph {
				x.gap = -1
			}
			for k := p.paragraph + 1; k <= x.paragraph; k++ {
				if kind := d.Paragraphs[k].Kind; kind == "heading" || kind == "scenebreak" {
					x.gap = 99
				}
			}
			end := d.Text[p.q.Start:p.q.End]
			x.goesOn = x.gap == 0 && q.Start == d.Paragraphs[x.paragraph].Start && p.q.End == d.Paragraphs[p.paragraph].End && !strings.HasSuffix(end, "”") && !strings.HasSuffix(end, "\"") && !strings.HasSuffix(end, "’") && !strings.HasSuffix(end, "'")
		}
		out[i] = x
	}
	for i := range out {
		s.candidates(out, i, order, starts)
	}
	return out
}

// calls finds whom a turn calls by name.
func (s *story) calls(x *turn) {
	d := s.d
	for _, p := range x.q.Parts {
		for t := d.TokenAt(p.Start); t < len(d.Tokens) && d.Tokens[t].Start < p.End; t++ {
			l := strings.ToLower(d.Tokens[t].Form)
			switch l {
			case "sir", "sirrah", "ma'am", "ma’am", "madam", "miss", "mister", "lad", "lady", "boy", "girl", "gentleman":
				if s.setOff(t, t+1, p) {
					switch l {
					case "sir", "sirrah", "mister", "lad", "boy", "gentleman":
						x.vocGender = male
					default:
						x.vocGender = female
					}
				}
			}
			k, ok := s.byHead[t]
			if !ok || s.ms[k].entity < 0 || s.ms[k].plural || s.ms[k].kind != "PER" || s.ms[k].form == pronoun {
				continue
			}
			if m := &s.ms[k]; s.setOff(m.first, m.last, p) || d.Tokens[m.head].Deprel == "vocative" && m.form == named {
				x.vocatives = append(x.vocatives, m.entity)
			}
		}
	}
}

// setOff tells whether the tokens stand between marks, as a name that is called.
func (s *story) setOff(first, last int, p lang.Span) bool {
	d := s.d
	before, after := "", ""
	if first > 0 {
		before = d.Tokens[first-1].Form
	}
	if last < len(d.Tokens) {
		after = d.Tokens[last].Form
	}
	if d.Tokens[first].Deprel == "conj" || first > 0 && d.Tokens[first].Deprel == "appos" {
		return false
	}
	for n := 0; n < 3 && first > 0; n++ { // "my dear", "oh", "well"
		switch strings.ToLower(before) {
		case "my", "dear", "oh", "o", "well", "yes", "no", "why", "now", "old", "poor", "little", "but", "and", "ah", "good", "come", "please", "sir", "you":
			first--
			before = ""
			if first > 0 {
				before = d.Tokens[first-1].Form
			}
			continue
		}
		break
	}
	opens := d.Tokens[first].Start <= p.Start+1 || before == "," || before == "!" || before == "?" || before == "." || before == ";" || before == "—" || before == "--" || before == "“" || before == "\"" || before == "‘" || before == "'"
	closes := after == "," || after == "." || after == "!" || after == "?" || after == ";" || after == "—" || after == "--" || after == "”" || after == "\"" || after == "’" || after == "'"
	return opens && closes
}
